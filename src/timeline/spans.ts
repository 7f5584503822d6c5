/** A channel of a sequence cut into spans of samples: one for each state that has any. */
import { fail } from "../base/check.js";
import type { Decay } from "../base/decay.js";
import type { Double2 } from "../base/double-double.js";
import { ceiling, type Decimal, decimal, exactly, toNumber } from "../base/exact.js";
import type { ChannelState, Timeline } from "../base/sequence.js";
import type { Cycles, Hertz } from "../base/units.js";
import { atStart, type Running, runOn, stateOf, turn } from "./channel-phase.js";

/** One cosine of a span; `turn` is where in its cycle it is at the first sample. */
export interface Wave {
  readonly peak: number;
  readonly peakStep: number;
  readonly turn: Cycles;
  readonly step: Double2;
  readonly bend: Double2;
}

/** What a channel puts out during one state, along the sample clock. */
interface Waveform {
  /** None where the channel is off. */
  readonly waves: readonly Wave[];
  readonly offset: number;
  readonly decay?: Decay;
}

/** The samples of one state, counted from the start of the record. */
export interface Span extends Waveform {
  readonly first: number;
  readonly count: number;
}

/** The spans of a record, and how many samples it has. */
export interface Spans {
  readonly spans: readonly Span[];
  readonly count: number;
}

/** The spans of a channel. A state that begins and ends between two samples has none. */
export function spansOf({ segments }: Timeline, channel: string, sampleRate: Hertz): Spans {
  const rate = decimal(sampleRate, "sampleRate");
  const spans: Span[] = [];
  let [start, first, running] = [decimal(0, ""), 0, atStart(segments, channel)];
  for (const [i, segment] of segments.entries()) {
    const state = stateOf(segment, channel);
    const duration = decimal(segment.duration, "duration");
    const end = start.plus(duration);
    const count = samplesBefore(end, rate) - first;
    if (count > 0) {
      const since = decimal(first, "").div(rate).minus(start);
      checkSize(state, segment.duration, `segments[${i}].channels.${channel}`);
      spans.push({ first, count, ...waveformOf(state, { ...runOn(running, state, since), since, rate, count }) });
    }
    if (i + 1 < segments.length) running = runOn(running, state, duration);
    [start, first] = [end, first + count];
  }
  return { spans, count: first };
}

/** The number of samples before an instant; one that falls on it is after it, so that records join without a gap. */
const samplesBefore = (end: Decimal, rate: Decimal): number => toNumber(ceiling(end.times(rate)), "sampleRate");

/** The recurrences need room for twice the peak. */
function checkSize(state: ChannelState | undefined, duration: number, path: string): void {
  const { rms = 0, slope = {}, offset = 0, decay, harmonics = [] } = state ?? {};
  const most = Math.max(rms, rms + (slope.rms ?? 0) * duration);
  const cosines = harmonics.reduce((sum, harmonic) => sum + harmonic.rms, most);
  const size = Math.SQRT2 * cosines + Math.abs(offset) + Math.abs(decay?.initial ?? 0);
  if (!(size < 4e307)) fail("out-of-range", path, "parts whose sum is below 4e307", size);
}

/** How far the channel has turned at the first sample, and how fast it turns there. */
interface AtFirst extends Running {
  /** From the beginning of the state to its first sample. */
  readonly since: Decimal;
  readonly rate: Decimal;
  readonly count: number;
}

function waveformOf(state: ChannelState | undefined, at: AtFirst): Waveform {
  if (state === undefined) return { waves: [], offset: 0 };
  const { offset = 0, decay, harmonics = [], slope = {} } = state;
  const { cycles, frequency, since, rate, count } = at;
  const seconds = toNumber(since, "t");
  const period = 1 / toNumber(rate, "sampleRate");
  // A slope that moves far within a state of one sample has no place to go; nothing else can be beyond all bounds.
  const moves = count > 1;
  const step = frequency.div(rate);
  const bend = decimal(moves ? (slope.frequency ?? 0) : 0, "slope.frequency")
    .div(rate)
    .div(rate);
  // An angle that moves evenly is a frequency too. It turns the fundamental alone, as a slope of rms moves that alone.
  const turning = decimal(slope.angle ?? 0, "slope.angle").div(360);
  const fundamental: Wave = {
    peak: Math.SQRT2 * (state.rms + (slope.rms ?? 0) * seconds),
    peakStep: moves ? Math.SQRT2 * ((slope.rms ?? 0) * period) : 0,
    turn: turn(cycles.plus(turning.times(since)), state.angle ?? 0) / 360,
    step: pairOf(step.plus(turning.div(rate))),
    bend: pairOf(bend),
  };
  const others = harmonics.map(
    ({ order, rms, angle = 0 }): Wave => ({
      peak: Math.SQRT2 * rms,
      peakStep: 0,
      turn: turn(cycles.times(order), angle) / 360,
      step: pairOf(step.times(order)),
      bend: pairOf(bend.times(order)),
    }),
  );
  return {
    waves: [fundamental, ...others].filter(({ peak, peakStep }) => peak !== 0 || peakStep !== 0),
    offset: offset + 0,
    ...(decay && {
      decay: {
        initial: decay.initial * Math.exp(-seconds / decay.tau),
        // Beyond 1e4 nothing is left after one sample, and infinity times 0 is no number.
        rate: Math.max(-1e4, -period / decay.tau),
      },
    }),
  };
}

/** As two doubles: the nearest one, and what it leaves. */
function pairOf(exact: Decimal): Double2 {
  if (exact.isZero()) return [0, 0];
  const high = toNumber(exact, "frequency");
  return [high, toNumber(exact.minus(exactly(high)), "frequency")];
}
