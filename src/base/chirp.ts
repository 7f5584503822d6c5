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
const MADE_ANEW = 896; // every 8 blocks

type Phasor = ReturnType<typeof phasorAfter>;

/** Adds to what is there. */
export function addChirp(out: Float64Array, { peak, peakStep, turn, step, bend }: Chirp): void {
  const half = multiply(bend, [0.5, 0]);
  const phasorAt = (n: number) => phasorAfter(turn + cyclesAfter(add(step, multiply(half, [n, 0])), n));
  const whole = out.length - (out.length % 4);
  const bent = tableOf(half, Math.min(BLOCK, whole));
  const faster = phasorAfter(cyclesAfter(bend, BLOCK));
  const further = phasorAfter(cyclesAfter(bend, BLOCK * BLOCK));
  let [now, each, onward] = [faster, faster, faster];
  for (let first = 0; first < whole; first += BLOCK) {
    if (first % MADE_ANEW === 0) {
      const stepHere = add(step, multiply(bend, [first, 0]));
      now = phasorAt(first);
      each = phasorAfter(cyclesAfter(stepHere, 1));
      onward = phasorAfter(cyclesAfter(add(stepHere, multiply(half, [BLOCK, 0])), BLOCK));
    } else {
      now = times(now, onward);
      each = times(each, faster);
      onward = times(onward, further);
    }
    addBlock(out, first, Math.min(first + BLOCK, whole), now, each, bent, peak + peakStep * first, peakStep);
  }
  for (let n = whole; n < out.length; n++) out[n]! += (peak + peakStep * n) * phasorAt(n).re;
}

const times = (p: Phasor, q: Phasor): Phasor => ({ re: p.re * q.re - p.im * q.im, im: p.re * q.im + p.im * q.re });

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

function addBlock(
  out: Float64Array,
  first: number,
  end: number,
  now: Phasor,
  each: Phasor,
  { cosines, sines }: Table,
  peak: number,
  peakStep: number,
): void {
  const { re, im } = now;
  const { re: cos, im: sin } = each;
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
