/** What stands before each level on the card: what most checks share is said once, and what one has of its own beside it. */
import type { Seconds } from "../base/units.js";
import type { Check } from "../plan/index.js";
import { minutes } from "./shown.js";
import { type Before, before, settles } from "./source-in-words.js";

/** What is said once above the checks, and what a check has of its own. */
export interface Beforehand {
  readonly shared: readonly string[];
  /** Behind what is injected, such as `, after 54 s of the healthy system` or behind a rest ` in the healthy system`; empty where it is as shared. */
  readonly after: (check: Check) => string;
  /** In front of the steps of a sweep, such as `the first held 4.18 s, `; empty where it is as shared. */
  readonly first: (check: Check) => string;
}

export function beforehand(checks: readonly Check[]): Beforehand {
  const healthy = mostCommon(checks.flatMap((check) => before(check)?.state ?? []));
  const usual = mostCommon(
    checks.flatMap((check) => ownTime(check, healthy) ?? []),
    2,
  );
  const settled = mostCommon(
    checks.flatMap((check) => settles(check) ?? []),
    2,
  );
  return {
    shared: [
      ...(healthy === undefined
        ? []
        : [`The healthy system: ${healthy}${healthy === "nothing" ? " is put out" : ""}.`]),
      ...(usual === undefined
        ? []
        : [`A level that is not swept comes after ${minutes(usual)} of the healthy system, unless told otherwise.`]),
      ...(settled === undefined
        ? []
        : [`A sweep begins with ${minutes(settled)} at its first level, unless told otherwise.`]),
    ],
    after: (check) => {
      const own = before(check);
      if (own === undefined || (check.sweep === undefined && own.state === healthy && own.time === usual)) return "";
      const of = own.state === healthy ? "the healthy system" : own.state;
      return check.sweep?.rest === undefined ? `, after ${minutes(own.time)} of ${of}` : ` in ${of}`;
    },
    first: (check) => {
      const own = settles(check);
      return own === undefined || own === settled ? "" : `the first held ${minutes(own)}, `;
    },
  };
}

/** How long the healthy system stands before a level that is injected at once. */
function ownTime(check: Check, healthy: string | undefined): Seconds | undefined {
  const own: Before | undefined = check.sweep === undefined ? before(check) : undefined;
  return own?.state === healthy ? own?.time : undefined;
}

/** Of values that are equally common the first; none where the most common is rarer than asked. */
function mostCommon<T>(values: readonly T[], least = 1): T | undefined {
  const counts = new Map<T, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  const most = Math.max(least, ...counts.values());
  return [...counts].find(([, count]) => count === most)?.[0];
}
