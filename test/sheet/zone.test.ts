import fc from "fast-check";
import { ratedSecondaryCurrent } from "tripwright/characteristic";
import type { DifferentialSetting } from "tripwright/element";
import { readSheet, settingsOf } from "tripwright/plan";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { differential87T, dyn11, read, tanneryLane, unrestrained87U } from "../support/sheets.js";

const settingWith = (element: object = {}, other: object = {}) =>
  settingsOf(read([{ ...differential87T, ...element }], { ...dyn11, ...other })).elements[0] as DifferentialSetting;
const zoneWith = (first: object, second: object, more: object = {}) => ({
  zone: {
    ...dyn11.zone,
    ...more,
    first: { ...dyn11.zone.first, ...first },
    second: { ...dyn11.zone.second, ...second },
  },
});
const { power: _, ...withoutPower } = dyn11.zone;
/** 87 on one side and the other of a line. */
const line = { ...differential87T, id: "87L", function: "87" };

describe("a differential zone on a sheet", () => {
  test("has the rated currents that power, voltages and ratios say", () => {
    const { zone } = settingWith();
    // 10 MVA: 174.955 A at 33 kV behind 40, 524.864 A at 11 kV behind 120.
    expect(zone.first.ratedCurrent).toBeCloseTo(174.954_63 / 40, 6);
    expect(zone.second.ratedCurrent).toBeCloseTo(524.863_88 / 120, 6);
    expect(zone).toMatchObject({
      first: { clock: 0, zeroSequence: "kept" },
      second: { clock: 11, zeroSequence: "removed" },
    });
  });

  test("agrees with the rated secondary current of a side, whatever is rated", () => {
    const whole = (max: number) => fc.integer({ min: 1, max });
    holds(
      fc.property(
        whole(500),
        whole(400),
        fc.integer({ min: 5, max: 3000 }),
        fc.constantFrom(1, 5),
        (mva, kv, primary, secondary) => {
          const { zone } = settingWith(
            {},
            zoneWith({}, { voltage: `${kv} kV`, ct: `${primary}/${secondary}` }, { power: `${mva} MVA` }),
          );
          const expected = ratedSecondaryCurrent({ power: mva * 1e6, voltage: kv * 1e3, ctRatio: primary / secondary });
          expect(Math.abs(zone.second.ratedCurrent / expected - 1)).toBeLessThan(1e-14);
        },
      ),
    );
  });

  test.each([
    ["the rated current of the reference side", "0.3 × rated", "secondary", 0.3 * (174.954_63 / 40)],
    ["the same on the primary side", "0.3 × rated", "primary", 0.3 * (174.954_63 / 40)],
    ["amperes", "1.2 A", "secondary", 1.2],
    ["amperes of the primary side", "48 A", "primary", 1.2],
  ])("is what pickups and knees are counted in: %s", (_what, pickup, values, expected) => {
    const setting = settingWith({ pickup, slopes: [{ slope: "25 %", line: "from-knee", begins: pickup }] }, { values });
    expect(setting.pickup).toBeCloseTo(expected, 6);
    expect(setting.slopes).toEqual([{ slope: 0.25, line: "from-knee", begins: setting.pickup }]);
    expect(setting.secondHarmonic).toBe(0.15);
  });

  test("may be given as rated currents, also per unit of the current transformers", () => {
    const zone = { first: { ratedCurrent: "4.2 A" }, second: { ct: "600/1", clock: 1, ratedCurrent: "0.9 × rated" } };
    expect(settingWith({}, { zone }).zone).toEqual({
      first: { ratedCurrent: 4.2, clock: 0, zeroSequence: "removed" },
      second: { ratedCurrent: 0.9, clock: 1, zeroSequence: "removed" },
    });
  });

  test.each([
    ["the same current transformers", {}, 5, 5],
    ["others: 1000 A are 12.5 A on one side and 2 A on the other", { zone: { second: { ct: "500/1" } } }, 5, 0.8],
    [
      "a rated current of the first side: 4 A · 80/500",
      { zone: { first: { ratedCurrent: "4 A" }, second: { ct: "500/1" } } },
      4,
      0.64,
    ],
  ])("of a line carries the same primary current through both sides: %s", (_what, other, first, second) => {
    const { zone } = settingsOf(read([line], { ct: "400/5", ...other })).elements[0] as DifferentialSetting;
    expect([zone.first.ratedCurrent, zone.second.ratedCurrent]).toEqual([first, second]);
    expect(zone.first.zeroSequence).toBe("kept");
  });

  test("goes to the unrestrained stage as well", () => {
    const [one, other] = settingsOf(read([differential87T, unrestrained87U], dyn11)).elements;
    expect(other).toMatchObject({ function: "87U", zone: (one as DifferentialSetting).zone });
  });

  test("on a source of six current channels feeds both sides; of three, one", () => {
    const setup = (currentChannels: number) =>
      settingsOf(read([differential87T], { ...dyn11, source: { currentChannels } })).setup;
    expect(setup(6)).toMatchObject({ currentChannels: 3, secondCurrentChannels: 3 });
    expect(setup(3)).not.toHaveProperty("secondCurrentChannels");
    expect(setup(1)).toMatchObject({ currentChannels: 1 });
  });
});

