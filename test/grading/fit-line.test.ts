/** Least-squares lines; the thermometer of the GUM stands in test/published/grading/line.json. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { fitLine, type Line, type LinePoint, valueOnLine } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 80 });

/** Points at different places, with a scatter that is not lost in the rounding of their values. */
const clouds = fc.uniqueArray(
  fc.record({ x: fc.integer({ min: -500, max: 500 }), y: fc.integer({ min: -99, max: 99 }) }),
  {
    minLength: 3,
    maxLength: 12,
    selector: ({ x }) => x,
  },
);

function lineOf(points: readonly LinePoint[]): Line {
  const line = fitLine(points);
  if (line.kind === "none") throw new Error(line.reason);
  return line;
}

/** JCGM 100:2008 H.13a to H.13g, as they stand, in 80 digits. */
function formulas(points: readonly LinePoint[], at: number) {
  const [n, xs, ys] = [points.length, points.map(({ x }) => new D(x)), points.map(({ y }) => new D(y))];
  const sum = (term: (x: Decimal, y: Decimal) => Decimal) =>
    xs.reduce((total, x, i) => total.plus(term(x, ys[i] as Decimal)), new D(0));
  const [sx, sy, sxx, sxy] = [sum((x) => x), sum((_, y) => y), sum((x) => x.times(x)), sum((x, y) => x.times(y))];
  const determinant = sxx.times(n).minus(sx.times(sx));
  const intercept = sy.times(sxx).minus(sxy.times(sx)).div(determinant);
  const slope = sxy.times(n).minus(sx.times(sy)).div(determinant);
  const squares = sum((x, y) => y.minus(intercept).minus(slope.times(x)).pow(2)).div(n - 2);
  const [varianceOfIntercept, varianceOfSlope] = [
    squares.times(sxx).div(determinant),
    squares.times(n).div(determinant),
  ];
  const correlation = sx.neg().div(sxx.times(n).sqrt());
  const variance = varianceOfIntercept.plus(varianceOfSlope.times(at).times(at)).plus(
    varianceOfIntercept
      .times(varianceOfSlope)
      .sqrt()
      .times(correlation)
      .times(2 * at),
  );
  return {
    intercept,
    slope,
    interceptStandard: varianceOfIntercept.sqrt(),
    slopeStandard: varianceOfSlope.sqrt(),
    correlation,
    residual: squares.sqrt(),
    value: intercept.plus(slope.times(at)),
    standard: variance.lt(0) ? new D(0) : variance.sqrt(),
  };
}

const apart = (ours: number, exact: Decimal, scale: Decimal.Value): number =>
  new D(ours).minus(exact).abs().div(new D(scale).plus("1e-30")).toNumber();

