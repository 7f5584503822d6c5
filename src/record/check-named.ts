import { fail } from "../base/check.js";
import type { Check, Plan } from "../plan/index.js";

/**
 * The check that is meant by an id as it was typed. Letter case does not matter, nor does a degree sign that was left out or broken
 * by a program that took the file for another encoding, nor an apostrophe that keeps a spreadsheet from computing or the backticks of a
 * page, where one check alone can be meant.
 */
export function checkNamed(typed: string, { checks, impossible }: Plan): Check {
  const check = meant(typed, checks);
  if (check !== undefined) return check;
  const reason = meant(typed, impossible)?.reason;
  if (reason !== undefined)
    return fail("not-applicable", "check", `a check that can be made; this one ${reason}`, typed);
  return fail("unknown-name", "check", `a check of the plan; the nearest is ${nearestTo(typed, checks)}`, typed);
}

interface Named {
  readonly id: string;
}

function meant<T extends Named>(typed: string, named: readonly T[]): T | undefined {
  const exactly = named.find(({ id }) => id === typed);
  if (exactly !== undefined) return exactly;
  const alike = named.filter(({ id }) => folded(id) === folded(typed));
  return alike.length === 1 ? alike[0] : undefined;
}

/** What stands for a character that could not be read. */
export const BROKEN = "\uFFFD";

const folded = (id: string): string =>
  id
    .replace(/^'(?=[=+\-@])|^`|`$/g, "")
    .replace(/Â?[°º]|\uFFFD/gu, "")
    .toLowerCase();

function nearestTo(typed: string, checks: readonly Named[]): string {
  const wanted = folded(typed);
  const [nearest] = [...checks]
    .map(({ id }) => ({ id, away: edits(wanted, folded(id)) }))
    .sort((a, b) => a.away - b.away);
  return nearest?.id ?? "none";
}

/** How many letters have to be typed, deleted or replaced to make one word of another: Levenshtein's distance, row by row. */
function edits(from: string, to: string): number {
  let above = Array.from({ length: to.length + 1 }, (_, i) => i);
  for (const [i, letter] of [...from].entries()) {
    const row = [i + 1];
    for (let j = 1; j <= to.length; j++) {
      const replaced = (above[j - 1] as number) + (letter === to[j - 1] ? 0 : 1);
      row.push(Math.min(replaced, (above[j] as number) + 1, (row[j - 1] as number) + 1));
    }
    above = row;
  }
  return above[to.length] as number;
}
