import { atLeast, fail, options } from "../base/check.js";
import { atan2Degrees } from "../base/degrees.js";
import { finiteDoubles, room } from "../base/doubles.js";
import type { Cycles, Hertz } from "../base/units.js";
import { inRange } from "./cycles.js";
import { samplesPerCycle } from "./track-window.js";

/** Over how long a rate of change is taken. */
export interface RateOptions {
  readonly sampleRate: Hertz;
  /** The nominal frequency, against which the phasors turn. */
  readonly frequency: Hertz;
  /** In nominal cycles, to the nearest whole number of samples and at least one; default 1. */
  readonly cycles?: Cycles;
}

/** Of the largest phasor: what is left of one that has ended. */
const NOTHING = 1e-12;

/**
 * The frequency along a track of phasors: the nominal one and how fast the phasor turns.
 *
 *     f[i] = frequency + (angle[i + m] − angle[i])/360 · sampleRate/m, m = cycles · sampleRate/frequency samples
 *
 * It is the mean over m samples, so that it stands for the middle between phasors i and i + m. The angle is followed from
 * sample to sample, whole turns counted, so that it may turn any number of times; only half a turn within one sample is
 * too fast.
 *
 * A phasor of one cycle has a ripple where the frequency is not nominal. From one sample to the next (`cycles: 0`) it makes
 * the frequency swing by as much as the deviation itself. Over one cycle, the default, about
 * |f − frequency| · |f/frequency − 1 + e| remains, where the m samples are longer than a cycle by the share e: where they are a
 * cycle 0.02 Hz at 51 Hz and 0.0002 Hz at 50.1 Hz, at 60.1 Hz and 4000 samples a second (67 for 66 2/3) 0.0007 Hz. Phasors of the positive sequence of three phases are free of it. A phasor
 * of zero has no angle and counts as 0°, as does what a sliding sum leaves of one, up to 1e-12 of the largest: a dead
 * stretch reads as nominal, and its ends as jumps.
 *
 * @param phasors - Interleaved re, im, one for each sample, as from {@link phasorTrack}.
 * @param out - Filled and returned where given; m shorter than there are phasors.
 * @throws A {@link InputError} for phasors that are not finite, an odd number of parts, m phasors or fewer, rates and
 * frequencies that are not above 0 Hz, an `out` of another length.
 * Accuracy: 3e-16 of the turns counted so far, and of one at least, · sampleRate/m: 1e-14 Hz at first, 1e-11 Hz after a
 * thousand turns against the nominal frequency.
 * @source IEC/IEEE 60255-118-1, definition of frequency
 *
 * @example
 * import { frequencyTrack } from "tripwright/sinusoid";
 * const quarterTurns = [1, 0, 0, 1, -1, 0, 0, -1, 1, 0];
 * Array.from(frequencyTrack(quarterTurns, { sampleRate: 4, frequency: 50, cycles: 0 })); // → [51, 51, 51, 51]
 */
export function frequencyTrack(phasors: ArrayLike<number>, given: RateOptions, out?: Float64Array): Float64Array {
  const parts = finiteDoubles(phasors, "phasors", "a part of a phasor");
  if (parts.length % 2) fail("wrong-length", "phasors", "pairs of re and im", parts.length);
  const turns = new Float64Array(parts.length / 2);
  const least = NOTHING * parts.reduce((most, part) => Math.max(most, Math.abs(part)), 0);
  const settled = (part: number): number => (Math.abs(part) < least ? 0 : part);
  let turn = 0;
  for (let i = 0; i < turns.length; i++) {
    const angle = atan2Degrees(settled(parts[2 * i + 1]!), settled(parts[2 * i]!)) / 360;
    turn = angle - Math.round(angle - turn);
    turns[i] = turn;
  }
  return changes(turns, given, { path: "phasors", nominal: 1 }, out);
}

/**
 * The rate of change of frequency (ROCOF) along a track of frequencies, in hertz per second.
 *
 *     rocof[i] = (f[i + m] − f[i]) · sampleRate/m, m = cycles · sampleRate/frequency samples
 *
 * It is the mean over m samples, for the middle between frequencies i and i + m. What ripple there is in the frequencies
 * comes through: with one cycle in both steps about 0.25 Hz/s at 51 Hz, 0.0003 Hz/s at 50.1 Hz.
 *
 * @param frequencies - Hertz, one for each sample, as from {@link frequencyTrack}.
 * @param out - Filled and returned where given; m shorter than the frequencies.
 * @throws A {@link InputError} for frequencies that are not finite, m of them or fewer, rates beyond the range of a double,
 * and as {@link frequencyTrack} does.
 * Accuracy: 1e-15 of the largest frequency · sampleRate/m.
 * @source IEC/IEEE 60255-118-1, definition of the rate of change of frequency
 *
 * @example
 * import { rocofTrack } from "tripwright/sinusoid";
 * Array.from(rocofTrack([50, 50.5, 51.5], { sampleRate: 4, frequency: 50, cycles: 0 })); // → [2, 4]
 */
export function rocofTrack(frequencies: ArrayLike<number>, given: RateOptions, out?: Float64Array): Float64Array {
  const list = finiteDoubles(frequencies, "frequencies", "a frequency in Hz");
  return changes(list, given, { path: "frequencies", nominal: 0 }, out);
}

interface What {
  readonly path: string;
  /** How often the nominal frequency is added. */
  readonly nominal: 0 | 1;
}

/** How fast the values change over each span, per second. */
function changes(values: Float64Array, given: RateOptions, { path, nominal }: What, out?: Float64Array): Float64Array {
  const { sampleRate, frequency, cycles = 1 } = options(given, ["sampleRate", "frequency", "cycles"]);
  const wanted = atLeast(cycles, 0, "cycles", "a number of cycles") * samplesPerCycle(given);
  const span = Math.max(1, Math.round(wanted));
  const count = values.length - span;
  if (count < 1) fail("wrong-length", path, `more than ${span} of them`, values.length);
  const track = room(out, count);
  for (let i = 0; i < count; i++) {
    const change = (values[i + span] as number) - (values[i] as number);
    track[i] = inRange(nominal * frequency + (change / span) * sampleRate, "sampleRate", sampleRate);
  }
  return track;
}