describe("a zone that is none", () => {
  const problemsWith = (element: object, other: object) =>
    problemsOf(() => readSheet(tanneryLane([{ ...differential87T, ...element }], { ...dyn11, ...other })));

  test.each([
    ["no clock number for an 87T", {}, { zone: { first: {}, second: {} } }, "zone.second.clock", "missing"],
    ["a clock number for an 87", { function: "87" }, {}, "zone.second.clock", "conflict"],
    [
      "zero sequence for an 87",
      { function: "87" },
      { zone: { first: { zeroSequence: "removed" } } },
      "zone.first.zeroSequence",
      "conflict",
    ],
    ["thirteen o'clock", {}, zoneWith({}, { clock: 13 }), "zone.second.clock", "unknown-name"],
    ["half an hour", {}, zoneWith({}, { clock: 0.5 }), "zone.second.clock", "unknown-name"],
    // 11 on the second side, or 1 on the first, is Dyn11.
    ["a clock number on both sides", {}, zoneWith({ clock: 1 }, { clock: 11 }), "zone.second.clock", "conflict"],
    [
      "no rated currents of a transformer",
      {},
      { zone: { second: { clock: 1 } } },
      "zone.first.ratedCurrent",
      "missing",
    ],
    [
      "one rated current",
      {},
      { zone: { first: { ratedCurrent: "4 A" }, second: { clock: 1 } } },
      "zone.second.ratedCurrent",
      "missing",
    ],
    ["a voltage without power", {}, { zone: withoutPower }, "zone.power", "missing"],
    ["power without a voltage", {}, zoneWith({ voltage: undefined }, {}), "zone.first.voltage", "missing"],
    ["power and a rated current", {}, zoneWith({}, { ratedCurrent: "4 A" }), "zone.second.ratedCurrent", "conflict"],
    ["no power at all", {}, zoneWith({}, {}, { power: 0 }), "zone.power", "out-of-range"],
    ["power in watts", {}, zoneWith({}, {}, { power: "10 MW" }), "zone.power", "wrong-unit"],
    ["a voltage of 0", {}, zoneWith({ voltage: "0 V" }, {}), "zone.first.voltage", "out-of-range"],
    [
      "a rated current of 0",
      {},
      { zone: { first: { ratedCurrent: 0 }, second: { clock: 1 } } },
      "zone.first.ratedCurrent",
      "out-of-range",
    ],
    ["a ratio of nothing", {}, zoneWith({}, { ct: "0/5" }), "zone.second.ct", "out-of-range"],
    ["a ratio in volts", {}, zoneWith({}, { ct: "600 V/5 V" }), "zone.second.ct", "wrong-unit"],
    ["a ratio of the first side", {}, zoneWith({ ct: "200/5" }, {}), "zone.first.ct", "unknown-key"],
    ["another zero sequence", {}, zoneWith({}, { zeroSequence: "out" }), "zone.second.zeroSequence", "unknown-name"],
    ["no current transformer", {}, { ct: undefined }, "ct", "missing"],
    [
      "a third slope",
      { slopes: Array(3).fill({ slope: "20 %", line: "through-origin" }) },
      {},
      "elements[0].slopes",
      "wrong-length",
    ],
    ["no slope", { slopes: [] }, {}, "elements[0].slopes", "wrong-length"],
    [
      "a slope of nothing",
      { slopes: [{ slope: 0, line: "through-origin" }] },
      {},
      "elements[0].slopes[0].slope",
      "out-of-range",
    ],
    [
      "a knee below nothing",
      { slopes: [{ slope: 0.2, line: "from-knee", begins: -1 }] },
      {},
      "elements[0].slopes[0].begins",
      "out-of-range",
    ],
    [
      "a knee that nobody gives",
      { slopes: [{ slope: 0.2, line: "from-knee" }] },
      {},
      "elements[0].slopes[0].begins",
      "missing",
    ],
    [
      "a knee in volts",
      { slopes: [{ slope: 0.2, line: "from-knee", begins: "1 V" }] },
      {},
      "elements[0].slopes[0].begins",
      "wrong-unit",
    ],
    ["another restraint", { restraint: "largest" }, {}, "elements[0].restraint", "unknown-name"],
    ["no restraint", { restraint: undefined }, {}, "elements[0].restraint", "missing"],
    ["a curve", { curve: "iec-inverse" }, {}, "elements[0].curve", "not-applicable"],
    ["a second harmonic in amperes", { secondHarmonic: "1 A" }, {}, "elements[0].secondHarmonic", "wrong-unit"],
  ])("%s", (_what, element, other, path, code) => {
    expect(problemsWith(element, other).map((problem) => [problem.path, problem.code])).toEqual([[path, code]]);
  });

  test("a slope of an unrestrained stage", () => {
    const given = tanneryLane([{ ...unrestrained87U, slopes: [] }], dyn11);
    expect(problemsOf(() => readSheet(given))).toMatchObject([{ path: "elements[0].slopes", code: "unknown-key" }]);
  });
});
