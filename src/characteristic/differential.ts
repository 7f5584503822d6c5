/** Differential functions: the operate–restraint plane, x = restraint, y = operating current, both in A or per unit. */
import type { Answer } from "../base/answer.js";
import { above, atLeast, fail, finite, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { add, magnitude, type Phasor, subtract } from "../phasor/index.js";
import { phasorAt } from "./phasor-at.js";
import type { Above, Point } from "./region.js";

/**
 * How the restraint is made of the currents into the zone: half of the sum of their magnitudes (`average`), the sum, the
 * largest, or half of the magnitude of the difference of two (`difference`). Slopes of one are not those of another.
 */
export type Restraint = "average" | "sum" | "maximum" | "difference";

const RESTRAINTS: { readonly [R in Restraint]: (currents: readonly Phasor[]) => number } = {
  average: (currents) => sum(currents) / 2,
  sum: (currents) => sum(currents),
  maximum: (currents) => Math.max(...currents.map(magnitude)),
  difference: ([one, other]) => magnitude(subtract(one as Phasor, other as Phasor)) / 2,
};

const sum = (currents: readonly Phasor[]): number => currents.map(magnitude).reduce((a, b) => a + b);

/**
 * Where the currents of one phase put a differential function: operating current |Σ i| over its restraint.
 *
 * @param currents - All counted into the zone, compensated, in A or per unit; two for `difference`, two or more otherwise.
 * @throws A {@link InputError} for fewer currents than two, more than two for `difference`, phasors that are none, and an
 * unknown restraint.
 * Accuracy: that of phasor arithmetic.
 * @source common practice
 *
 * @example
 * import { differentialPoint } from "tripwright/characteristic";
 * const currents = [{ re: 4, im: 0 }, { re: -3.8, im: 0 }];
 * const { x, y } = differentialPoint(currents, "average");
 * [x, y.toFixed(3)]; // → [3.9, "0.200"]
 */
export function differentialPoint(currents: readonly Phasor[], restraint: Restraint): Point {
  const restrained = RESTRAINTS[nameIn(restraint, RESTRAINTS, "restraint")];
  if (!Array.isArray(currents)) fail("wrong-type", "currents", "a list of phasors", currents);
  if (currents.length < 2 || (restraint === "difference" && currents.length > 2))
    fail(
      "wrong-length",
      "currents",
      `${restraint === "difference" ? "two" : "at least two"} currents`,
      currents.length,
    );
  const all = [...currents].map((current, i) => phasorAt(current, `currents[${i}]`));
  return within("currents", () => ({ x: restrained(all), y: magnitude(all.reduce(add)) }));
}

/** A slope of a differential characteristic. */
export interface RestraintSlope {
  /** Rise over rise: 0.25 for 25 %. */
  readonly slope: number;
  /**
   * Where its line goes: through the origin, so that it begins where it passes the pickup (or, for the second slope, with
   * a step at its beginning), or on from the knee at which it begins.
   */
  readonly line: "through-origin" | "from-knee";
  /** The restraint at which it begins; needed by a slope from a knee and by a second slope. */
  readonly begins?: number;
}

/** A percentage-restrained differential characteristic. */
export interface DifferentialCharacteristic {
  /** The least operating current, above 0. */
  readonly pickup: number;
  /** One or two, in the order in which they begin. */
  readonly slopes: readonly RestraintSlope[];
  /** The operating current above which nothing restrains. */
  readonly unrestrained?: number;
}

/**
 * The region of the operate–restraint plane in which a differential function operates: above the pickup, above its slopes,
 * and above its unrestrained stage whatever the restraint.
 *
 * @throws A {@link InputError} for a pickup, slope or beginning that is not above 0 (a first slope from a knee may begin at 0),
 * more than two slopes, beginnings out of order, and an unrestrained stage not above the pickup.
 * Accuracy: corners are products of what was given.
 * @source common practice; pickup plus slope and slope through the origin both appear in Chakrabarti et al., A Text Book on
 * Power System Engineering, examples 7.6 and 8.4
 *
 * @example
 * import { boundaryAlong, differentialRegion } from "tripwright/characteristic";
 * const region = differentialRegion({
 *   pickup: 0.3,
 *   slopes: [{ slope: 0.25, line: "through-origin" }, { slope: 0.6, line: "from-knee", begins: 2 }],
 * });
 * region.points; // → [{ x: 1.2, y: 0.3 }, { x: 2, y: 0.5 }]
 * boundaryAlong(region, { from: { x: 3, y: 0 }, angle: 90 }); // → [1.1]
 */
export function differentialRegion(characteristic: DifferentialCharacteristic): Above {
  const { pickup, slopes, unrestrained } = options(characteristic, ["pickup", "slopes", "unrestrained"]);
  above(pickup, 0, "pickup", "an operating current");
  if (!Array.isArray(slopes)) fail("wrong-type", "slopes", "a list of slopes { slope, line, begins }", slopes);
  if (slopes.length > 2) fail("too-many", "slopes", "one or two slopes", slopes.length);
  let line: Above = { form: "above", points: [{ x: 0, y: pickup }], slope: 0 };
  for (const [i, slope] of slopes.entries()) line = within(`slopes[${i}]`, () => bent(line, slope, i === 0));
  checkCorners(line);
  if (unrestrained === undefined) return withoutStart(line);
  if (!(above(unrestrained, 0, "unrestrained", "an operating current") > pickup))
    fail("out-of-range", "unrestrained", `an operating current above the pickup of ${pickup}`, unrestrained);
  const limited = capped(line, unrestrained);
  checkCorners(limited);
  return withoutStart(limited);
}

function checkCorners({ points }: Above): void {
  for (const { x, y } of points) finite(x + y, "slopes", "slopes whose corners fit a double");
}

const LINES = { "through-origin": 1, "from-knee": 1 } as const;

/** A line that goes on with another slope. */
function bent(line: Above, given: RestraintSlope, isFirst: boolean): Above {
  const { slope, begins } = options(given, ["slope", "line", "begins"]);
  above(slope, 0, "slope", "rise over rise");
  const kind = nameIn(given.line, LINES, "line");
  const last = line.points.at(-1) as Point;
  if (begins === undefined) {
    if (!isFirst || kind === "from-knee") fail("missing", "begins", "the restraint at which it begins", begins);
    return { ...line, points: [{ x: last.y / slope, y: last.y }], slope };
  }
  atLeast(begins, last.x, "begins", "a restraint at which the slope before has begun");
  const y = last.y + line.slope * (begins - last.x);
  const knee = { x: begins, y };
  const onward = kind === "from-knee" ? [] : [{ x: begins, y: Math.max(y, slope * begins) }];
  // A line through the origin that is still below the level goes on level to where it passes it.
  const meets = kind === "through-origin" && slope * begins < y ? [{ x: y / slope, y }] : onward;
  const points = [...line.points, knee, ...meets].filter((point, i, all) => !isSame(point, all[i - 1]));
  return { ...line, points, slope };
}

const isSame = (a: Point, b: Point | undefined): boolean => b !== undefined && a.x === b.x && a.y === b.y;

/** Level above a height. */
function capped({ points, slope, ...rest }: Above, height: number): Above {
  const below = points.filter(({ y }) => y < height);
  const [last, next] = [below.at(-1) as Point, points[below.length]];
  const rise = next === undefined ? slope : (next.y - last.y) / (next.x - last.x);
  if (rise === 0) return { ...rest, points: below, slope };
  const x = Number.isFinite(rise) ? last.x + (height - last.y) / rise : last.x;
  return { ...rest, points: [...below, { x, y: height }], slope: 0 };
}

/** The level at the left of the first bend needs no point of its own. */
function withoutStart({ points, ...rest }: Above): Above {
  const [first, second] = points;
  return { ...rest, points: second !== undefined && second.y === (first as Point).y ? points.slice(1) : points };
}

/**
 * The currents of two sides, in antiphase, that put a differential function at a point: `first` in phase with the
 * reference, `second` against it (0 or negative), both counted into the zone.
 *
 * @returns In the unit of the point. None with `"beyond-one-side"` where even the current of one side alone has more restraint
 * for so much operating current.
 * @throws A {@link InputError} for an operating current below 0, a restraint that is not above 0, and an unknown restraint.
 * Accuracy: 2 units in the last place.
 * @source definition
 *
 * @example
 * import { differentialCurrents } from "tripwright/characteristic";
 * differentialCurrents({ x: 4, y: 1 }, "average"); // → { kind: "found", first: 4.5, second: -3.5 }
 * differentialCurrents({ x: 4, y: 1 }, "maximum"); // → { kind: "found", first: 4, second: -3 }
 * differentialCurrents({ x: 1, y: 3 }, "average"); // → { kind: "none", reason: "beyond-one-side" }
 */
export function differentialCurrents(
  point: Point,
  restraint: Restraint,
): Answer<{ readonly first: number; readonly second: number }, "beyond-one-side"> {
  const { x, y } = object(point, "point", "a point { x, y }");
  above(x, 0, "x", "a restraint");
  atLeast(y, 0, "y", "an operating current");
  const name = nameIn(restraint, RESTRAINTS, "restraint");
  // The restraint is `share` of |first| + |second|, or |first| itself.
  const first = name === "maximum" ? x : name === "sum" ? (x + y) / 2 : x + y / 2;
  const second = finite(y - first, "x", "a restraint whose currents fit a double");
  return second > 0 ? { kind: "none", reason: "beyond-one-side" } : { kind: "found", first, second: second + 0 };
}
