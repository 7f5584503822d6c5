import {
  advanceAngle,
  boundaryAlong,
  comparedOf,
  compensated,
  differentialCurrents,
  differentialPoint,
  differentialRegion,
  directionalProduct,
  distanceTo,
  earthFactor,
  earthRatios,
  heightAt,
  lagOfClock,
  loopImpedance,
  mho,
  mostSlip,
  voltagesApart,
} from "tripwright/characteristic";
import { threePhase } from "tripwright/phasor";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const v = threePhase(63.5);
const k0 = { re: 0.5, im: 0 };
const absent = undefined as never;
const { a: one } = v;

// Found by npm run fuzz: these were TypeErrors.
test.each<readonly [string, () => unknown, string]>([
  ["comparedOf without voltages", () => comparedOf({ v: absent, i: v, polarising: "-3V0" }), "v"],
  ["comparedOf without currents", () => comparedOf({ v, i: absent, polarising: "self", phase: "a" }), "i"],
  ["loopImpedance without currents", () => loopImpedance({ v, i: absent, loop: "a", k0 }), "i"],
  ["loopImpedance without voltages", () => loopImpedance({ v: absent, i: v, loop: "ab" }), "v"],
  ["compensated without currents", () => compensated(absent, { clock: 1 }), "currents"],
  ["differentialCurrents without a point", () => differentialCurrents(absent, "sum"), "point"],
  ["differentialPoint of holes", () => differentialPoint(new Array(5), "sum"), "currents"],
  ["directionalProduct of nothing", () => directionalProduct(absent, 0), "compared"],
  [
    "directionalProduct without an angle",
    () => directionalProduct({ operating: one, polarising: one }, absent),
    "characteristicAngle",
  ],
  ["earthFactor of nothing", () => earthFactor(absent), "line"],
  ["earthRatios of nothing", () => earthRatios(absent), "line"],
])("%s is refused", (_what, work, path) => {
  expect(problemsOf(work)[0]?.path).toContain(path);
});

// What is no number is told where it stands, and not by the name of an argument of the arithmetic.
const odd = { re: Number.NaN, im: 0 };
test.each<readonly [string, () => unknown]>([
  ["v.c.re", () => comparedOf({ v: { ...v, c: odd }, i: v, polarising: "quadrature", phase: "a" })],
  ["v.a.re", () => comparedOf({ v: { ...v, a: odd }, i: v, polarising: "self", phase: "a" })],
  ["i.b.re", () => comparedOf({ v, i: { ...v, b: odd }, polarising: "3V0" })],
  ["i.b.re", () => comparedOf({ v, i: { ...v, b: odd }, polarising: "-V2" })],
  ["operating.re", () => directionalProduct({ operating: odd, polarising: one }, 0)],
  ["polarising.re", () => directionalProduct({ operating: one, polarising: odd }, 0)],
  ["b.re", () => compensated({ ...v, b: odd }, { clock: 1 })],
  ["currents[1].re", () => differentialPoint([one, odd], "sum")],
  ["z1.re", () => earthFactor({ z1: odd, z0: one })],
  ["z0.re", () => earthFactor({ z1: one, z0: odd })],
  ["z1", () => earthFactor({ z1: { re: 0, im: 0 }, z0: one })],
  ["z0.re", () => earthRatios({ z1: one, z0: odd })],
  ["incoming.re", () => voltagesApart({ incoming: odd, running: one })],
  ["running.re", () => voltagesApart({ incoming: one, running: odd })],
])("%s", (path, work) => {
  expect(problemsOf(work)).toMatchObject([{ path }]);
});

// Sizes whose result no double holds were answered with Infinity or NaN.
const far = 1e308;
const triangle = [
  { x: -far, y: 0 },
  { x: far, y: 0 },
  { x: 0, y: far },
];
test.each<readonly [string, () => unknown]>([
  ["slip", () => advanceAngle({ slip: 1e300, closingTime: 1e300 })],
  ["timer", () => mostSlip({ window: 1e300, timer: 1e-300 })],
  ["x", () => differentialCurrents({ x: far, y: 1.7e308 }, "average")],
  ["x", () => heightAt({ form: "above", points: [{ x: 0, y: far }], slope: far }, far)],
  ["point", () => distanceTo({ form: "circle", center: { x: far, y: 0 }, radius: 1 }, { x: -far, y: 0 })],
  ["point", () => distanceTo({ form: "polygon", corners: triangle }, { x: 0, y: -far })],
])("a result beyond a double is refused: %s", (path, work) => {
  expect(problemsOf(work)).toMatchObject([{ path }]);
});

test("earth ratios beyond a double are refused", () => {
  const line = { z1: { re: 0.1, im: 0.4 }, z0: { re: Number.MAX_VALUE, im: 1.3 } };
  expect(problemsOf(() => earthRatios(line))).toHaveLength(1);
});

test("a circle or a corner beyond a double is refused", () => {
  const circle = { form: "circle", center: { x: 1, y: 5 }, radius: Number.MAX_VALUE } as const;
  expect(problemsOf(() => boundaryAlong(circle, { angle: 45 }))[0]?.path).toBe("region");
  const slopes = [{ slope: Number.MIN_VALUE, line: "through-origin" }] as const;
  expect(problemsOf(() => differentialRegion({ pickup: 0.2, slopes }))[0]?.path).toBe("slopes");
});

test("no −0 comes out", () => {
  expect(lagOfClock(-0)).toBe(0);
  expect(mho({ reach: 8, angle: 90, reverse: 90 }).center.x).toBe(0);
  const corners = [
    { x: 0, y: 0 },
    { x: 4, y: 4 },
    { x: -4, y: 8 },
  ];
  expect(boundaryAlong({ form: "polygon", corners }, { angle: 60 })[0]).toBe(0);
});
