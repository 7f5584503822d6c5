import { earthFactor } from "tripwright/characteristic";
import { distanceZone } from "tripwright/element";
import { polar } from "tripwright/phasor";
import { plan, readSheet, settingsOf } from "tripwright/plan";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { distance21, distanceZone2, read, tanneryLane } from "../support/sheets.js";

const setting = (element: object, other: object = {}) => {
  const [first] = settingsOf(read([element], other)).elements;
  if (first?.function !== "21") throw new Error("no distance zone");
  return first;
};
const paths = (change: object, other: object = {}) =>
  problemsOf(() => readSheet(tanneryLane([{ ...distance21, ...change }], other))).map(({ path }) => path);

describe("a distance zone on a sheet", () => {
  test("stands in ohm at the relay, its shape as ratios to its reach", () => {
    expect(setting(distanceZone2)).toMatchObject({
      pickup: 6,
      zone: { form: "quadrilateral", lineAngle: 75, resistanceRatio: 5 / 6, tilt: -3, forward: { from: -15, to: 115 } },
      operates: "forward",
      minimumCurrent: 0.5,
      law: { curve: { form: "definite", time: 0.4, side: "under" } },
    });
    expect(setting({ ...distance21, zone: { form: "mho", lineAngle: 75, reverse: "1 ohm" } }).zone).toEqual({
      form: "mho",
      lineAngle: 75,
      reverseRatio: 0.25,
    });
  });

  test("in primary ohms is carried through both transformers: CTR/VTR = 80/100", () => {
    const primary = setting({ ...distanceZone2, pickup: "5 ohm", step: "0.01 ohm" }, { values: "primary" });
    expect(primary).toMatchObject({ pickup: 4, step: 0.008, minimumCurrent: 0.5 / 80 });
    // Both are primary, so that their ratio is 1.
    expect(primary.zone).toMatchObject({ resistanceRatio: 1 });
    const sheet = read([{ ...distance21, pickup: "5 ohm" }], { values: "primary" });
    expect(settingsOf(sheet).toPrimary).toEqual({ "21-1": 1.25 });
    expect(plan(sheet).checks[0]).toMatchObject({ unit: "ohm", toPrimary: 1.25 });
  });

  test("of a 1 A relay: the same line is five times as many ohm", () => {
    const one = setting({ ...distance21, pickup: "5 ohm" }, { values: "primary", ct: "400/1" });
    expect(one.pickup).toBe(20);
  });

  test.each([
    [{ factor: 0.67, angle: "-7.5°" }, polar(0.67, -7.5)],
    [{ factor: 0.5 }, { re: 0.5, im: 0 }],
    [distance21.earth, earthFactor({ z1: polar(0.4, 75), z0: polar(1.2, 70) })],
    [
      { z1: { resistance: "0.1 ohm", reactance: "0.4 ohm" }, z0: { resistance: "0.3 ohm", reactance: 1.3 } },
      earthFactor({ z1: { re: 0.1, im: 0.4 }, z0: { re: 0.3, im: 1.3 } }),
    ],
  ])("takes k0 from %j", (earth, factor) => {
    expect(setting({ ...distance21, earth }).earth).toEqual({ factor });
  });

  test("takes earth ratios as they are", () => {
    const earth = { resistanceRatio: 0.5, reactanceRatio: 0.9 };
    expect(setting({ ...distance21, earth }).earth).toEqual(earth);
  });

  test("needs both transformers, each named", () => {
    const bare = { ...(tanneryLane([distance21]) as Record<string, unknown>) };
    const { ct: _, vt: __, ...without } = bare;
    expect(problemsOf(() => readSheet(without)).map(({ path }) => path)).toEqual(["ct", "vt"]);
  });

  test("is a region for a figure", () => {
    const { center, radius } = distanceZone(setting(distance21)) as {
      center: { x: number; y: number };
      radius: number;
    };
    expect(radius).toBe(2);
    expect(Math.hypot(center.x, center.y)).toBeCloseTo(2, 12);
  });

  test.each([
    [{ pickup: "4 A" }, ["pickup"]],
    [{ pickup: "0 ohm", zone: { form: "mho", lineAngle: 75, reverse: "1 ohm" } }, ["pickup"]],
    [{ watches: undefined }, ["watches"]],
    [{ watches: "ab" }, ["watches"]],
    [{ zone: undefined }, ["zone"]],
    [{ zone: { form: "mho" } }, ["zone.lineAngle"]],
    [{ zone: { form: "mho", lineAngle: "75 ohm" } }, ["zone.lineAngle"]],
    [{ zone: { form: "mho", lineAngle: 75, reverse: "-1 ohm" } }, ["zone.reverse"]],
    [{ zone: { form: "mho", lineAngle: 75, resistance: "1 ohm" } }, ["zone.resistance"]],
    [{ zone: { ...distanceZone2.zone, forward: { from: -15 } } }, ["zone.forward.to"]],
    [{ zone: { ...distanceZone2.zone, forward: { from: -95, to: 115 } } }, ["zone.forward.from"]],
    [{ earth: undefined }, ["earth"]],
    [{ earth: { factor: -0.5 } }, ["earth.factor"]],
    [{ earth: { ...distance21.earth, z1: { size: "0 ohm", angle: 75 } } }, ["earth.z1"]],
    [{ earth: { ...distance21.earth, z1: { size: "-1 ohm", angle: 75 } } }, ["earth.z1.size"]],
    [{ watches: "phase-loops" }, ["earth"]],
    [{ minimumCurrent: "0 A" }, ["minimumCurrent"]],
    [{ delay: undefined, curve: "iec-inverse" }, ["curve"]],
    [{ dropoutRatio: 0.95 }, ["dropoutRatio"]],
    [{ accuracy: { ...distance21.accuracy, pickup: { absolute: "5 V" } } }, ["accuracy.pickup.absolute"]],
    [{ characteristicAngle: 75 }, ["characteristicAngle"]],
  ])("with %j is refused by name", (change, expected) => {
    expect(paths(change)).toEqual(expected.map((path) => `elements[0].${path}`));
  });

  test("with the fields that its form has", () => {
    const mho = { form: "mho", lineAngle: 75, resistance: "1 ohm" };
    const [problem] = problemsOf(() => readSheet(tanneryLane([{ ...distance21, zone: mho }])));
    expect(problem).toMatchObject({ code: "unknown-key", expected: "one of form, lineAngle, reverse" });
  });
});
