import {
  boundaryAlong,
  comparedOf,
  compensated,
  differentialCurrents,
  differentialPoint,
  differentialRegion,
  directionalProduct,
  earthFactor,
  earthRatios,
  lagOfClock,
  loopImpedance,
  mho,
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
