/** Why what was written down is no reading of a check: it proves nothing, whatever it says. */
import type { Band } from "../base/band.js";
import type { Problem } from "../base/problem.js";
import { clockState } from "../base/states.js";
import { written } from "../base/written.js";
import { definitionOf, startLevel } from "../element/index.js";
import { roundTo } from "../grading/index.js";
import { type Check, latestStart, type Plan } from "../plan/index.js";
import type { Case } from "./case.js";
import type { ReadingProblem } from "./read-readings.js";
import type { Reading, Stage } from "./reading.js";

type Around = Pick<Case, "check" | "setting" | "startedAt">;

/** What was wanted, and what came instead. */
type Reason = Pick<Problem, "expected" | "received">;

/** Whether a reading says something else than what the check asks; nothing where it is one. */
export const whyNoReading = (reading: Reading, around: Around): Reason | undefined =>
  notOfThisElement(reading, around.check) ??
  notMeasured(reading, around.check) ??
  elsewhere(reading, around) ??
  beforeItStarts(reading, around);

/** A faster neighbour or another contact says nothing of the element under check. */
function notOfThisElement({ operatedBy, contact }: Reading, check: Check): Reason | undefined {
  if (operatedBy !== undefined && operatedBy !== check.element)
    return { expected: `a reading of ${check.element}`, received: `operated by ${operatedBy}` };
  if (contact !== undefined && contact !== check.contact)
    return { expected: `a reading on contact ${check.contact}`, received: `contact ${contact}` };
  return undefined;
}

/** That it operated is no answer to how long it took. */
const notMeasured = ({ value }: Reading, { expect }: Check): Reason | undefined =>
  expect.form === "band" && value === "operated"
    ? { expected: `a measured value in ${expect.unit}`, received: "operated" }
    : undefined;

/**
 * Where nothing may happen: quiet further away from the setting than planned proves nothing (but for a fifth of the
 * tolerance, as fine as anything is set here), nor does an operation where one is allowed.
 */
function elsewhere(reading: Reading, { check, setting }: Pick<Around, "check" | "setting">): Reason | undefined {
  const { value, injected } = reading;
  const { level, unit } = check;
  const limit = check.because.numbers["limit"];
  if (check.proves !== "no-operation" || injected === undefined || level === undefined) return undefined;
  if (limit === undefined) return weakerBeside(injected, reading, { check, setting });
  const start = startLevel(setting);
  const towardsStart = Math.sign(start - limit);
  const received = `${value === "never" ? "quiet" : "operated"} at ${written(injected, unit)}`;
  if (value !== "never")
    return towardsStart * (injected - limit) <= 0
      ? undefined
      : { expected: `an injection no nearer to the setting than ${written(limit, unit)}`, received };
  const leeway = 0.2 * Math.abs(start - limit);
  return towardsStart * (injected - level) >= -leeway
    ? undefined
    : { expected: `an injection at ${written(level, unit)} or nearer to the setting`, received };
}

/** How much less may be injected where the level is one that was chosen, such as 2 × the setting from behind. */
const WEAKER = 0.1;

/**
 * Quiet because of what stands beside the level, such as a current from behind: less than was planned proves nothing, since the
 * function would stay quiet at that anyway. An operation is one at any level; an angle is no more and no less.
 */
function weakerBeside(
  injected: number,
  { value }: Reading,
  { check: { level = 0, unit }, setting }: Pick<Around, "check" | "setting">,
): Reason | undefined {
  const { side } = definitionOf(setting.function);
  const missing = side === "over" ? level - injected : injected - level;
  if (value !== "never" || unit === "°" || missing <= WEAKER * level) return undefined;
  return {
    expected: `an injection at ${written(level, unit)} or ${side === "over" ? "above" : "below"}`,
    received: `quiet at ${written(injected, unit)}`,
  };
}

interface Taken {
  readonly stage: Stage;
  readonly readings: readonly Reading[];
  readonly plan: Plan;
}

/** Where an element was seen to start. */
export function startsOf(element: string, { stage, readings, plan: { checks } }: Taken): number[] {
  const pickups = checks.filter((check) => check.element === element && check.proves === "pickup").map(({ id }) => id);
  return readings.flatMap(({ check, stage: when, value }) =>
    when === stage && pickups.includes(check) && typeof value === "number" ? [value] : [],
  );
}

/** A relay that starts beyond what was injected has nothing to operate for: where it was seen to, else within its tolerance. */
function beforeItStarts({ value, injected }: Reading, { check, setting, startedAt }: Around): Reason | undefined {
  if (check.proves !== "operate-time" || value !== "never" || injected === undefined) return undefined;
  const isOver = definitionOf(setting.function).side === "over";
  const seen = startedAt.length > 0;
  const latest = seen ? (isOver ? Math.max(...startedAt) : Math.min(...startedAt)) : latestStart(setting);
  if (isOver ? injected > latest : injected < latest) return undefined;
  const why = seen ? "where it was seen to start" : "where a relay within its tolerance has started";
  return {
    expected: `an injection ${isOver ? "above" : "below"} ${written(latest, check.unit)}, ${why}`,
    received: `never operated at ${written(injected, check.unit)}`,
  };
}

/** Nearer to the setting than planned it may take longer than anybody waited: then that it never operated is no failure. */
export function givenUpEarly({ high }: Band, { proves, timeline }: Check): Reason | undefined {
  const waited = clockState(timeline)?.duration;
  if (proves !== "operate-time" || waited === undefined || high === undefined || high <= waited) return undefined;
  const expected = `an injection for longer than ${written(roundTo(high, { decimals: 3 }), "s")}, within which it may still operate`;
  return { expected, received: `never within the ${written(waited, "s")} of the plan` };
}

/** What was given and could not be read was not left out, and is not to be looked for again in the relay. */
export const notUsed = (unread: readonly ReadingProblem[]): string[] => [
  ...new Set(unread.map(({ line }) => `a reading was given${onLine(line)} and not used`)),
];

const onLine = (line: number | undefined): string => (line === undefined ? "" : ` on line ${line}`);

/** A repeat that was left out beside others keeps its note. */
export const notTaken = ({ note }: Reading): string => (note === undefined ? "not taken" : `not taken: ${note}`);
