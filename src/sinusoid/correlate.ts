/** What samples have in common with one cosine and one sine. */
export interface Sums {
  /** Σ x */
  readonly total: number;
  /** Σ x · cos(360 · step · u), with u counted from the middle of the record: −(count − 1)/2 … (count − 1)/2. */
  readonly cosine: number;
  /** Σ x · sin(360 · step · u) */
  readonly sine: number;
  /** Σ u · x · cos(360 · step · u) */
  readonly cosineMoment: number;
  /** Σ u · x · sin(360 · step · u) */
  readonly sineMoment: number;
}

const BLOCK = 64;
const TURN = 6.283185307179586; // 2π

/** Cycles after n steps, less whole ones; the first 24 bits of the step make an exact product. */
export function turns(step: number, n: number): number {
  const head = Math.fround(step);
  return ((head * n) % 1) + (step - head) * n;
}

/**
 * Correlates values with cos and sin. Angles count from the middle of the record. Within a block every value meets one
 * table of cosines; the sums are then turned to where the block stands, by an angle made anew, so that a million samples
 * are as accurate as a hundred.
 */
export function correlate(values: Float64Array, step: number): Sums {
  const count = values.length;
  const [cosines, sines] = tablesOf(step);
  let [total, cosine, sine, cosineMoment, sineMoment] = [0, 0, 0, 0, 0];
  for (let from = 0; from < count; from += BLOCK) {
    const u = from - (count - 1) / 2;
    const angle = TURN * turns(step, u);
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const size = Math.min(BLOCK, count - from);
    let sum = 0;
    let c = 0;
    let s = 0;
    let jc = 0;
    let js = 0;
    let j = 0;
    // Two at a time: fewer additions wait for one another.
    for (; j < size - 1; j += 2) {
      const x = values[from + j]!;
      const y = values[from + j + 1]!;
      const yc = y * cosines[j + 1]!;
      const ys = y * sines[j + 1]!;
      const bothC = x * cosines[j]! + yc;
      const bothS = x * sines[j]! + ys;
      sum += x + y;
      c += bothC;
      s += bothS;
      jc += j * bothC + yc;
      js += j * bothS + ys;
    }
    if (j < size) {
      const x = values[from + j]!;
      sum += x;
      c += x * cosines[j]!;
      s += x * sines[j]!;
      jc += j * x * cosines[j]!;
      js += j * x * sines[j]!;
    }
    const turnedCosine = c * cos - s * sin;
    const turnedSine = c * sin + s * cos;
    total += sum;
    cosine += turnedCosine;
    sine += turnedSine;
    cosineMoment += u * turnedCosine + jc * cos - js * sin;
    sineMoment += u * turnedSine + jc * sin + js * cos;
  }
  return { total, cosine, sine, cosineMoment, sineMoment };
}

/** Takes a · cos + b · sin out of the values, in place, with angles as in {@link correlate}. */
export function takeOut(values: Float64Array, step: number, a: number, b: number): void {
  const count = values.length;
  const [cosines, sines] = tablesOf(step);
  for (let from = 0; from < count; from += BLOCK) {
    const angle = TURN * turns(step, from - (count - 1) / 2);
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const p = a * cos + b * sin;
    const q = b * cos - a * sin;
    const size = Math.min(BLOCK, count - from);
    for (let j = 0; j < size; j++) values[from + j]! -= p * cosines[j]! + q * sines[j]!;
  }
}

/** cos and sin of the first angles of a block: those of 1, 2, 4, … steps, and the others as products of two. */
function tablesOf(step: number): readonly [readonly number[], readonly number[]] {
  const [cosines, sines] = [[1], [0]];
  for (let top = 1; top < BLOCK; top *= 2) {
    const angle = TURN * turns(step, top);
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    for (let j = 0; j < top; j++) {
      cosines.push(cosines[j]! * cos - sines[j]! * sin);
      sines.push(cosines[j]! * sin + sines[j]! * cos);
    }
  }
  return [cosines, sines];
}
