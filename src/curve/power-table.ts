/**
 * The table behind the powers of a batch: 128 cells in each octave from 1 to 256, and for the centre c of each c^alpha − 1,
 * right to the last bit of a double. It is made in sums of two doubles with + − × ÷ alone, so that every engine gets the
 * same bits. From one centre to the next leads the binomial series, from one octave to the next the power of 2:
 *
 *     (a · b)^alpha − 1 = A + B + A · B,   A = a^alpha − 1,   B = b^alpha − 1
 */
import { add, type Double2, divide, multiply } from "../base/double-double.js";

/** Cells in an octave, 2^7: the seven top bits of a mantissa tell them apart. A literal, so that bundlers can drop it. */
const OCTAVE = 128;
const CELLS = 1_024; // 8 octaves
/** Where the table ends. */
export const TABLE_END = 256;

export interface PowerTable {
  readonly alpha: number;
  /** The coefficients of (1 + r)^alpha − 1 from r on. */
  readonly series: Float64Array;
  /** Centre, its reciprocal and its power − 1, one after the other for each cell. */
  readonly cells: Float64Array;
}

/** The table of the last alpha; made anew from the same numbers whenever another is asked for. */
let last: PowerTable | undefined;

export function powerTable(alpha: number): PowerTable {
  if (last?.alpha === alpha) return last;
  const series = binomialSeries(alpha);
  const powers = powersOfOneOctave(alpha, series);
  const cells = new Float64Array(3 * CELLS);
  let ofOctave: Double2 = [0, 0];
  for (let j = 0; j < CELLS; j++) {
    const centre = 2 ** Math.floor(j / OCTAVE) * centreOf(j % OCTAVE);
    cells[3 * j] = centre;
    cells[3 * j + 1] = 1 / centre;
    cells[3 * j + 2] = ofProduct(ofOctave, powers[j % OCTAVE] as Double2)[0];
    if ((j + 1) % OCTAVE === 0) ofOctave = ofProduct(ofOctave, powers[OCTAVE] as Double2);
  }
  last = { alpha, series, cells };
  return last;
}

/** The first centre is exactly 1: near the setting r = M − 1 is exact, and nothing cancels. The last is 2. */
function centreOf(cell: number): number {
  if (cell === 0) return 1;
  return cell === OCTAVE ? 2 : 1 + (cell + 0.5) / OCTAVE;
}

/** Only the first term of a step, (1 + r)^alpha − 1, needs the sum of two doubles: the others are a hundredth of it. */
function powersOfOneOctave(alpha: number, series: Float64Array): Double2[] {
  const powers: Double2[] = [[0, 0]];
  for (let cell = 1; cell <= OCTAVE; cell++) {
    const before = centreOf(cell - 1);
    const r = divide([centreOf(cell) - before, 0], [before, 0]);
    const others = series.reduceRight((sum, coefficient, n) => (n === 0 ? sum : (sum + coefficient) * r[0]), 0) * r[0];
    powers.push(ofProduct(powers[cell - 1] as Double2, add(multiply([alpha, 0], r), [others, 0])));
  }
  return powers;
}

const ofProduct = (a: Double2, b: Double2): Double2 => add(add(a, b), multiply(a, b));

/** With r below 1/80, in a cell and from centre to centre, what eight coefficients leave out is below 2^-54 of the sum. */
function binomialSeries(alpha: number): Float64Array {
  const series = new Float64Array(8);
  for (let n = 1, coefficient = 1; n <= series.length; n++) {
    coefficient *= (alpha - (n - 1)) / n;
    series[n - 1] = coefficient;
  }
  return series;
}
