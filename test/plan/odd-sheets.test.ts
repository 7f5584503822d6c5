/** Sheets that nobody sane would write: each is planned, judged and reported, or is refused with its fields; none hangs. */
import fc from "fast-check";
import { InputError, plan, readSheet, type Sheet } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { siteCard, summarize, toCsv } from "tripwright/report";
import { expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { tanneryLane } from "../support/sheets.js";

/** Sizes over many decades, as a person might slip by a unit. */
const size = fc.oneof(
  fc.integer({ min: -9, max: 9 }).map((power) => Number(`1e${power}`)),
  fc.constantFrom(0.001, 0.05, 0.333, 0.95, 1, 1.05, 4, 50, 110, 999, 123456.789),
);
const typed = (unit: string) => size.map((x) => `${x} ${unit}`);
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined, freq: 3 });
const without = <T extends object>(given: T) =>
  Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));

const tolerance = (unit: string) =>
  fc
    .record({
      percent: maybe(fc.oneof(size, fc.constant(0))),
      absolute: maybe(typed(unit)),
      combine: maybe(fc.constantFrom("greater", "sum")),
      side: maybe(fc.constantFrom("both", "low", "high")),
    })
    .map(without);

const curve = fc.oneof(
  fc.constantFrom(
    "iec-inverse",
    "long-time-inverse",
    "ieee-extremely-inverse",
    "overvoltage-inverse",
    "undervoltage-inverse",
  ),
  fc.record({ form: fc.constant("energy"), k: size }),
  fc.record({ form: fc.constant("excess"), k: size, power: size }),
  fc.record({ form: fc.constant("thermal"), tau: typed("s") }),
  fc.record({ form: fc.constantFrom("inverse", "under"), k: size, alpha: size, c: size }),
  fc.constant({
    form: "table",
    points: [
      { multiple: 1.5, time: 9 },
      { multiple: 4, time: 1 },
      { multiple: 30, time: 0.1 },
    ],
  }),
);

const UNITS: readonly (readonly [name: string, unit: string, watches?: readonly string[]])[] = [
  ["50", "A"],
  ["51", "A"],
  ["50N", "A"],
  ["51N", "A"],
  ["50G", "A"],
  ["51G", "A"],
  ["37", "A"],
  ["46", "A", ["I2", "3I2"]],
  ["49", "A", ["phase", "I1-and-I2"]],
  ["27", "V", ["line-to-line", "line-to-neutral"]],
  ["59", "V", ["line-to-line", "line-to-neutral"]],
  ["59N", "V", ["V0", "3V0", "open-delta"]],
  ["47", "V"],
  ["81O", "Hz"],
  ["81U", "Hz"],
  ["81R", "Hz/s"],
  ["24", "%", ["line-to-line", "line-to-neutral"]],
  ["25", "°", ["a", "bc"]],
  ["21", "ohm", ["phase-loops", "earth-loops", "phase-and-earth-loops"]],
  ["87", "A"],
  ["87T", "A"],
  ["87U", "A"],
];

const restrained = fc.record({
  restraint: fc.constantFrom("average", "sum", "maximum", "difference"),
  slopes: fc.array(
    fc
      .record({
        slope: typed("%"),
        line: fc.constantFrom("through-origin", "from-knee"),
        begins: maybe(typed("A")),
      })
      .map(without),
    { minLength: 1, maxLength: 2 },
  ),
  secondHarmonic: maybe(typed("%")),
});

const side = fc
  .record({
    ct: maybe(fc.constantFrom("100/1", "3000/5")),
    voltage: maybe(fc.constantFrom("11 kV", "0.4 kV")),
    ratedCurrent: maybe(typed("A")),
    clock: maybe(fc.constantFrom(0, 1, 6, 11)),
    zeroSequence: maybe(fc.constantFrom("kept", "removed")),
  })
  .map(without);
const zone = fc
  .tuple(maybe(fc.constantFrom("10 MVA", "1 VA")), side, side)
  .map(([power, { ct: _, ...first }, second]) => without({ power, first, second }));

