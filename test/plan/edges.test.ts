import fc from "fast-check";
import { checkedDefinition, type ElementSetting } from "tripwright/element";
import { plan, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  directional67,
  distance21,
  distanceZone2,
  inverse51,
  read,
  sheets,
  synchronism25,
  underfrequency81,
  undervoltage27,
  usual,
} from "../support/sheets.js";

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

  test("gives angles as a source is set to them, within half a turn: 180° + 170° + 98° is 88°", () => {
    const sheet = read([
      directional({ characteristicAngle: "170°", operates: "reverse", leading: "98°", lagging: "30°" }),
    ]);
    const planned = plan(sheet);
    const edges = planned.checks.filter(({ proves }) => proves === "edge");
    expect(edges.map(({ sweep, because }) => [sweep?.from, sweep?.to, because.rule])).toEqual([
      [98, 78, "leading limit at 88°; ± 3 °"],
      [-50, -30, "lagging limit at -40°; ± 3 °"],
    ]);
    const { verdicts } = judge(sheet, planned, rehearsePlan(sheet, planned));
    expect(
      verdicts.every(
        (one) => one.status === "impossible" || (one.status === "graded" && one.grade.verdict === "within"),
      ),
    ).toBe(true);
  });

  test("allows a current-cosine limit what the tolerance of the pickup moves it: cos⁻¹(½ · 1.05) is 58.33°, cos⁻¹(½ · 0.95) 61.64°", () => {
    const sheet = read([directional({ measures: "current-cosine" })]);
    const planned = plan(sheet);
    const [leading, lagging] = planned.checks.filter(({ proves }) => proves === "edge");
    expect(bandOf(leading!)).toEqual({ nominal: 105, low: 100.33, high: 109.65, period: 360 });
    expect(bandOf(lagging!)).toEqual({ nominal: -15, low: -19.65, high: -10.33, period: 360 });
    expect(leading!.because).toMatchObject({
      rule: "leading limit at 105°; ± 3 °, and -1.67° to +1.65° as the tolerance of the pickup moves it",
      numbers: { low: 100.33, high: 109.65 },
    });
    const failed = (error: object) =>
      judge(sheet, planned, rehearsePlan(sheet, planned, { errors: { "67P": error } })).verdicts.flatMap((one) =>
        one.status === "graded" && one.grade.verdict === "outside" ? [one.check] : [],
      );
    expect(failed({ pickup: 1.045, angle: 2.5 })).toEqual([]);
    expect(failed({ pickup: 0.955, angle: -2.5 })).toEqual([]);
    expect(failed({ angle: 5.2 })).toEqual(["67P/edge@leading", "67P/edge@lagging"]);
    // A limit of the sector itself stays where it is.
    const narrow = read([directional({ measures: "current-cosine", leading: "50°" })]);
    expect(bandOf(checkNamed(narrow, "67P/edge@leading"))).toEqual({ nominal: 95, low: 92, high: 98, period: 360 });
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

describe("an accuracy of limits in angle, voltage or frequency", () => {
  const NAMES = ["angle", "voltage", "frequency"] as const;
  const degrees = { angle: { absolute: "3°" } };
  const { slip: _, ...withoutSlip } = synchronism25;
  const { voltageDifference: __, ...withoutDifference } = synchronism25;

  test.each([
    [
      "a mho, which has no lines in angle",
      { ...distance21, accuracy: { ...distance21.accuracy, ...degrees } },
      "angle",
    ],
    ["an overcurrent function", { ...inverse51, accuracy: { ...usual, ...degrees } }, "angle", "unknown-key"],
    [
      "a voltage function, which is set in volts",
      { ...undervoltage27, accuracy: { ...usual, voltage: { absolute: "1 V" } } },
      "voltage",
      "unknown-key",
    ],
    [
      "a frequency function, which is set in hertz",
      { ...underfrequency81, accuracy: { ...underfrequency81.accuracy, frequency: { absolute: "0.01 Hz" } } },
      "frequency",
      "unknown-key",
    ],
    [
      "a synchronism check, which is set in degrees",
      { ...synchronism25, accuracy: { ...synchronism25.accuracy, ...degrees } },
      "angle",
      "unknown-key",
    ],
    ["a synchronism check without a limit of slip", withoutSlip, "frequency"],
    ["a synchronism check without a limit in volts", withoutDifference, "voltage"],
  ])("of %s is refused on a sheet", (_what, element, name, code = "not-applicable") => {
    expect(problemsOf(() => plan(read([element])))).toMatchObject([{ code, path: `elements[0].accuracy.${name}` }]);
  });

  test("is taken by a quadrilateral, by directional functions and by a synchronism check", () => {
    const quadrilateral = { ...distanceZone2, accuracy: { ...distance21.accuracy, ...degrees } };
    for (const element of [quadrilateral, directional(), synchronism25])
      expect(plan(read([element])).checks.length).toBeGreaterThan(0);
  });

  test("is taken just where a place on the boundary is held against it", () => {
    holds(
      fc.property(sheets, fc.constantFrom(...NAMES), (sheet, name) => {
        const { elements, setup } = settingsOf(sheet);
        for (const setting of elements) {
          const { pickup, time } = setting.accuracy;
          const given = { ...setting, accuracy: { pickup, time, [name]: { absolute: 1 } } } as ElementSetting;
          const edges = checkedDefinition(setting).edges?.(setting, setup) ?? [];
          const isHeld = edges.some(({ heldTo }) => heldTo === name);
          if (isHeld) expect(checkedDefinition(given).function).toBe(setting.function);
          else
            expect(problemsOf(() => checkedDefinition(given))).toMatchObject([
              { code: "not-applicable", path: `accuracy.${name}` },
            ]);
        }
      }),
      60,
    );
  });
});
