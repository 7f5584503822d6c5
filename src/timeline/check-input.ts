import { above, options } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import { decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import type { ChannelState, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkTimeline } from "./check.js";

/** What one input stands. What is not given is not checked. */
export interface InputRating {
  /** Rms that it carries for ever. */
  readonly continuous?: number;
  /** Rms that it carries for a time from cold, such as 100 × rated for 1 s. */
  readonly shortTime?: { readonly value: number; readonly time: Seconds };
}

/** What the inputs of a relay stand, by quantity, and by name where one differs (a sensitive earth-fault input). */
export interface InputRatings {
  readonly current?: InputRating;
  readonly voltage?: InputRating;
  readonly inputs?: { readonly [input: string]: InputRating };
}

/** A rating that a sequence exceeds. */
export interface InputExceedance {
  readonly rating: "continuous" | "short-time";
  readonly input: string;
  readonly segment: string;
  readonly index: number;
  /** Seconds since the start at which it is exceeded. */
  readonly at: Seconds;
  /** Continuous: the highest rms; short-time: ∫ i² dt, in A²s or V²s. */
  readonly amount: number;
  readonly allowed: number;
}

/** How far a sequence goes into the rating of an input: shares, 1 is all of it. */
export interface InputReached {
  readonly input: string;
  readonly continuous?: number;
  readonly shortTime?: number;
}

/** What came of the check. */
export interface InputCheck {
  /** In order of time. */
  readonly exceedances: readonly InputExceedance[];
  readonly reached: readonly InputReached[];
  /** Inputs that are fed and whose ratings are not given, such as `ia continuous`. Nobody checked those. */
  readonly notChecked: readonly string[];
}

/**
 * Whether the inputs of a relay stand a sequence. The continuous rating holds wherever there is no short-time rating; with
 * both, what lies above the continuous one heats adiabatically, and all of it counts against the short-time rating:
 *
 *     ∫ i² dt, where i > continuous,  ≤  value² · time
 *
 * Harmonics, offsets and decaying parts heat too. Nothing cools in this account: it errs on the safe side. Thermal limits of
 * inputs differ widely; take them from the document of the relay.
 *
 * @throws A {@link InputError} for a timeline that is not valid, ratings that are not above 0, and unknown keys.
 * Accuracy: 1e-9 of the integral, where a ramp passes the continuous rating a 64th of it; exact limits are on the limit.
 * @source adiabatic heating (short-time thermal rating, IEC 60255-27); common practice
 *
 * @example
 * import { checkInput, ramp } from "tripwright/timeline";
 * const timeline = ramp({
 *   base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } },
 *   pieces: [{ duration: 4, from: 60, to: 60 }], wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const { exceedances, notChecked } = checkInput(timeline, { current: { continuous: 20, shortTime: { value: 100, time: 1 } } });
 * exceedances.map(({ rating, at }) => [rating, at.toFixed(3)]); // → [["short-time", "2.778"]]
 * notChecked; // → []
 */
export function checkInput(timeline: Timeline, ratings: InputRatings): InputCheck {
  checkTimeline(timeline, "timeline");
  checkRatings(ratings);
  const inputs = [...new Set(Object.values(timeline.wiring).flatMap(({ feeds }) => Object.keys(feeds)))];
  const told = inputs.map((input) => oneInput(timeline, input, ratingOf(input, timeline.wiring, ratings)));
  return {
    exceedances: told.flatMap(({ exceedances }) => exceedances).sort((a, b) => a.at - b.at),
    reached: told.map(({ reached }) => reached),
    notChecked: told.flatMap(({ notChecked }) => notChecked),
  };
}

function checkRatings(ratings: InputRatings): void {
  const { current, voltage, inputs = {} } = options(ratings, ["current", "voltage", "inputs"], "ratings");
  const named = Object.entries(inputs).map(([name, rating]) => [`ratings.inputs.${name}`, rating] as const);
  for (const [path, rating] of [["ratings.current", current], ["ratings.voltage", voltage], ...named] as const) {
    if (rating === undefined) continue;
    within(path, () => {
      const { continuous, shortTime } = options(rating, ["continuous", "shortTime"]);
      if (continuous !== undefined) above(continuous, 0, "continuous", "a level");
      if (shortTime === undefined) return;
      options(shortTime, ["value", "time"], "shortTime");
      above(shortTime.value, 0, "shortTime.value", "a level");
      above(shortTime.time, 0, "shortTime.time", "a time", "s");
    });
  }
}

/** That of the input by name, else that of what feeds it. */
function ratingOf(input: string, wiring: Wiring, { inputs, ...byQuantity }: InputRatings): InputRating {
  const fed = Object.values(wiring).find(({ feeds }) => Object.hasOwn(feeds, input));
  return inputs?.[input] ?? byQuantity[fed?.quantity ?? "current"] ?? {};
}

/** Even parts of a state over which the heating is summed up: Simpson's rule, exact for currents that move evenly. */
const PARTS = 64;

function oneInput({ segments, wiring }: Timeline, input: string, { continuous, shortTime }: InputRating) {
  const exceedances: InputExceedance[] = [];
  const allowed =
    shortTime && toNumber(decimal(shortTime.value, "").pow(2).times(decimal(shortTime.time, "")), "shortTime");
  let [start, heat, highest, isTold] = [decimal(0, ""), 0, 0, false];
  for (const [index, segment] of segments.entries()) {
    const begins = toNumber(start, "timeline");
    start = start.plus(decimal(segment.duration, "duration"));
    const square = (since: Seconds) => squareAt(since, segment, wiring, input);
    const parts = isStill(segment) ? 1 : PARTS;
    const worst = Math.sqrt(
      Math.max(...Array.from({ length: parts + 1 }, (_, i) => square((segment.duration * i) / parts))),
    );
    highest = Math.max(highest, worst);
    const place = { input, segment: segment.name, index };
    if (continuous !== undefined && shortTime === undefined && worst > continuous) {
      const since = firstWhere((time) => square(time) > continuous * continuous, segment.duration, parts);
      exceedances.push({ rating: "continuous", ...place, at: begins + since, amount: worst, allowed: continuous });
    }
    const before = heat;
    const heatAt = (since: Seconds) => before + integral(square, { end: since, parts, floor: (continuous ?? 0) ** 2 });
    heat = heatAt(segment.duration);
    if (allowed === undefined || isTold || heat <= allowed * (1 + 1e-12)) continue;
    isTold = true;
    const since = firstWhere((time) => heatAt(time) > allowed, segment.duration, 1);
    exceedances.push({ rating: "short-time", ...place, at: begins + since, amount: heat, allowed });
  }
  const told = exceedances.map((one) => (one.rating === "short-time" ? { ...one, amount: heat } : one));
  return {
    exceedances: told,
    reached: {
      input,
      ...(continuous !== undefined && { continuous: highest / continuous }),
      ...(allowed !== undefined && { shortTime: heat / allowed }),
    },
    notChecked:
      highest === 0
        ? []
        : [
            ...(continuous === undefined ? [`${input} continuous`] : []),
            ...(shortTime === undefined ? [`${input} short-time`] : []),
          ],
  };
}

const isStill = ({ channels }: Segment): boolean =>
  Object.values(channels).every(
    ({ slope = {}, decay }) => decay === undefined && Object.values(slope).every((rate) => !rate),
  );

/** The mean square that an input sees: channels of one frequency add as phasors, everything else by its heat. */
function squareAt(since: Seconds, { channels }: Segment, wiring: Wiring, input: string): number {
  const byFrequency = new Map<number, { re: number; im: number }>();
  let others = 0;
  let direct = 0;
  for (const [name, state] of Object.entries(channels)) {
    const factor = wiring[name]?.feeds[input] ?? 0;
    if (factor === 0) continue;
    const { size, angle, frequency } = fundamentalAt(since, state);
    const sum = byFrequency.get(frequency) ?? { re: 0, im: 0 };
    byFrequency.set(frequency, {
      re: sum.re + factor * size * cosDegrees(angle),
      im: sum.im + factor * size * sinDegrees(angle),
    });
    const { harmonics = [], offset = 0, decay } = state;
    others += harmonics.reduce((heat, one) => heat + (factor * one.rms) ** 2, 0);
    direct += factor * (offset + (decay === undefined ? 0 : decay.initial * Math.exp(-since / decay.tau)));
  }
  return [...byFrequency.values()].reduce((heat, { re, im }) => heat + re * re + im * im, others + direct * direct);
}

const fundamentalAt = (since: Seconds, { rms, frequency, angle = 0, slope }: ChannelState) => ({
  size: rms + (slope?.rms ?? 0) * since,
  angle: angle + (slope?.angle ?? 0) * since,
  frequency: frequency + (slope?.frequency ?? 0) * since,
});

/** Simpson's rule over the parts of the first `end` seconds that lie above a floor, as their middle does. */
function integral(
  f: (since: Seconds) => number,
  { end, parts, floor }: { readonly end: Seconds; readonly parts: number; readonly floor: number },
): number {
  const width = end / parts;
  let sum = 0;
  for (let i = 0; i < parts; i++) {
    const middle = f((i + 0.5) * width);
    if (middle > floor) sum += parts === 1 ? 6 * middle : f(i * width) + 4 * middle + f((i + 1) * width);
  }
  return (sum * width) / 6;
}

/** The first instant of a state at which something is so; it is so somewhere at the end of one of the parts. */
function firstWhere(isSo: (since: Seconds) => boolean, duration: Seconds, parts: number): Seconds {
  if (isSo(0)) return 0;
  const part = Array.from({ length: parts }, (_, i) => i + 1).find((i) => isSo((duration * i) / parts)) ?? parts;
  let [low, high] = [(duration * (part - 1)) / parts, (duration * part) / parts];
  for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (isSo(middle)) high = middle;
    else low = middle;
  }
  return high;
}
