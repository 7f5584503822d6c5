/** What a check asks for, in words: on the card that goes to site and in the record. */
import { plain, written } from "../base/written.js";
import type { Check } from "../plan/index.js";
import { minutes, shown } from "./shown.js";
import { sidesOnPrimary } from "./source-in-words.js";

/** The band in words, or how long it must stay quiet. */
export const expectedInWords = ({ expect }: Check): string =>
  expect.form === "band" ? shown(expect.band, [], expect.unit).band : `quiet for ${minutes(expect.held)}`;

/** The same on the primary side of the transformers, each side of a zone behind its own; a dash where there is none between. */
export function plannedOnPrimary(check: Check): string {
  const { sweep, level = 0, unit, toPrimary } = check;
  if (toPrimary === undefined) return "—";
  const sides = sidesOnPrimary(check);
  if (sides.length > 0) return sides.join("; ");
  const primary = (x: number) => plain(x * toPrimary, 6);
  return sweep === undefined ? `${primary(level)} ${unit}` : `${primary(sweep.from)} to ${primary(sweep.to)} ${unit}`;
}

/** Where the same could be measured with nothing blocked. */
export const alternativeInWords = ({ alternative, unit, block }: Check): string[] =>
  alternative === undefined
    ? []
    : [
        `Or time it at ${alternative.multiple} × the setting, ${written(alternative.level, unit)}, where ${block.join(", ")} ${block.length === 1 ? "stays" : "stay"} still.`,
      ];

/** What is planned to be injected: a level, or how it moves. */
export const plannedInjection = (check: Check): string => {
  const { preFault } = check.sweep ?? {};
  return `${plannedLevels(check)}${preFault === undefined ? "" : `, after ${preFault} s of the healthy system`}`;
};

/**
 * The level, or the levels of a sweep.
 *
 * @param first - What is said of the first of them, in front of the steps.
 */
export function plannedLevels({ sweep, level, unit }: Check, first = ""): string {
  if (sweep === undefined) return written(plain(level ?? 0, 6), unit);
  const { from, to, step, hold } = sweep;
  const rest = sweep.rest === undefined ? "" : ` with ${sweep.rest.time} s rest`;
  return `${plain(from, 6)} to ${written(plain(to, 6), unit)}, ${first}steps of ${written(step, unit)} held ${hold} s${rest}`;
}
