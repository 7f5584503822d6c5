/** A channel of a sequence cut into spans of samples: one for each state that has any. */
import { addChirp } from "../base/chirp.js";
import { addDecay } from "../base/decay.js";
import { add, type Double2, fraction, multiply } from "../base/double-double.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import type { ChannelState, Timeline } from "../base/sequence.js";
import { addTone, fillTone } from "../base/synthesis.js";
import type { Cycles, Hertz } from "../base/units.js";

/** One cosine of a span; `turn` is where in its cycle it is at the first sample. */
interface Wave {
  readonly peak: number;
  readonly peakStep: number;
  readonly turn: Cycles;
  readonly step: Double2;
  readonly bend: Double2;
}

/** The samples of one state, counted from the start of the record. */
export interface Span {
  readonly first: number;
  readonly count: number;
  /** None where the channel is off. */
  readonly waves: readonly Wave[];
  readonly offset: number;
  /** A decaying part as it is at the first sample. */
  readonly decay?: { readonly initial: number; readonly rate: number };
}

/** How many samples a record has: those with n/sampleRate before its end, so that records join without a gap. */
export function spansOf({ segments }: Timeline, channel: string, sampleRate: Hertz): { spans: Span[]; count: number } {
  const rate = decimal(sampleRate, "sampleRate");
  const spans: Span[] = [];
  let [start, first, cycles] = [decimal(0, ""), 0, decimal(0, "")];
  let running = decimal(segments.find(({ channels }) => channels[channel])?.channels[channel]?.frequency ?? 0, "");
  for (const { duration, channels } of segments) {
    const state = channels[channel];
    const lasts = decimal(duration, "duration");
    const end = start.plus(lasts);
    const next = samplesBefore(end, rate);
    const frequency = state === undefined ? running : decimal(state.frequency, "frequency");
    const slope = decimal(state?.slope?.frequency ?? 0, "slope.frequency");
    if (next > first) {
      const since = decimal(first, "").div(rate).minus(start);
      const moving = { frequency, slope, cycles, since, rate };
      spans.push({ first, count: next - first, ...waveformOf(state, moving) });
    }
    cycles = cycles.plus(frequency.plus(slope.times(lasts).div(2)).times(lasts)).mod(1);
    running = frequency.plus(slope.times(lasts));
    [start, first] = [end, next];
  }
  return { spans, count: first };
}

/** The number of samples before an instant; one that falls on it is after it, give or take the digits of the decimals. */
function samplesBefore(end: Decimal, rate: Decimal): number {
  const exact = end.times(rate);
  const nearest = exact.round();
  return toNumber(exact.minus(nearest).abs().lte("1e-18") ? nearest : exact.ceil(), "sampleRate");
}

interface Moving {
  readonly frequency: Decimal;
  readonly slope: Decimal;
  /** ∫ f dt up to the beginning of the state, whole cycles dropped. */
  readonly cycles: Decimal;
  /** From the beginning of the state to its first sample. */
  readonly since: Decimal;
  readonly rate: Decimal;
}

function waveformOf(
  state: ChannelState | undefined,
  { frequency, slope, cycles, since, rate }: Moving,
): Pick<Span, "waves" | "offset" | "decay"> {
  if (state === undefined) return { waves: [], offset: 0 };
  const { rms, angle = 0, offset = 0, decay, harmonics = [], slope: slopes = {} } = state;
  const turned = cycles.plus(frequency.plus(slope.times(since).div(2)).times(since));
  const step = frequency.plus(slope.times(since)).div(rate);
  const bend = slope.div(rate).div(rate);
  // A slope of the angle turns the fundamental alone; a slope of rms moves its peak alone.
  const turning = decimal(slopes.angle ?? 0, "slope.angle").div(360);
  const after = toNumber(since, "t");
  const sample = 1 / toNumber(rate, "sampleRate");
  const fundamental: Wave = {
    peak: Math.SQRT2 * (rms + (slopes.rms ?? 0) * after),
    peakStep: Math.SQRT2 * (slopes.rms ?? 0) * sample,
    turn: turnOf(turned.plus(turning.times(since)), angle),
    step: pairOf(step.plus(turning.div(rate))),
    bend: pairOf(bend),
  };
  const others = harmonics.map(
    (harmonic): Wave => ({
      peak: Math.SQRT2 * harmonic.rms,
      peakStep: 0,
      turn: turnOf(turned.times(harmonic.order), harmonic.angle ?? 0),
      step: pairOf(step.times(harmonic.order)),
      bend: pairOf(bend.times(harmonic.order)),
    }),
  );
  return {
    waves: [fundamental, ...others].filter(({ peak, peakStep }) => peak !== 0 || peakStep !== 0),
    offset,
    ...(decay && {
      decay: { initial: decay.initial * Math.exp(-after / decay.tau), rate: -sample / decay.tau },
    }),
  };
}

/** Whole cycles are dropped before anything is rounded. */
const turnOf = (cycles: Decimal, angle: number): Cycles =>
  toNumber(cycles.plus(decimal(angle, "angle").div(360)).mod(1), "angle");

/** As two doubles. What the first one leaves is counted from its exact value, not from its shortest decimal. */
function pairOf(exact: Decimal): Double2 {
  const high = toNumber(exact, "frequency");
  return [high, toNumber(exact.minus(decimal(high.toFixed(100), "frequency")), "frequency")];
}

/** Fills `out` with samples of a span from the one that is `skip` behind its first. */
export function fillSpan(out: Float64Array, { waves, offset, decay }: Span, skip: number): void {
  const [first, ...others] = waves.map((wave) => ahead(wave, skip));
  if (first === undefined) out.fill(offset);
  else if (isTone(first)) fillTone(out, first, offset);
  else {
    out.fill(offset);
    addChirp(out, first);
  }
  for (const wave of others) {
    if (isTone(wave)) addTone(out, wave);
    else addChirp(out, wave);
  }
  if (decay !== undefined) addDecay(out, { ...decay, initial: decay.initial * Math.exp(decay.rate * skip) });
}

const isTone = ({ peakStep, bend }: Wave): boolean => peakStep === 0 && bend[0] === 0;

/** The same cosine some samples later. */
function ahead(wave: Wave, skip: number): Wave {
  if (skip === 0) return wave;
  const { peak, peakStep, turn, step, bend } = wave;
  const along = add(step, multiply(bend, [skip / 2, 0]));
  return {
    ...wave,
    peak: peak + peakStep * skip,
    turn: turn + fraction(multiply(along, [skip, 0])),
    step: add(step, multiply(bend, [skip, 0])),
  };
}
