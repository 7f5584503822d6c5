import { above, fail, finite, object, options } from "../base/check.js";
import { countSteps, decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import type { ChannelState, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkTimeline } from "./check.js";
import { tooLong } from "./duty.js";
import type { SourceExceedance, SourceLimit, SourceLimits } from "./source-limits.js";
import { passedAt, placeOf, rmsAfter, type Stand, standsOf } from "./stand.js";

/** What came of the check. */
export interface SourceCheck {
  /** In order of time; none where the source can make all of it, as far as it was checked. */
  readonly exceedances: readonly SourceExceedance[];
  /** Limits that were not given, such as `current.power`. */
  readonly notChecked: readonly string[];
}

const LIMITS = ["maximum", "resolution", "burden", "power", "compliance", "duty"] as const;

/**
 * Whether a source can make a sequence: rms with harmonics against the maximum, power and compliance into the burden, times
 * at high levels, frequencies, and levels between two steps. A limit passed inside a ramp is told at the instant at which it
 * is passed.
 *
 *     current: power = rms² · burden, compliance = rms · burden          voltage: power = rms²/burden
 *
 * @throws A {@link InputError} for a timeline that is not valid, limits that are not above 0, unknown keys, and a power or
 * compliance without a burden.
 * Accuracy: a few units in the last place; whether a level lies on a step is decided in exact decimals.
 * @source definition; common practice
 *
 * @example
 * import { checkSource, linearRamp, ramp } from "tripwright/timeline";
 * const timeline = ramp({
 *   base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } },
 *   pieces: linearRamp({ from: 0, to: 40, rate: 10 }), wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const { exceedances, notChecked } = checkSource(timeline, { current: { maximum: 30 } });
 * exceedances.map(({ limit, at, amount }) => [limit, at, amount]); // → [["maximum", 3, 40]]
 * notChecked; // → ["current.resolution", "current.power", "current.compliance", "current.duty", "frequency"]
 */
export function checkSource(timeline: Timeline, limits: SourceLimits): SourceCheck {
  checkTimeline(timeline, "timeline");
  checkLimits(limits);
  const exceedances = Object.keys(timeline.wiring).flatMap((channel) => channelExceedances(timeline, channel, limits));
  return {
    exceedances: exceedances.sort((a, b) => a.at - b.at),
    notChecked: notCheckedOf(timeline, limits),
  };
}

function checkLimits(limits: SourceLimits): void {
  const { current, voltage, frequency } = options(limits, ["current", "voltage", "frequency"], "limits");
  for (const [name, limit] of Object.entries({ current, voltage })) {
    if (limit !== undefined) within(`limits.${name}`, () => checkLimit(limit));
  }
  if (frequency === undefined) return;
  for (const [name, value] of Object.entries(
    options(frequency, ["minimum", "maximum", "resolution"], "limits.frequency"),
  ))
    if (value !== undefined) above(value as number, 0, `limits.frequency.${name}`, "a frequency", "Hz");
}

function checkLimit(limit: SourceLimit): void {
  const { duty = [], burden, power, compliance } = options(limit, LIMITS);
  for (const name of ["maximum", "resolution", "burden", "power", "compliance"] as const)
    if (limit[name] !== undefined) above(limit[name], 0, name, "a limit");
  if (burden === undefined && (power !== undefined || compliance !== undefined))
    fail("missing", "burden", "the impedance that a channel drives, in ohms", burden);
  if (!Array.isArray(duty)) fail("wrong-type", "duty", "a list of { above, atMost }", duty);
  duty.forEach((one, i) => {
    object(one, `duty[${i}]`, "a duty { above, atMost }");
    finite(one.above, `duty[${i}].above`, "a level");
    above(one.atMost, 0, `duty[${i}].atMost`, "a time", "s");
  });
}

function channelExceedances({ segments, wiring }: Timeline, channel: string, limits: SourceLimits): SourceExceedance[] {
  const quantity = wiring[channel]?.quantity ?? "current";
  const limit = limits[quantity] ?? {};
  const unit = quantity === "current" ? "A" : "V";
  const stands = standsOf(segments, channel);
  return [
    ...stands.flatMap((stand) => [
      ...beyond(stand, limit.maximum, { limit: "maximum", unit, of: (rms) => rms }),
      ...beyond(stand, limit.power, { limit: "power", unit: "VA", of: powerInto(limit.burden, quantity) }),
      ...(quantity === "current"
        ? beyond(stand, limit.compliance, { limit: "compliance", unit: "V", of: (rms) => rms * (limit.burden ?? 0) })
        : []),
      ...betweenSteps(stand, limit.resolution, { of: ({ rms }) => rms, slope: "rms", unit }),
      ...betweenSteps(stand, limits.frequency?.resolution, {
        of: ({ frequency }) => frequency,
        slope: "frequency",
        unit: "Hz",
      }),
      ...outsideFrequencies(stand, limits.frequency),
    ]),
    ...(limit.duty ?? []).flatMap((duty) => tooLong(stands, duty)),
  ];
}

const powerInto = (burden: number | undefined, quantity: "current" | "voltage") => (rms: number) =>
  burden === undefined ? 0 : quantity === "current" ? rms * rms * burden : (rms * rms) / burden;

interface Measure {
  readonly limit: SourceExceedance["limit"];
  readonly unit: SourceExceedance["unit"];
  /** Of the rms value; rises with it. */
  readonly of: (rms: number) => number;
}

/** The worst of a state against a limit, and when that is passed. */
function beyond(stand: Stand, allowed: number | undefined, { limit, unit, of }: Measure): SourceExceedance[] {
  if (allowed === undefined) return [];
  const { state, segment } = stand;
  const at = (since: Seconds) => of(rmsAfter(state, since));
  const amount = Math.max(at(0), at(segment.duration));
  if (amount <= allowed) return [];
  return [
    {
      limit,
      unit,
      amount,
      allowed,
      ...placeOf(
        stand,
        passedAt((since) => at(since) > allowed, segment.duration),
      ),
    },
  ];
}

interface Stepped {
  readonly of: (state: ChannelState) => number;
  readonly slope: "rms" | "frequency";
  readonly unit: SourceExceedance["unit"];
}

/** A level that stands still must be one that the source can make. */
function betweenSteps(stand: Stand, step: number | undefined, { of, slope, unit }: Stepped): SourceExceedance[] {
  if (step === undefined || stand.state.slope?.[slope]) return [];
  const [value, size] = [decimal(of(stand.state), slope), decimal(step, "resolution")];
  if (countSteps(value, size).even) return [];
  const allowed = toNumber(value.div(size).round().times(size), slope);
  return [{ limit: "resolution", unit, amount: of(stand.state), allowed, ...placeOf(stand, 0) }];
}

function outsideFrequencies(stand: Stand, range: SourceLimits["frequency"]): SourceExceedance[] {
  const { state, segment } = stand;
  const at = (since: Seconds) => state.frequency + (state.slope?.frequency ?? 0) * since;
  const [lowest, highest] = [Math.min(at(0), at(segment.duration)), Math.max(at(0), at(segment.duration))];
  const told = (amount: number, allowed: number, isSo: (since: Seconds) => boolean): SourceExceedance => ({
    limit: "frequency",
    unit: "Hz",
    amount,
    allowed,
    ...placeOf(stand, passedAt(isSo, segment.duration)),
  });
  const { minimum, maximum } = range ?? {};
  return [
    ...(minimum !== undefined && lowest < minimum ? [told(lowest, minimum, (since) => at(since) < minimum)] : []),
    ...(maximum !== undefined && highest > maximum ? [told(highest, maximum, (since) => at(since) > maximum)] : []),
  ];
}

/** Which limits were not given, of the quantities that the sequence uses. */
function notCheckedOf({ wiring }: Timeline, limits: SourceLimits): string[] {
  const used = [...new Set(Object.values(wiring).map(({ quantity }) => quantity))];
  const missing = used.flatMap((quantity) =>
    (["maximum", "resolution", "power", "compliance", "duty"] as const)
      .filter((name) => !(quantity === "voltage" && name === "compliance") && limits[quantity]?.[name] === undefined)
      .map((name) => `${quantity}.${name}`),
  );
  return limits.frequency === undefined ? [...missing, "frequency"] : missing;
}
