/**
 * Cosines whose frequency and peak change evenly along a sample clock, many samples at a time. The plain formula is
 *
 *     fillChirp    out[n] = (peak + peakStep · n) · cos(360° · (turn + step · n + bend · n²/2)) + offset
 *     addChirp     out[n] = out[n] + (peak + peakStep · n) · cos(360° · (turn + step · n + bend · n²/2))
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
import { PLACES } from "./places.js";
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

/** Fills `out`; where the peak is constant, in less time than it takes to add to what is there. */
export function fillChirp(out: Float64Array, chirp: Chirp, offset: number): void {
  const isSteady = chirp.peakStep === 0;
  out.fill(offset, isSteady ? wholeFours(out) : 0);
  alongBlocks(out, chirp, isSteady ? offset : undefined);
}

/** Adds to what is there. */
export function addChirp(out: Float64Array, chirp: Chirp): void {
  alongBlocks(out, chirp);
}

/** The strands go two steps at a time; the samples that remain are added one by one. */
const wholeFours = (out: Float64Array): number => out.length - (out.length % 4);

function alongBlocks(out: Float64Array, { peak, peakStep, turn: start, step, bend }: Chirp, offset?: number): void {
  const half = multiply(bend, [0.5, 0]);
  const phasorAt = (n: number) => phasorAfter(start + cyclesAfter(add(step, multiply(half, [n, 0])), n));
  const whole = wholeFours(out);
  const bent = tableOf(half, Math.min(BLOCK, whole));
  const faster = phasorAfter(cyclesAfter(bend, BLOCK));
  const further = phasorAfter(cyclesAfter(bend, BLOCK * BLOCK));
  // At 0 the phasor of φ, at 2 that of ω, at 4 that from this block to the next: doubles in an array, as numbers that are
  // handed over would be boxed for every block.
  const now = new Float64Array(6);
  const strands = new Float64Array(10);
  strands[9] = offset ?? 0;
  const unscaled = new Float64Array(offset === undefined ? bent.cosines.length : 0);
  const size = Float64Array.of(peak, peakStep);
  for (let first = 0; first < whole; first += BLOCK) {
    const end = Math.min(first + BLOCK, whole);
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
    if (offset !== undefined) {
      begin(strands, now, peak);
      fillBlock(out, first, end, strands, bent);
    } else {
      begin(strands, now, 1);
      fillBlock(unscaled, 0, end - first, strands, bent);
      addBlock(out, first, end, size, unscaled);
    }
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

/**
 * The two strands of a block, as long as the peak: cosine and sine at k, k + 1, and before them at k − 2, k − 1, which k + 2,
 * k + 3 are to replace; and what one step of a strand takes.
 */
function begin(strands: Float64Array, now: Float64Array, peak: number): void {
  const re = peak * now[0]!;
  const im = peak * now[1]!;
  const cos = now[2]!;
  const sin = now[3]!;
  const cosOfTwo = cos * cos > 0.5 ? 1 - 2 * sin * sin : 2 * cos * cos - 1; // by the smaller square, which rounds least
  const sinOfTwo = 2 * cos * sin;
  strands[0] = re;
  strands[1] = im;
  strands[2] = re * cos - im * sin;
  strands[3] = im * cos + re * sin;
  strands[4] = re * cosOfTwo + im * sinOfTwo;
  strands[5] = im * cosOfTwo - re * sinOfTwo;
  strands[6] = re * cos + im * sin;
  strands[7] = im * cos - re * sin;
  strands[8] = 2 * cosOfTwo;
}

// Plain statements, as in `synthesis`.

function fillBlock(
  out: Float64Array,
  first: number,
  end: number,
  strands: Float64Array,
  { cosines, sines }: Table,
): void {
  let a = strands[0]!;
  let p = strands[1]!;
  let b = strands[2]!;
  let q = strands[3]!;
  let c = strands[4]!;
  let r = strands[5]!;
  let d = strands[6]!;
  let s = strands[7]!;
  const twice = strands[8]!;
  const offset = strands[9]!;
  const last = end & PLACES;
  for (let n = first & PLACES, k = 0; n < last; n += 4, k += 4) {
    out[n] = a * cosines[k]! - p * sines[k]! + offset;
    out[n + 1] = b * cosines[k + 1]! - q * sines[k + 1]! + offset;
    c = twice * a - c;
    r = twice * p - r;
    d = twice * b - d;
    s = twice * q - s;
    out[n + 2] = c * cosines[k + 2]! - r * sines[k + 2]! + offset;
    out[n + 3] = d * cosines[k + 3]! - s * sines[k + 3]! + offset;
    a = twice * c - a;
    p = twice * r - p;
    b = twice * d - b;
    q = twice * s - q;
  }
}

function addBlock(out: Float64Array, first: number, end: number, size: Float64Array, unscaled: Float64Array): void {
  const peak = size[0]!;
  const step = size[1]!;
  for (let n = first; n < end; n++) out[n]! += (peak + step * n) * unscaled[n - first]!;
}
