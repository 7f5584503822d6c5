/**
 * M^alpha − 1 for many multiples: M = c · (1 + r) with a centre c from the top bits of the double, so that
 *
 *     M^alpha − 1 = (c^alpha − 1) + c^alpha · ((1 + r)^alpha − 1)
 *
 * needs one look into a table and one short polynomial. Only + − ×, so that every engine gives the same bits. The first
 * centre is exactly 1: near the setting r = M − 1 is exact, and nothing cancels. The plain formula is `powerMinusOne`.
 */
import { exponentialMinusOne, logarithm, multiply } from "./double-double.js";
import { powerMinusOne } from "./power.js";

/** 256 centres an octave, from 1 to 128. */
const BITS = 8;
const SIZE = 1_792; // 7 octaves · 2^BITS; literals, so that bundlers can drop what is not used
const SHIFT = 12; // 20 bits of the high word − BITS
const HIGH_WORD_OF_ONE = 0x3ff00000;

interface Table {
  readonly alpha: number;
  /** The coefficients of (1 + r)^alpha − 1. */
  readonly series: Float64Array;
  /** Centre, its reciprocal and its power − 1, one after the other for each centre. */
  readonly centres: Float64Array;
}

/** The table of the last alpha; made anew from the same numbers whenever another is asked for. */
let last: Table | undefined;

function tableFor(alpha: number): Table {
  if (last?.alpha === alpha) return last;
  const centres = new Float64Array(3 * SIZE);
  for (let j = 0; j < SIZE; j++) {
    const step = (j & ((1 << BITS) - 1)) + 0.5;
    const centre = j === 0 ? 1 : 2 ** (j >> BITS) * (1 + step * 2 ** -BITS);
    centres[3 * j] = centre;
    centres[3 * j + 1] = 1 / centre;
    centres[3 * j + 2] = exponentialMinusOne(multiply([alpha, 0], logarithm(centre)))[0];
  }
  last = { alpha, series: seriesFor(alpha), centres };
  return last;
}

/** Binomial coefficients up to the seventh: 2^-8 to the eighth is below a double's last bit. */
function seriesFor(alpha: number): Float64Array {
  const series = new Float64Array(7);
  for (let n = 1, coefficient = 1; n <= series.length; n++) {
    coefficient *= (alpha - (n - 1)) / n;
    series[n - 1] = coefficient;
  }
  return series;
}

/**
 * Fills `out` with M^alpha − 1 of the multiples from `first` to before `end`, clamped at the ceiling, and with 0 where
 * the function is not started; gives the place of the last multiple that is negative or not finite, −1 where all are
 * good. `range` is [start, ceiling], in an array of doubles because the engine then knows them as such.
 */
export type FillPowers = (
  multiples: Float64Array,
  out: Float64Array,
  first: number,
  end: number,
  range: Float64Array,
) => number;

const MOST = 1.7976931348623157e308;

/** alpha = 1. */
export const firstPowers: FillPowers = (multiples, out, first, end, range) => {
  const [start, ceiling] = [range[0] as number, range[1] as number];
  let bad = -1;
  for (let i = first; i < end; i++) {
    const m = multiples[i] as number;
    if (!(m >= 0 && m <= MOST)) bad = i;
    out[i] = m > start ? Math.min(m, ceiling) - 1 : 0;
  }
  return bad;
};

/** alpha = 2. */
export const secondPowers: FillPowers = (multiples, out, first, end, range) => {
  const [start, ceiling] = [range[0] as number, range[1] as number];
  let bad = -1;
  for (let i = first; i < end; i++) {
    const m = multiples[i] as number;
    if (!(m >= 0 && m <= MOST)) bad = i;
    const x = Math.min(m, ceiling);
    out[i] = m > start ? (x - 1) * (x + 1) : 0;
  }
  return bad;
};

/** Below this many the table costs more than it saves. */
const WORTH_A_TABLE = 2_000;

/** Any alpha; by the table where there are enough multiples to pay for it. */
export const otherPowers = (alpha: number, count: number): FillPowers =>
  count < WORTH_A_TABLE ? plainPowers(alpha) : tabledPowers(alpha);

function plainPowers(alpha: number): FillPowers {
  return (multiples, out, first, end, range) => {
    const [start, ceiling] = [range[0] as number, range[1] as number];
    let bad = -1;
    for (let i = first; i < end; i++) {
      const m = multiples[i] as number;
      if (!(m >= 0 && m <= MOST)) bad = i;
      out[i] = m > start ? powerMinusOne(Math.min(m, ceiling), alpha) : 0;
    }
    return bad;
  };
}

function tabledPowers(alpha: number): FillPowers {
  const table = tableFor(alpha);
  return (multiples, out, first, end, range) => fillByTable(multiples, out, first, end, range, table);
}

function fillByTable(
  multiples: Float64Array,
  out: Float64Array,
  first: number,
  end: number,
  range: Float64Array,
  { alpha, series, centres }: Table,
): number {
  const [start, ceiling] = [range[0] as number, range[1] as number];
  const [a1, a2, a3, a4] = [series[0] as number, series[1] as number, series[2] as number, series[3] as number];
  const [a5, a6, a7] = [series[4] as number, series[5] as number, series[6] as number];
  // The top bits are read where the multiples stand; which half of a double has them differs between machines.
  const words = new Int32Array(multiples.buffer, multiples.byteOffset, 2 * multiples.length);
  const high = new Int32Array(Float64Array.of(1).buffer)[1] === HIGH_WORD_OF_ONE ? 1 : 0;
  const atCeiling = powerMinusOne(ceiling, alpha);
  let bad = -1;
  for (let i = first; i < end; i++) {
    const m = multiples[i] as number;
    const j = ((words[2 * i + high] as number) - HIGH_WORD_OF_ONE) >> SHIFT;
    if (m > start && m < ceiling && j < SIZE) {
      const r = (m - (centres[3 * j] as number)) * (centres[3 * j + 1] as number);
      const p = centres[3 * j + 2] as number;
      const r2 = r * r;
      const q = r * (a1 + r * a2 + r2 * (a3 + r * a4) + r2 * r2 * (a5 + r * a6 + r2 * a7));
      out[i] = p + (q + p * q);
    } else {
      if (!(m >= 0 && m <= MOST)) bad = i;
      out[i] = m > start ? (m < ceiling ? powerMinusOne(m, alpha) : atCeiling) : 0;
    }
  }
  return bad;
}
