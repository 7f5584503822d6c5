/** A channel of a sequence cut into spans of samples: one for each state that has any. */
import { fail } from "../base/check.js";
import type { Decay } from "../base/decay.js";
import { add, type Double2, multiply } from "../base/double-double.js";
import { ceiling, type Decimal, decimal, toNumber, toPair } from "../base/exact.js";
import type { ChannelState, Timeline } from "../base/sequence.js";
import type { Cycles, Degrees, Hertz } from "../base/units.js";
import { atStart, runOn, stateOf, turn } from "./channel-phase.js";

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
  // The beginning of a state is counted in samples, exactly: it need not be at one.
  let [start, first, running] = [decimal(0, ""), 0, atStart(segments, channel)];
  for (const [i, segment] of segments.entries()) {
    const state = stateOf(segment, channel);
    const duration = decimal(segment.duration, "duration");
    const end = start.plus(duration.times(rate));
    // A sample that falls on the end of a state is after it, so that records join without a gap.
    const next = toNumber(ceiling(end), "sampleRate");
    if (next > first) {
      checkSize(state, segment.duration, `segments[${i}].channels.${channel}`);
      const behind = toNumber(decimal(first, "").minus(start), "t");
      const count = next - first;
      spans.push({ first, count, ...waveformOf(state, { cycles: running.cycles, behind, rate, count }) });
    }
    if (i + 1 < segments.length) running = runOn(running, state, duration);
    [start, first] = [end, next];
  }
  return { spans, count: first };
}

/** The recurrences need room for twice the peak. */
function checkSize(state: ChannelState | undefined, duration: number, path: string): void {
  const { rms = 0, slope = {}, offset = 0, decay, harmonics = [] } = state ?? {};
  const most = Math.max(rms, rms + (slope.rms ?? 0) * duration);
  const cosines = harmonics.reduce((sum, harmonic) => sum + harmonic.rms, most);
  const size = Math.SQRT2 * cosines + Math.abs(offset) + Math.abs(decay?.initial ?? 0);
  if (!(size < 4e307)) fail("out-of-range", path, "parts whose sum is below 4e307", size);
}

/** Where a state stands on the sample clock. */
interface OnClock {
  /** Turned by the channel since the start of the record, when the state begins. */
  readonly cycles: Decimal;
  /** Samples from there to the first sample of the state: less than one. */
  readonly behind: number;
  readonly rate: Decimal;
  readonly count: number;
}

function waveformOf(state: ChannelState | undefined, { cycles, behind, rate, count }: OnClock): Waveform {
  if (state === undefined) return { waves: [], offset: 0 };
  const { rms, angle = 0, offset = 0, decay, harmonics = [], slope = {} } = state;
  const sampleRate = toNumber(rate, "sampleRate");
  const seconds = behind / sampleRate;
  // A slope that moves far within a state of one sample has no place to go, and may be beyond all bounds.
  const moves = count > 1;
  const rise = slope.frequency ?? 0;
  const bend: Double2 = moves && rise !== 0 ? toPair(decimal(rise, "slope.frequency").div(rate).div(rate)) : [0, 0];
  /** How a cosine turns that begins at a frequency, or at a multiple of it. */
  const turning = (frequency: Decimal, order: number, angle: Degrees) => ({
    turn:
      turn(cycles.times(order), angle) / 360 +
      order * (toNumber(frequency, "frequency") + (rise * seconds) / 2) * seconds,
    step: multiply(add(toPair(frequency.div(rate)), multiply(bend, [behind, 0])), [order, 0]),
    bend: multiply(bend, [order, 0]),
  });
  const frequency = decimal(state.frequency, "frequency");
  // An angle that moves evenly is a frequency too. It turns the fundamental alone, as a slope of rms moves that alone.
  const own = slope.angle === undefined ? frequency : frequency.plus(decimal(slope.angle, "slope.angle").div(360));
  const fundamental: Wave = {
    peak: Math.SQRT2 * (rms + (slope.rms ?? 0) * seconds),
    peakStep: moves ? Math.SQRT2 * ((slope.rms ?? 0) / sampleRate) : 0,
    ...turning(own, 1, angle),
  };
  const others = harmonics.map(
    ({ order, rms, angle = 0 }): Wave => ({
      peak: Math.SQRT2 * rms,
      peakStep: 0,
      ...turning(frequency, order, angle),
    }),
  );
  return {
    waves: [fundamental, ...others].filter(({ peak, peakStep }) => peak !== 0 || peakStep !== 0),
    offset: offset + 0,
    ...(decay && {
      decay: {
        initial: decay.initial * Math.exp(-seconds / decay.tau),
        // Beyond 1e4 nothing is left after one sample, and infinity times 0 is no number.
        rate: Math.max(-1e4, -1 / sampleRate / decay.tau),
      },
    }),
  };
}
