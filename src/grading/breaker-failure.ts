import { options } from "../base/check.js";
import { type Decimal, decimal, type Exact, isBelow, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { notNegative, positive } from "../base/positive.js";
import type { Seconds } from "../base/units.js";
import { limitsOf, type Tolerance } from "./tolerance.js";

/** What a breaker failure function waits for, and what follows when it operates; seconds, as typed. */
export interface BreakerFailureTimes {
  /** The delay that is set, from initiation. Above 0. */
  readonly delay: Exact;
  /** From the trip coil until a sound breaker has interrupted the current, at its slowest. */
  readonly breakerTime: Exact;
  /** From the end of the current until the current detector has let go, at its slowest. */
  readonly detectorReset: Exact;
  /** Of the delay; the early side takes from the margin, the late one adds to the clearing. Default: none. */
  readonly timerAccuracy?: Tolerance;
  /** From the trip contact until the delay runs: an input's filter, an auxiliary relay. Default 0. */
  readonly initiation?: Exact;
  /** From the trip contact to the trip coil: an auxiliary relay. Default 0. */
  readonly tripping?: Exact;
  /** The least margin that is wanted. Default 0. */
  readonly safetyTime?: Exact;
  /** From the fault to the trip contact of the protection; part of the clearing. Default 0. */
  readonly protection?: Exact;
  /** From the breaker failure contact to the trip coils of the breakers around: a lockout relay, a channel. Default 0. */
  readonly lockout?: Exact;
  /** Of the slowest breaker around. Default: as the breaker itself. */
  readonly backupBreakerTime?: Exact;
  /** By when the fault must be cleared: stability, or what the plant stands. */
  readonly criticalTime?: Exact;
}

/** One term of a sum of times, with its sign. */
export interface NamedTime {
  readonly name: string;
  readonly seconds: Seconds;
}

/** Whether a breaker failure delay is long enough, and whether the backup is still in time. */
export interface BreakerFailureMargin {
  /** What is left when a sound breaker has interrupted and the detector has let go; negative where it operates for nothing. */
  readonly margin: Seconds;
  /** The terms whose sum is the margin. */
  readonly terms: readonly NamedTime[];
  /** The margin is at least what is wanted. */
  readonly isLongEnough: boolean;
  /** From the fault until the breakers around have cleared it, and its terms. */
  readonly clearing: { readonly total: Seconds; readonly terms: readonly NamedTime[] };
  /** What is left to the critical time; negative where the backup is too late. Absent where no critical time is given. */
  readonly reserve?: Seconds;
}

const FIELDS = [
  "delay",
  "breakerTime",
  "detectorReset",
  "timerAccuracy",
  "initiation",
  "tripping",
  "safetyTime",
  "protection",
  "lockout",
  "backupBreakerTime",
  "criticalTime",
] as const;

/**
 * The timing margin of a breaker failure function, and the total clearing time when the breaker does fail.
 *
 *     margin   = delay − early − tripping + initiation − breaker − detector reset
 *     clearing = protection + initiation + delay + late + lockout + backup breaker
 *     reserve  = critical time − clearing
 *
 * The delay and the breaker both begin with the trip contact: what delays the initiation adds to the margin, what stands
 * between contact and trip coil takes from it. Early and late are the limits of the timer's accuracy.
 *
 * @throws A {@link InputError} for times that are negative or no decimals, a delay that is not above 0, an accuracy that is
 * none, and unknown keys.
 * Accuracy: each number is the double nearest to the exact sum; the verdict is exact at the limit.
 * @source common practice; IEEE C37.119 (breaker failure protection), from memory
 *
 * @example
 * import { breakerFailureMargin } from "tripwright/grading";
 * const times = breakerFailureMargin({
 *   delay: 0.15, breakerTime: 0.06, detectorReset: 0.025, timerAccuracy: { absolute: 0.005 }, safetyTime: 0.05,
 *   protection: 0.03, lockout: 0.01, criticalTime: 0.3,
 * });
 * times.margin; // → 0.06
 * times.isLongEnough; // → true
 * times.clearing.total; // → 0.255
 * times.reserve; // → 0.045
 */
export function breakerFailureMargin(times: BreakerFailureTimes): BreakerFailureMargin {
  const given = options(times, FIELDS);
  const read = (name: keyof typeof WHAT, fallback?: Exact): Decimal =>
    notNegative(given[name] ?? fallback, name, `a time ${WHAT[name]}`, "s");
  const delay = positive(given.delay, "delay", "a delay", "s");
  const { low, high } = within("timerAccuracy", () =>
    given.timerAccuracy === undefined ? {} : limitsOf(delay, given.timerAccuracy),
  );
  const breaker = read("breakerTime");
  const initiation = read("initiation", 0);
  const terms: Term[] = [
    ["delay", delay],
    ["timer early", (low ?? delay).minus(delay)],
    ["initiation", initiation],
    ["tripping", read("tripping", 0).neg()],
    ["breaker", breaker.neg()],
    ["detector reset", read("detectorReset").neg()],
  ];
  const clearing: Term[] = [
    ["protection", read("protection", 0)],
    ["initiation", initiation],
    ["delay", delay],
    ["timer late", (high ?? delay).minus(delay)],
    ["lockout", read("lockout", 0)],
    ["backup breaker", read("backupBreakerTime", given.breakerTime)],
  ];
  const margin = sumOf(terms);
  const total = sumOf(clearing);
  return {
    margin: toNumber(margin, ""),
    terms: named(terms),
    isLongEnough: !isBelow(margin, read("safetyTime", 0)),
    clearing: { total: toNumber(total, ""), terms: named(clearing) },
    ...(given.criticalTime !== undefined && { reserve: toNumber(read("criticalTime").minus(total), "") }),
  };
}

const WHAT = {
  breakerTime: "until the breaker has interrupted",
  detectorReset: "until the current detector has let go",
  initiation: "until the delay runs",
  tripping: "to the trip coil",
  safetyTime: "to spare",
  protection: "until the protection trips",
  lockout: "to the trip coils around",
  backupBreakerTime: "until the breakers around have interrupted",
  criticalTime: "by which the fault must be cleared",
} as const;

type Term = readonly [name: string, seconds: Decimal];

const sumOf = (terms: readonly Term[]): Decimal =>
  terms.reduce((sum, [, seconds]) => sum.plus(seconds), decimal(0, ""));

/** What is nothing is not a term. */
const named = (terms: readonly Term[]): NamedTime[] =>
  terms.flatMap(([name, seconds]) => (seconds.isZero() ? [] : [{ name, seconds: toNumber(seconds, "") }]));
