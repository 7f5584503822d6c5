import { plan, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { bandOf, directional67, read, usual } from "../support/sheets.js";

const directional = (change: object = {}) => ({ ...directional67, leading: "80°", lagging: "85°", ...change });
const ids = (change: object = {}) => plan(read([directional(change)])).checks.map(({ id }) => id);

describe("the plan of a directional function", () => {
  test("proves both limits in angle, the quiet level, and that a fault behind leaves it quiet", () => {
    expect(ids()).toEqual([
      "67P/pickup",
      "67P/edge@leading",
      "67P/edge@lagging",
      "67P/quiet",
      "67P/quiet@reverse",
      "67P/time",
    ]);
    expect(ids({ operates: "reverse" })).toContain("67P/quiet@forward");
  });

  test("sweeps each limit from outside, in steps of a fifth of its tolerance, at twice the pickup", () => {
    const { checks } = plan(read([directional()]));
    const leading = checks.find(({ id }) => id === "67P/edge@leading")!;
    expect(bandOf(leading)).toEqual({ nominal: 125, low: 122, high: 128, period: 360 });
    expect(leading).toMatchObject({ unit: "°", proves: "edge", sweep: { from: 135, to: 115, step: 0.5 } });
    expect(leading.toPrimary).toBeUndefined();
    expect(leading.timeline.segments.every(({ channels }) => channels["ia"]?.rms === 8)).toBe(true);
    const lagging = checks.find(({ id }) => id === "67P/edge@lagging")!;
    expect(bandOf(lagging)).toEqual({ nominal: -40, low: -43, high: -37, period: 360 });
    expect(lagging.sweep).toMatchObject({ from: -50, to: -30 });
  });

  test("lists the limits as impossible where the sheet declares no accuracy of the angle", () => {
    const { impossible } = plan(read([directional({ accuracy: usual })]));
    expect(impossible.map(({ id }) => id)).toEqual(["67P/edge@leading", "67P/edge@lagging", "67P/dropout"]);
    expect(impossible[0]?.reason).toMatch("accuracy of the angle");
  });

  test("a relay whose characteristic angle is off by 5° is caught by both limits, and by nothing else", () => {
    const sheet = read([directional()]);
    const planned = plan(sheet);
    const readings = rehearsePlan(read([directional({ characteristicAngle: "50°" })]), planned);
    const { verdicts } = judge(sheet, planned, readings);
    const outside = verdicts.flatMap((one) =>
      one.status === "graded" && one.grade.verdict === "outside" ? [one.check] : [],
    );
    expect(outside).toEqual(["67P/edge@leading", "67P/edge@lagging"]);
  });

  test("a relay that looks the wrong way is caught by its pickup, its time and the fault behind", () => {
    const sheet = read([directional()]);
    const planned = plan(sheet);
    const readings = rehearsePlan(read([directional({ operates: "reverse" })]), planned);
    const outside = judge(sheet, planned, readings).verdicts.flatMap((one) =>
      one.status === "graded" && one.grade.verdict === "outside" ? [one.check] : [],
    );
    expect(outside).toEqual(expect.arrayContaining(["67P/pickup", "67P/quiet@reverse", "67P/time"]));
  });

  test("a reading of an angle may be told the other way around the circle", () => {
    const sheet = read([directional({ characteristicAngle: "150°" })]);
    const planned = plan(sheet);
    // 150° + 80° is 230°, or −130°.
    const reading = { check: "67P/edge@leading", stage: "as-found", repeat: 1, value: -129 } as const;
    const verdict = judge(sheet, planned, [reading]).verdicts.find(({ check }) => check === "67P/edge@leading");
    expect(verdict).toMatchObject({ status: "graded", grade: { verdict: "within", error: 1 } });
  });
});

test("power settings are carried to the relay through both transformers", () => {
  const element = {
    id: "32R",
    function: "32",
    pickup: "160 kW",
    delay: "2 s",
    operates: "reverse",
    accuracy: { pickup: { percent: 5 }, time: { percent: 2 } },
  };
  // 400/5 and 11 kV/110 V: 80 · 100.
  const sheet = read([element], { values: "primary" });
  expect(settingsOf(sheet).elements[0]?.pickup).toBe(20);
  expect(plan(sheet).checks[0]).toMatchObject({ unit: "W", toPrimary: 8000 });
});
