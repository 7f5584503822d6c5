/**
 * Times of any exponent for many multiples: M = c · (1 + r) with a centre c from the top bits of the double, so that
 *
 *     M^alpha − 1 = (c^alpha − 1) + c^alpha · ((1 + r)^alpha − 1)
 *
 * needs one look into a table and one short polynomial. The plain formula is `powerMinusOne`.
 */
import { powerMinusOne } from "./power.js";
import { type PowerTable, powerTable, TABLE_END } from "./power-table.js";

const HIGH_WORD_OF_ONE = 0x3ff00000;
/** Which half of a double has its top bits, which are read where the multiples stand: machines differ in it. */
const HIGH = /* @__PURE__ */ highHalf();

function highHalf(): 0 | 1 {
  return new Int32Array(Float64Array.of(1).buffer)[1] === HIGH_WORD_OF_ONE ? 1 : 0;
}

/**
 * Fills `times`, another array, with k/(M^alpha − 1) + c; `numbers` begins with k and c. False, with the times unfinished,
 * where a multiple is below 1 or not finite.
 */
export function fillByPowers(
  multiples: Float64Array,
  times: Float64Array,
  alpha: number,
  numbers: Float64Array,
): boolean {
  if (fillByTable(multiples, times, powerTable(alpha), numbers)) return true;
  const [k, c] = [numbers[0] as number, numbers[1] as number];
  for (let i = 0; i < multiples.length; i++) {
    const m = multiples[i] as number;
    if (!(m >= 1 && m < Number.POSITIVE_INFINITY)) return false;
    if (m >= TABLE_END) times[i] = k / powerMinusOne(m, alpha) + c;
  }
  return true;
}

/** Whether all multiples are in the table. One that is not gets some number: its bits are masked, no branch skips it. */
function fillByTable(
  multiples: Float64Array,
  times: Float64Array,
  { series, cells }: PowerTable,
  numbers: Float64Array,
): boolean {
  const k = numbers[0] as number;
  const c = numbers[1] as number;
  const a1 = series[0] as number;
  const a2 = series[1] as number;
  const a3 = series[2] as number;
  const a4 = series[3] as number;
  const a5 = series[4] as number;
  const a6 = series[5] as number;
  const a7 = series[6] as number;
  const a8 = series[7] as number;
  const words = new Int32Array(multiples.buffer, multiples.byteOffset, 2 * multiples.length);
  // Engines know what these are within the function, but not what a module has for them once it is bundled.
  const high = HIGH;
  const one = HIGH_WORD_OF_ONE;
  const shift = 13; // of the 20 bits of the mantissa in the high word all but the seven that tell the cells apart
  const mask = 1_023; // the number of cells − 1
  let seen = 0; // the bits of all cells: others than those of the table below 1, from its end on, and where not finite
  const last = multiples.length - 1;
  for (let i = 0; i <= last; i += 2) {
    const j = Math.min(i + 1, last);
    const m = multiples[i] as number;
    const n = multiples[j] as number;
    const cell = ((words[2 * i + high] as number) - one) >> shift;
    const next = ((words[2 * j + high] as number) - one) >> shift;
    seen |= cell | next;
    const place = 3 * (cell & mask);
    const r = (m - (cells[place] as number)) * (cells[place + 1] as number);
    const p = cells[place + 2] as number;
    const r2 = r * r;
    const q = r * (a1 + r * a2 + r2 * (a3 + r * a4) + r2 * r2 * (a5 + r * a6 + r2 * (a7 + r * a8)));
    const other = 3 * (next & mask);
    const s = (n - (cells[other] as number)) * (cells[other + 1] as number);
    const u = cells[other + 2] as number;
    const s2 = s * s;
    const v = s * (a1 + s * a2 + s2 * (a3 + s * a4) + s2 * s2 * (a5 + s * a6 + s2 * (a7 + s * a8)));
    times[i] = k / (p + (q + p * q)) + c;
    times[j] = k / (u + (v + u * v)) + c;
  }
  return (seen & ~mask) === 0;
}
