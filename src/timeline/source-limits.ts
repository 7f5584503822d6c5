/** What a test source can put out, as its user states it. */
import { fail, options } from "../base/check.js";
import { MOVED } from "../base/check-channel.js";
import { type Decimal, decimal, type Exact } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { given, notNegative, positive } from "../base/positive.js";
import { readEach } from "../base/read-each.js";

/** A level that may be held for a limited time. */
export interface Duty {
  /** A or V, rms: time above it counts. */
  readonly above: Exact;
  /** Seconds that may be spent above it before a rest. */
  readonly atMost: Exact;
  /**
   * Seconds at or below the level after which the time begins anew; a shorter pause is none, and the time above goes on
   * adding up. Default 0: any pause will do.
   */
  readonly restTime?: Exact;
}

/** The limits of one channel, or of all channels of a quantity; one that is not given is not checked. */
export interface ChannelLimits {
  /** A or V: rms value of all parts together. */
  readonly rms?: Exact;
  /** A or V: instantaneous value. */
  readonly peak?: Exact;
  /** VA put into the burden. */
  readonly power?: Exact;
  /** Ω: size of the impedance that the channel feeds, leads included. */
  readonly burden?: Exact;
  /** V rms that a current channel can drive across its burden. */
  readonly compliance?: Exact;
  readonly duty?: readonly Duty[];
  /** Hz, harmonics included. */
  readonly frequency?: { readonly minimum: Exact; readonly maximum: Exact };
  /** The smallest steps: A or V, Hz, degrees. */
  readonly resolution?: { readonly rms?: Exact; readonly frequency?: Exact; readonly angle?: Exact };
}

/** The limits of a test source. */
export interface SourceLimits {
  readonly current?: ChannelLimits;
  readonly voltage?: ChannelLimits;
  /** Those of single channels, limit by limit in place of those of their quantity. */
  readonly channels?: { readonly [channel: string]: ChannelLimits };
}

/** A duty in exact decimals. */
export interface ReadDuty {
  readonly above: Decimal;
  readonly atMost: Decimal;
  readonly restTime: Decimal;
}

/** Limits in exact decimals. */
export interface ReadLimits {
  readonly rms?: Decimal;
  readonly peak?: Decimal;
  readonly power?: Decimal;
  readonly burden?: Decimal;
  readonly compliance?: Decimal;
  readonly duty?: readonly ReadDuty[];
  readonly frequency?: { readonly minimum: Decimal; readonly maximum: Decimal };
  readonly resolution?: { readonly [K in (typeof MOVED)[number]]?: Decimal };
}

const WHAT = {
  rms: ["a limit", "A or V"],
  peak: ["a limit", "A or V"],
  power: ["a limit", "VA"],
  burden: ["a burden", "ohm"],
  compliance: ["a limit", "V"],
} as const;
const NUMBERS = ["rms", "peak", "power", "burden", "compliance"] as const;

/** Reads the limits of a quantity or of a channel. */
export function readLimits(limits: ChannelLimits, path: string): ReadLimits {
  return within(path, () => {
    const { duty, frequency, resolution } = options(limits, [...NUMBERS, "duty", "frequency", "resolution"]);
    return {
      ...given(NUMBERS, limits, WHAT),
      ...(duty !== undefined && { duty: readDuties(duty) }),
      ...(frequency !== undefined && { frequency: within("frequency", () => readRange(frequency)) }),
      ...(resolution !== undefined && { resolution: within("resolution", () => readSteps(resolution)) }),
    };
  });
}

function readRange(range: NonNullable<ChannelLimits["frequency"]>): NonNullable<ReadLimits["frequency"]> {
  options(range, ["minimum", "maximum"]);
  const minimum = notNegative(range.minimum, "minimum", "a frequency", "Hz");
  const maximum = decimal(range.maximum, "maximum", "a frequency in Hz");
  if (maximum.lt(minimum)) fail("out-of-range", "maximum", "a frequency in Hz, not below the minimum", range.maximum);
  return { minimum, maximum };
}

function readSteps(steps: NonNullable<ChannelLimits["resolution"]>): NonNullable<ReadLimits["resolution"]> {
  options(steps, MOVED);
  return given(MOVED, steps, { rms: ["a step", "A or V"], frequency: ["a step", "Hz"], angle: ["a step", "°"] });
}

function readDuties(duties: readonly Duty[]): readonly ReadDuty[] {
  return readEach(duties, "duty", "a list of { above, atMost, restTime }", (duty) => {
    const { above, atMost, restTime = 0 } = options(duty, ["above", "atMost", "restTime"]);
    return {
      above: positive(above, "above", "a level", "A or V"),
      atMost: positive(atMost, "atMost", "a time", "s"),
      restTime: notNegative(restTime, "restTime", "a time", "s"),
    };
  });
}
