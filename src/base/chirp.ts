/**
 * Cosines whose frequency and peak change evenly along a sample clock, many samples at a time. The plain formula is
 *
 *     out[n] = out[n] + (peak + peakStep · n) · cos(360° · (turn + step · n + bend · n²/2))
 *
 * with n counted from the first sample of `out`, which may be a view into a longer array. Within a block of samples
 * k = 0, 1, 2 … the phase is that of the first sample, plus ω · k with the frequency ω that it has there, plus the bend:
 *
 *     cos(φ + ω·k + β·k²/2) = cos(φ + ω·k) · cos(β·k²/2) − sin(φ + ω·k) · sin(β·k²/2)
 *
 * The bend is the same in every block, a table; φ + ω·k runs by the recurrence of `synthesis`, on two strands. From block
 * to block the phasors of φ and ω are turned onward, and now and then they are made anew from the phase itself, which is
 * kept in cycles with 32 digits: the error does not grow with time.
 *
 * Accuracy: 4e-13 of the peak at any frequency and length.
 */
import { add, type Double2, multiply } from "./double-double.js";
import { cyclesAfter, phasorAfter, type Tone } from "./synthesis.js";

/** A cosine whose frequency and peak change evenly along a sample clock. */
export interface Chirp extends Tone {
  /** How much the peak gains from one sample to the next. */
  readonly peakStep: number;
  /** How much `step` gains from one sample to the next: hertz per second over the square of the sample rate. */
  readonly bend: Double2;
}

/** In the 56 steps of a strand roundings grow by 56²/2 at the worst, where ω comes near a multiple of 90°. */
const BLOCK = 112;
const MADE_ANEW = 1792; // every 16 blocks

/** Adds to what is there. */
export function addChirp(out: Float64Array, { peak, peakStep, turn: start, step, bend }: Chirp): void {
  const half = multiply(bend, [0.5, 0]);
  const phasorAt = (n: number) => phasorAfter(start + cyclesAfter(add(step, multiply(half, [n, 0])), n));
  const whole = out.length - (out.length % 4);
  const bent = tableOf(half, Math.min(BLOCK, whole));
  const faster = phasorAfter(cyclesAfter(bend, BLOCK));
  const further = phasorAfter(cyclesAfter(bend, BLOCK * BLOCK));
  // At 0 the phasor of φ, at 2 that of ω, at 4 that from this block to the next, at 6 the peak and its step: doubles in
  // an array, as numbers that are handed over would be boxed for every block.
  const now = new Float64Array(8);
  now[7] = peakStep;
  for (let first = 0; first < whole; first += BLOCK) {
    if (first % MADE_ANEW === 0) {
      const stepHere = add(step, multiply(bend, [first, 0]));
      set(now, 0, phasorAt(first));
      set(now, 2, phasorAfter(cyclesAfter(stepHere, 1)));
      set(now, 4, phasorAfter(cyclesAfter(add(stepHere, multiply(half, [BLOCK, 0])), BLOCK)));
    } else {
      turn(now, 0, now[4]!, now[5]!);
      turn(now, 2, faster.re, faster.im);
      turn(now, 4, further.re, further.im);
    }
    now[6] = peak + peakStep * first;
    addBlock(out, first, Math.min(first + BLOCK, whole), now, bent);
  }
  for (let n = whole; n < out.length; n++) out[n]! += (peak + peakStep * n) * phasorAt(n).re;
}

function set(phasors: Float64Array, at: number, { re, im }: ReturnType<typeof phasorAfter>): void {
  phasors[at] = re;
  phasors[at + 1] = im;
}

/** Turns the phasor at a place of the array by another one. */
function turn(phasors: Float64Array, at: number, cos: number, sin: number): void {
  const re = phasors[at]!;
  const im = phasors[at + 1]!;
  phasors[at] = re * cos - im * sin;
  phasors[at + 1] = im * cos + re * sin;
}

interface Table {
  readonly cosines: Float64Array;
  readonly sines: Float64Array;
}

/** What the change of frequency does to the k-th sample of any block. */
function tableOf(half: Double2, length: number): Table {
  const cosines = new Float64Array(length);
  const sines = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    const { re, im } = phasorAfter(cyclesAfter(half, k * k));
    cosines[k] = re;
    sines[k] = im;
  }
  return { cosines, sines };
}

function addBlock(out: Float64Array, first: number, end: number, now: Float64Array, { cosines, sines }: Table): void {
  const re = now[0]!;
  const im = now[1]!;
  const cos = now[2]!;
  const sin = now[3]!;
  const peak = now[6]!;
  const peakStep = now[7]!;
  const cosOfTwo = cos * cos > 0.5 ? 1 - 2 * sin * sin : 2 * cos * cos - 1; // by the smaller square, which rounds least
  const sinOfTwo = 2 * cos * sin;
  const twice = 2 * cosOfTwo;
  // Cosine and sine at k, k + 1, and before them at k − 2, k − 1, which k + 2, k + 3 are to replace.
  let a = re;
  let p = im;
  let b = re * cos - im * sin;
  let q = im * cos + re * sin;
  let c = re * cosOfTwo + im * sinOfTwo;
  let r = im * cosOfTwo - re * sinOfTwo;
  let d = re * cos + im * sin;
  let s = im * cos - re * sin;
  let even = peak;
  let odd = peak + peakStep;
  for (let n = first, k = 0; n < end; n += 4, k += 4) {
    out[n]! += even * (a * cosines[k]! - p * sines[k]!);
    out[n + 1]! += odd * (b * cosines[k + 1]! - q * sines[k + 1]!);
    even += 2 * peakStep;
    odd += 2 * peakStep;
    c = twice * a - c;
    r = twice * p - r;
    d = twice * b - d;
    s = twice * q - s;
    out[n + 2]! += even * (c * cosines[k + 2]! - r * sines[k + 2]!);
    out[n + 3]! += odd * (d * cosines[k + 3]! - s * sines[k + 3]!);
    even += 2 * peakStep;
    odd += 2 * peakStep;
    a = twice * c - a;
    p = twice * r - p;
    b = twice * d - b;
    q = twice * s - q;
  }
}
