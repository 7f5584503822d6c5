/** What was changed for the work, and has to be brought back. */
import { options, text } from "../base/check.js";
import { checkInstant, dayOf, instantOf } from "../base/instant.js";
import type { Problem } from "../base/problem.js";
import { readEach } from "../base/read-each.js";
import { someText } from "./some-text.js";

/** Something that was blocked, bridged or set otherwise for the work, and has to be brought back. */
export interface TemporaryChange {
  /** What was done, such as "trip link TB1 opened". */
  readonly what: string;
  /** ISO 8601. */
  readonly changedAt?: string;
  /** ISO 8601; absent: not restored yet. */
  readonly restoredAt?: string;
  /** How it was proved to be restored, such as "continuity measured". */
  readonly proof?: string;
}

const FIELDS = ["what", "changedAt", "restoredAt", "proof"];

/** Checks the list of temporary changes. */
export function checkChanges(changes: readonly TemporaryChange[]): void {
  readEach(changes, "changes", "a list of temporary changes { what, restoredAt }", (change) => {
    const { what, changedAt, restoredAt, proof } = options(change, FIELDS);
    someText(what, "what", "what was changed");
    if (proof !== undefined) text(proof, "proof", "text");
    if (changedAt !== undefined) checkInstant(changedAt, "changedAt");
    if (restoredAt !== undefined) checkInstant(restoredAt, "restoredAt");
  });
}

/** What was changed and is not restored, or not proved to be, or brought back before it was changed. */
export function notRestored(changes: readonly TemporaryChange[]): Problem[] {
  return changes.flatMap(({ what, changedAt, restoredAt, proof = "" }, i) => {
    const problem = (field: string, wanted: string): Problem => ({
      code: "missing",
      path: `changes[${i}].${field}`,
      expected: `${wanted} of: ${what}`,
      received: "nothing",
    });
    if (restoredAt === undefined) return [problem("restoredAt", "the time of restoration")];
    const unproved = proof.trim() === "" ? [problem("proof", "how the restoration was proved")] : [];
    if (changedAt === undefined || !isBefore(restoredAt, changedAt)) return unproved;
    const { path, expected } = problem("restoredAt", `a time of restoration after ${changedAt}`);
    return [{ code: "conflict", path, expected, received: restoredAt } as const, ...unproved];
  });
}

/** Days by their dates; a time with a zone and one without cannot be compared. */
function isBefore(one: string, other: string): boolean {
  if (one.length === 10 || other.length === 10) return dayOf(one) < dayOf(other);
  const hasZone = (instant: string) => /(?:Z|[+-]\d{2}:\d{2})$/.test(instant);
  return hasZone(one) === hasZone(other) && instantOf(one, "restoredAt") < instantOf(other, "changedAt");
}