describe("a least-squares line", () => {
  test("is that of the formulas of the GUM in 80 digits, near x = 0 and as far off as the year 2026 or a thousand times that", () => {
    const places = fc.constantFrom(0, 2026, 2e6);
    holds(
      fc.property(clouds, places, fc.integer({ min: -900, max: 900 }), (cloud, far, beyond) => {
        const points = cloud.map(({ x, y }) => ({ x: far + x / 8, y: y / 16 }));
        const [line, at] = [lineOf(points), far + beyond / 8];
        const exact = formulas(points, at);
        fc.pre(exact.residual.gt(1e-6));
        const [value, rise] = [valueOnLine(line, at), exact.slope.abs().plus(1)];
        expect(apart(line.slope, exact.slope, rise)).toBeLessThan(4e-15);
        // Three points nearly on a line leave a scatter that is small beside the last digits of their y.
        const ys = points.map(({ y }) => y);
        const lost = 4e-15 * (1 + (Math.max(...ys) - Math.min(...ys)) / exact.residual.toNumber());
        expect(apart(line.intercept, exact.intercept, rise.times(far + 100))).toBeLessThan(4e-15);
        for (const name of ["interceptStandard", "slopeStandard", "residual"] as const)
          expect(apart(line[name], exact[name], exact[name])).toBeLessThan(lost);
        expect(apart(line.correlation, exact.correlation, 1)).toBeLessThan(1e-15);
        // A middle that is off by half its last digit, 1.2e-10 of 2e6, moves the place by as much.
        expect(apart(value.value, exact.value, rise.times(100 + far * 1e-2))).toBeLessThan(1e-13);
        expect(apart(value.standard, exact.standard, exact.standard)).toBeLessThan(lost + far * 1e-14);
      }),
    );
  });

  test("through points on a line is that line", () => {
    const number = fc.integer({ min: -1000, max: 1000 });
    holds(
      fc.property(clouds, number, number, (cloud, intercept, slope) => {
        const line = lineOf(cloud.map(({ x }) => ({ x, y: intercept + slope * x })));
        expect(Math.abs(line.slope - slope)).toBeLessThan(1e-11);
        expect(Math.abs(line.intercept - intercept)).toBeLessThan(1e-9);
        expect(line.residual).toBeLessThan(1e-9);
      }),
    );
  });

  test("moves with its points, and scales with them, to sizes whose squares are beyond doubles", () => {
    const powers = fc.constantFrom(-600, -40, 4, 600);
    holds(
      fc.property(clouds, powers, powers, (cloud, powerOfX, powerOfY) => {
        const [across, up] = [2 ** powerOfX, 2 ** (powerOfY / 2)];
        const [plain, scaled] = [lineOf(cloud), lineOf(cloud.map(({ x, y }) => ({ x: x * across, y: y * up })))];
        fc.pre(plain.residual > 1e-6);
        expect(scaled.slope / up).toBe(plain.slope / across);
        expect(scaled.intercept).toBe(plain.intercept * up);
        expect(scaled.slopeStandard / up).toBe(plain.slopeStandard / across);
        expect(scaled.correlation).toBe(plain.correlation);
      }),
    );
  });

  test("keeps its residual to sizes whose squares are beyond doubles", () => {
    holds(
      fc.property(clouds, fc.constantFrom(-700, 700), (cloud, power) => {
        const scaled = lineOf(cloud.map(({ x, y }) => ({ x, y: y * 2 ** power })));
        expect(scaled.residual / 2 ** power).toBe(lineOf(cloud).residual);
      }),
    );
  });

  test("is known best in the middle of its points, as well as their mean", () => {
    holds(
      fc.property(clouds, fc.integer({ min: 1, max: 100 }), (cloud, away) => {
        const line = lineOf(cloud);
        const { value, standard } = valueOnLine(line, line.middle.x);
        expect(value).toBe(line.middle.y);
        expect(standard).toBe(line.residual / Math.sqrt(cloud.length));
        expect(valueOnLine(line, line.middle.x + away).standard).toBeGreaterThanOrEqual(standard);
      }),
    );
  });

  test("has no minus zero, and survives JSON", () => {
    const line = lineOf([1, 2, 3].map((x) => ({ x: x - 2, y: 0 })));
    expect(line).toEqual({
      kind: "found",
      intercept: 0,
      slope: 0,
      interceptStandard: 0,
      slopeStandard: 0,
      correlation: 0,
      middle: { x: 0, y: 0 },
      residual: 0,
      degreesOfFreedom: 1,
    });
    expect(valueOnLine(JSON.parse(JSON.stringify(line)), -1)).toEqual({ value: 0, standard: 0 });
  });

  test("that falls less than a double can say has a slope of 0, not −0", () => {
    expect(lineOf([-1e300, 0, 1e300].map((x) => ({ x, y: Math.sign(x) * -1e-300 }))).slope).toBe(0);
  });

  test("through points above one another is none", () => {
    expect(fitLine([1, 2, 3].map((y) => ({ x: 1, y })))).toEqual({ kind: "none", reason: "all-at-one-x" });
  });

  const around = (point: unknown) => [{ x: 1, y: 1 }, point, { x: 3, y: 1 }];
  test.each([
    [undefined, "missing", "points"],
    [null, "wrong-type", "points"],
    ["123", "wrong-type", "points"],
    [[1, 2].map((x) => ({ x, y: 1 })), "wrong-length", "points"],
    [around({ x: 2, y: Number.NaN }), "not-finite", "points[1].y"],
    [around({ x: "2", y: 1 }), "wrong-type", "points[1].x"],
    [around(null), "wrong-type", "points[1]"],
    [around(undefined), "missing", "points[1]"],
    [[-1.7e308, 1.7e308, -1.7e308].map((y, x) => ({ x, y })), "out-of-range", "points"],
    [[1.7e308, -1.7e308, -1.7e308].map((x) => ({ x, y: 1 })), "out-of-range", "points"],
  ])("%j is refused as %s at %s", (given, code, path) => {
    expect(problemsOf(() => fitLine(given as never))).toMatchObject([{ code, path }]);
  });

  const line = lineOf(around({ x: 2, y: 5 }) as LinePoint[]);
  test.each([
    [line, Number.NaN, "x"],
    [line, "1", "x"],
    [undefined, 1, "line"],
    [{}, 1, "middle"],
    [{ ...line, middle: { x: 1 } }, 1, "middle.y"],
    [{ ...line, slope: Number.NaN }, 1, "slope"],
    [{ ...line, residual: -1 }, 1, "residual"],
    [{ ...line, slopeStandard: undefined }, 1, "slopeStandard"],
    [{ ...line, slope: 1e200 }, 1e200, "x"],
  ])("the value of %j at %j is refused at %s", (given, x, path) => {
    expect(problemsOf(() => valueOnLine(given as never, x as never))).toMatchObject([{ path }]);
  });
});
