/** Transformers within a differential zone: vector groups, zero sequence, and the currents that are compared. */
import { above, fail, nameIn, object, options, whole } from "../base/check.js";
import type { Degrees } from "../base/units.js";
import { add, type Phases, type Phasor, scale } from "../phasor/index.js";
import { phasorAt } from "./phasor-at.js";

type Row = readonly [number, number, number];
/** What each compensated phase takes of the phases, before the common factor. */
type Matrix = readonly [Row, Row, Row];

/** How the currents of one side are compensated. */
export interface Compensation {
  /** The clock number by which this side lags the reference side (IEC 60076-1): 30° each, from 0 to 11. */
  readonly clock: number;
  /**
   * Whether the zero sequence is taken out of an even clock number, as for a star winding whose neutral is earthed within the
   * zone. Odd ones never pass it. Default `"removed"`.
   */
  readonly zeroSequence?: "kept" | "removed";
}

/**
 * How much a side lags its reference side, by the clock number of its vector group: 30° for each hour.
 *
 * @returns Degrees from 0 to 330.
 * @throws A {@link InputError} for a clock number that is no whole number from 0 to 11.
 * Accuracy: exact.
 * @source IEC 60076-1 (clock notation)
 *
 * @example
 * import { lagOfClock } from "tripwright/characteristic";
 * lagOfClock(11); // → 330
 */
export const lagOfClock = (clock: number): Degrees => 30 * whole(clock, [0, 11], "clock", "a clock number");

/**
 * The currents of a side of a transformer turned forward by what its clock number lags, so that they stand against those
 * of the reference side: 1/√3 of differences of phases for odd clock numbers, phases in another order (and with another
 * sign) for even ones, with or without their zero sequence.
 *
 * Positive sequence turns by +30° · clock, negative sequence by −30° · clock, both keep their size.
 *
 * @param currents - Of the side, counted into the zone, in A or per unit of the side's own rated current.
 * @throws A {@link InputError} for phasors that are none, a clock number that is no whole number from 0 to 11, and unknown
 * keys.
 * Accuracy: that of phasor arithmetic.
 * @source IEC 60076-1 (clock numbers); delta-type matrices: common practice
 *
 * @example
 * import { compensated } from "tripwright/characteristic";
 * import { angle, threePhase } from "tripwright/phasor";
 * angle(compensated(threePhase(1, -30), { clock: 1 }).a).toFixed(6); // → "0.000000"
 */
export function compensated(currents: Phases, how: Compensation): Phases {
  const { clock, zeroSequence = "removed" } = options(how, ["clock", "zeroSequence"]);
  whole(clock, [0, 11], "clock", "a clock number");
  nameIn(zeroSequence, { kept: 1, removed: 1 }, "zeroSequence");
  const { matrix, factor } = matrixOf(clock, zeroSequence);
  object(currents, "currents", "three phasors { a, b, c }");
  const [a, b, c] = [phasorAt(currents.a, "a"), phasorAt(currents.b, "b"), phasorAt(currents.c, "c")];
  const taken = ([ofA, ofB, ofC]: Row): Phasor => scale(add(add(scale(a, ofA), scale(b, ofB)), scale(c, ofC)), factor);
  return { a: taken(matrix[0]), b: taken(matrix[1]), c: taken(matrix[2]) };
}

const INVERSE_SQRT3 = 0.5773502691896258;

/** The first row says all: each next phase takes the same of the phases in turn. */
function matrixOf(
  clock: number,
  zeroSequence: "kept" | "removed",
): { readonly matrix: Matrix; readonly factor: number } {
  const isOdd = clock % 2 === 1;
  const row = isOdd ? (ODD[(clock - 1) / 2] as Row) : evenRow(clock / 2, zeroSequence);
  const [x, y, z] = row;
  const factor = isOdd ? INVERSE_SQRT3 : zeroSequence === "removed" ? 1 / 3 : 1;
  return { matrix: [row, [z, x, y], [y, z, x]], factor };
}

/** +30°, +90°, … of the positive sequence. */
const ODD: readonly Row[] = [
  [1, -1, 0],
  [0, -1, 1],
  [-1, 0, 1],
  [-1, 1, 0],
  [0, 1, -1],
  [1, 0, -1],
];

/** 0°, +60°, …: one phase, or twice the phase less the other two, which has no zero sequence. */
const EVEN: readonly Row[] = [
  [1, 0, 0],
  [0, -1, 0],
  [0, 0, 1],
  [-1, 0, 0],
  [0, 1, 0],
  [0, 0, -1],
];

function evenRow(sixth: number, zeroSequence: "kept" | "removed"): Row {
  const row = EVEN[sixth] as Row;
  if (zeroSequence === "kept") return row;
  const total = row[0] + row[1] + row[2];
  return row.map((share) => 3 * share - total) as unknown as Row;
}

/** One side of a transformer. */
export interface TransformerSide {
  /** Rated power in VA. */
  readonly power: number;
  /** Rated voltage of the side, line to line, in V. */
  readonly voltage: number;
  /** Primary over secondary of its current transformers. */
  readonly ctRatio: number;
}

/**
 * The current in the secondary circuit of a side at rated power: what is 1 per unit for a differential function.
 *
 *     power/(√3 · voltage)/ctRatio
 *
 * @returns In A.
 * @throws A {@link InputError} for values that are not above 0.
 * Accuracy: 3 units in the last place.
 * @source definition
 *
 * @example
 * import { ratedSecondaryCurrent } from "tripwright/characteristic";
 * ratedSecondaryCurrent({ power: 30e6, voltage: 69e3, ctRatio: 60 }).toFixed(3); // → "4.184"
 */
export function ratedSecondaryCurrent(side: TransformerSide): number {
  const { power, voltage, ctRatio } = options(side, ["power", "voltage", "ctRatio"]);
  above(power, 0, "power", "a rated power", "VA");
  above(voltage, 0, "voltage", "a rated voltage", "V");
  above(ctRatio, 0, "ctRatio", "a ratio");
  const current = power / Math.sqrt(3) / voltage / ctRatio;
  return current > 0 && Number.isFinite(current)
    ? current
    : fail("out-of-range", "power", "a current within the range of a double", power);
}