const OWN: Readonly<Record<string, fc.Arbitrary<object>>> = {
  "25": fc.record({
    voltageDifference: maybe(typed("V")),
    slip: maybe(typed("Hz")),
    liveAbove: maybe(typed("V")),
    deadBelow: maybe(typed("V")),
    deadClosing: maybe(fc.constantFrom("running", "incoming", "either")),
    closingTime: maybe(typed("s")),
  }),
  "27": fc.record({
    blockBelow: maybe(typed("V")),
    armAbove: maybe(typed("V")),
    phases: fc.constantFrom("any", "all"),
  }),
  "37": fc.record({
    blockBelow: maybe(typed("A")),
    armAbove: maybe(typed("A")),
    phases: fc.constantFrom("any", "all"),
  }),
  "49": fc.record({ negativeSequenceFactor: maybe(size) }),
  "59": fc.record({ blockBelow: maybe(typed("V")), phases: fc.constantFrom("any", "all") }),
  "81O": fc.record({ blockBelow: maybe(typed("V")) }),
  "21": fc.record({
    operates: fc.constantFrom("forward", "reverse"),
    minimumCurrent: maybe(typed("A")),
    zone: fc.oneof(
      fc
        .record({ form: fc.constant("mho"), lineAngle: fc.constantFrom("75°", 20, 90), reverse: maybe(typed("ohm")) })
        .map(without),
      fc.record({
        form: fc.constant("quadrilateral"),
        lineAngle: fc.constantFrom("75°", 89),
        resistance: typed("ohm"),
        forward: fc.record({ from: fc.constantFrom(-15, -60), to: fc.constantFrom(115, 160) }),
      }),
    ),
    earth: maybe(
      fc.oneof(
        fc.record({ factor: size, angle: fc.constantFrom(0, "-20°") }),
        fc.record({ resistanceRatio: size, reactanceRatio: size }),
      ),
    ),
  }),
  "81R": fc.record({ blockBelow: maybe(typed("V")), direction: fc.constantFrom("rising", "falling", "both") }),
  "87": restrained,
  "87T": restrained,
};

const element = fc.constantFrom(...UNITS).chain(([name, unit, watches]) =>
  fc
    .record({
      common: fc.record({
        function: fc.constant(name),
        watches: watches === undefined ? fc.constant(undefined) : fc.constantFrom(...watches),
        pickup: typed(unit),
        step: maybe(typed(unit)),
        dropoutRatio: maybe(size),
        startContact: maybe(fc.constant("start")),
        measuringDelay: maybe(typed("s")),
        addedTime: maybe(typed("s")),
        accuracy: fc.record({ pickup: tolerance(unit), time: tolerance("s") }),
      }),
      law: fc.oneof(
        typed("s").map((delay) => ({ delay })),
        fc
          .record({
            curve,
            multiplier: maybe(size),
            startRatio: maybe(size),
            ceilingMultiple: maybe(size),
            minimumTime: maybe(typed("s")),
          })
          .map(without),
      ),
      own: OWN[name] ?? fc.constant({}),
    })
    .map(({ common, law, own }) => without({ ...common, ...law, ...without(own) })),
);

const ratio = (unit: string) => fc.tuple(size, size).map(([a, b]) => `${a} ${unit}/${b} ${unit}`);

/** With all ratios, and a source of one channel or three. */
const oddSheets = fc
  .record({
    elements: fc.array(element, { minLength: 1, maxLength: 2 }),
    ct: fc.oneof(fc.constant("400/5"), ratio("A")),
    vt: fc.oneof(fc.constant("11 kV/110 V"), ratio("V")),
    groundCt: ratio("A"),
    openDeltaVt: ratio("V"),
    frequency: fc.oneof(fc.constant("50 Hz"), typed("Hz")),
    values: fc.constantFrom("primary", "secondary"),
    rotation: fc.constantFrom("ABC", "ACB"),
    decisionRule: fc.constantFrom("simple", "guarded", "three-way"),
    zone: maybe(zone),
    source: fc
      .record({
        currentChannels: fc.constantFrom(1, 3, 6),
        voltageChannels: fc.constantFrom(1, 3),
        maximumCurrent: maybe(typed("A")),
        accuracy: maybe(fc.record({ current: tolerance("A"), time: tolerance("s") })),
      })
      .map(without),
  })
  .map(({ elements, ...other }) =>
    tanneryLane(
      elements.map((each, i) => ({ id: `E${i}`, ...each })),
      without(other),
    ),
  );

/** The sheet where it is good; nothing where it is refused by name. */
function readOrRefused(given: object): Sheet | undefined {
  try {
    return readSheet(given);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    expect((error as InputError).problems.length).toBeGreaterThan(0);
    for (const { path } of (error as InputError).problems) expect(path).not.toBe("");
    return undefined;
  }
}

test("an odd sheet is refused with its fields, or planned, judged and reported, without a number that is none", () => {
  let good = 0;
  holds(
    fc.property(oddSheets, (given) => {
      const sheet = readOrRefused(given);
      if (sheet === undefined) return;
      good++;
      // A sheet that was read is planned: what cannot be made is in the plan with its reason.
      const planned = plan(sheet);
      expect(JSON.stringify(planned)).not.toMatch(/null|NaN|Infinity/);
      const readings = planned.checks.map(
        ({ id, expect: { form } }, i): Reading => ({
          check: id,
          stage: "as-found",
          repeat: 1,
          value: form === "stays-quiet" || i % 3 === 0 ? "never" : i / 7,
        }),
      );
      const record = judge(sheet, planned, readings);
      expect(record.verdicts).toHaveLength(planned.checks.length + planned.impossible.length);
      for (const text of [summarize(record), toCsv(record), siteCard(planned)])
        expect(text).not.toMatch(/NaN|Infinity|undefined/);
    }),
    1_000,
  );
  // The property says nothing unless some of them are good; about 20 are.
  expect(good).toBeGreaterThan(0);
});
