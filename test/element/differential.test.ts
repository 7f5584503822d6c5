import fc from "fast-check";
import type { Restraint, RestraintSlope } from "tripwright/characteristic";
import {
  checkedDefinition,
  type DifferentialSetting,
  definitionOf,
  type Edge,
  inputsOf,
  operateTimeOf,
  type RelayInputs,
  type Setup,
  type Still,
  type UnrestrainedDifferentialSetting,
  type Zone,
} from "tripwright/element";
import {
  add,
  angle,
  divide,
  fromComponents,
  magnitude,
  type Phases,
  type Phasor,
  polar,
  rotate,
  scale,
  subtract,
  toComponents,
} from "tripwright/phasor";
import { atLevel } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { setups } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const restraints = fc.constantFrom<Restraint>("average", "sum", "maximum", "difference");
const clocks = fc.integer({ min: 0, max: 11 });
const sequences = fc.constantFrom("kept" as const, "removed" as const);

/** 5 A and 1 A current transformers, any vector group, compensated on either side. */
const zones: fc.Arbitrary<Zone> = fc
  .tuple(clocks, clocks, sequences, sequences, number(2, 6), number(0.3, 6))
  .map(([one, other, kept, keptToo, rated, ratedToo]) => ({
    first: { ratedCurrent: rated, clock: one, zeroSequence: kept },
    second: { ratedCurrent: ratedToo, clock: other, zeroSequence: keptToo },
  }));

const slopeSets: fc.Arbitrary<readonly RestraintSlope[]> = fc
  .record({
    first: fc.oneof(
      fc.record({ slope: number(0.1, 0.5), line: fc.constant("through-origin" as const) }),
      fc.record({ slope: number(0.1, 0.5), line: fc.constant("from-knee" as const), begins: number(0, 6) }),
    ),
    second: fc.option(
      fc.record({
        slope: number(0.4, 0.9),
        line: fc.constantFrom("through-origin" as const, "from-knee" as const),
        // A first slope through the origin begins at 2/0.1 at the most.
        begins: number(20.1, 30),
      }),
      { nil: undefined },
    ),
  })
  .map(({ first, second }) => (second === undefined ? [first] : [first, second]));

const common = {
  id: "87T",
  function: "87T",
  watches: "differential",
  law: { curve: { form: "definite", time: 0 } },
  measuringDelay: 0.03,
  contact: "trip",
  accuracy: { pickup: { percent: 5 }, time: { absolute: 0.04 } },
} as const;
const settings: fc.Arbitrary<DifferentialSetting> = fc
  .record({ pickup: number(0.5, 2), restraint: restraints, slopes: slopeSets, zone: zones })
  .map((own) => ({ ...common, ...own }));

const plainZone: Zone = {
  first: { ratedCurrent: 5, clock: 0, zeroSequence: "kept" },
  second: { ratedCurrent: 5, clock: 0, zeroSequence: "kept" },
};
const setting = (change: object = {}): DifferentialSetting => ({
  ...common,
  pickup: 1.5,
  restraint: "average",
  slopes: [
    { slope: 0.25, line: "through-origin" },
    { slope: 0.6, line: "from-knee", begins: 10 },
  ],
  zone: plainZone,
  ...change,
});
const zoneWith = (first: object, second: object): Zone => ({
  first: { ...plainZone.first, ...first },
  second: { ...plainZone.second, ...second },
});

/** Every bench, and those with six current channels. */
const benches: readonly Setup[] = setups.flatMap((setup) =>
  setup.currentChannels === 3 ? [setup, { ...setup, secondCurrentChannels: 3 } as const] : [setup],
);
const bench = fc.constantFrom(...benches);
const withTwo = fc.constantFrom(...benches.filter(({ currentChannels }) => currentChannels === 3));
const [single] = benches as readonly [Setup];

const operates = (given: DifferentialSetting, inputs: RelayInputs) => Number.isFinite(operateTimeOf(given, inputs));

/** What stands on the inputs at a level of an edge or a still. */
function seenAt({ pose }: Edge | Still, level: number): RelayInputs {
  if (pose.kind === "none") throw new Error(pose.reason);
  return inputsOf(atLevel(pose.base, { lever: pose.lever, level }), pose.wiring);
}

const NOTHING: Phasor = { re: 0, im: 0 };
const phasesOf = (inputs: RelayInputs, suffix: string): Phases => ({
  a: inputs[`ia${suffix}`] ?? NOTHING,
  b: inputs[`ib${suffix}`] ?? NOTHING,
  c: inputs[`ic${suffix}`] ?? NOTHING,
});

/** What a side contributes, by its symmetrical components: positive turned forward, negative backward, zero kept or not. */
function contribution(phases: Phases, { clock, zeroSequence }: Zone["first"]): readonly Phasor[] {
  const { zero, positive, negative } = toComponents(phases);
  // 30° · clock turns the zero sequence of an even number by half a turn for each 180° or 60° that it exchanges phases.
  const left = clock % 2 === 0 && zeroSequence === "kept" ? scale(zero, clock % 4 === 0 ? 1 : -1) : NOTHING;
  const { a, b, c } = fromComponents({
    zero: left,
    positive: rotate(positive, 30 * clock),
    negative: rotate(negative, -30 * clock),
  });
  return [a, b, c];
}

const WEIGHTS: Readonly<Record<Restraint, (one: Phasor, other: Phasor) => number>> = {
  average: (one, other) => (magnitude(one) + magnitude(other)) / 2,
  sum: (one, other) => magnitude(one) + magnitude(other),
  maximum: (one, other) => Math.max(magnitude(one), magnitude(other)),
  difference: (one, other) => magnitude(subtract(one, other)) / 2,
};

/** Restraint and differential current of each phase, in A of the first side. */
function pointsOf(inputs: RelayInputs, { zone, restraint }: DifferentialSetting) {
  const first = contribution(phasesOf(inputs, ""), zone.first);
  const ratio = zone.first.ratedCurrent / zone.second.ratedCurrent;
  const second = contribution(phasesOf(inputs, "2"), zone.second).map((phasor) => scale(phasor, ratio));
  return first.map((one, i) => {
    const other = second[i] as Phasor;
    return { x: WEIGHTS[restraint](one, other), y: magnitude(add(one, other)) };
  });
}

/** The threshold in the words of its settings, slope by slope. */
function thresholdAt(
  x: number,
  { pickup, slopes: [one, two] }: Pick<DifferentialSetting, "pickup" | "slopes">,
): number {
  const along = (slope: RestraintSlope | undefined, at: number, below: (x: number) => number): number => {
    if (slope === undefined) return below(at);
    const begins = slope.begins ?? 0;
    if (at < begins) return below(at);
    const knee = below(begins);
    return slope.line === "from-knee" ? knee + slope.slope * (at - begins) : Math.max(knee, slope.slope * at);
  };
  return along(two, x, (at) => along(one, at, () => pickup));
}

describe("a restrained differential function", () => {
  const side = fc.tuple(...["a", "b", "c"].map(() => fc.tuple(number(0, 20), number(-180, 180))));
  const seen = (phases: readonly (readonly [number, number])[], suffix: string) =>
    Object.fromEntries(
      phases.map(([rms, angle], i) => [`i${"abc"[i]}${suffix}`, { ...polar(rms, angle), frequency: 50 }]),
    );

  test("operates where one phase lies above its characteristic, whatever both sides carry", () => {
    let above = 0;
    holds(
      fc.property(settings, side, side, fc.boolean(), (given, one, other, isBalanced) => {
        const inputs = { ...seen(one, ""), ...seen(isBalanced ? one.map(([rms, a]) => [rms, a + 180]) : other, "2") };
        const off = pointsOf(inputs, given).map(({ x, y }) => y - thresholdAt(x, given));
        fc.pre(off.every((one) => Math.abs(one) > 1e-6));
        const isAbove = off.some((one) => one > 0);
        if (isAbove) above++;
        expect(operates(given, inputs)).toBe(isAbove);
      }),
      400,
    );
    expect(above).toBeGreaterThan(50);
  });

  test("is posed on one side so that it starts at its pickup, on every bench", () => {
    let posed = 0;
    holds(
      fc.property(settings, bench, (given, setup) => {
        const pose = definitionOf("87T").pose(given, setup);
        const at = (level: number) => seenAt({ pose } as Still, level);
        if (pose.kind === "none") {
          expect(pose.reason).toContain("before one side alone starts it");
          return;
        }
        posed++;
        expect([operates(given, at(1.001 * given.pickup)), operates(given, at(0.999 * given.pickup))]).toEqual([
          true,
          false,
        ]);
      }),
    );
    expect(posed).toBeGreaterThan(80);
  });

  test.each([
    ["a line from the origin, 0.25 × half of it, does not raise it", setting(), 1.5],
    // 0.1 + 0.1 · x with x = y/2: y = 0.1/0.95 (the form of Chakrabarti et al., example 7.6)
    [
      "pickup and 10 % of the average",
      setting({ pickup: 0.1, slopes: [{ slope: 0.1, line: "from-knee", begins: 0 }] }),
      0.1 / 0.95,
    ],
    [
      "pickup and 10 % of the larger",
      setting({ restraint: "maximum", slopes: [{ slope: 0.1, line: "from-knee", begins: 0 }] }),
      1.5 / 0.9,
    ],
  ])("%s: one side alone starts it at that current", (_what, given, current) => {
    const pose = definitionOf("87T").pose(given, { ...single, currentChannels: 3 });
    if (pose.kind === "none") throw new Error(pose.reason);
    expect(atLevel(pose.base, { lever: pose.lever, level: given.pickup })["ia"]?.rms).toBeCloseTo(current, 12);
    expect(pose.note?.includes("raises the start")).toBe(current > given.pickup);
  });

  test("whose slope begins before one side alone starts it is not posed there: its start does not move as its setting does", () => {
    // y = 1.5 + 0.5 · (y − 1) is 2 A; 5 % less of the setting is 7.5 % less of that.
    const knee = setting({ restraint: "sum", slopes: [{ slope: 0.5, line: "from-knee", begins: 1 }] });
    expect(definitionOf("87T").pose(knee, single)).toMatchObject({
      kind: "none",
      reason: expect.stringContaining("begins at a restraint of 1 A"),
    });
  });

  test("whose slope outweighs one side alone cannot be posed on it, and is doubted", () => {
    const steep = setting({ restraint: "sum", slopes: [{ slope: 1.2, line: "through-origin", begins: 0 }] });
    expect(definitionOf("87T").pose(steep, single)).toMatchObject({ kind: "none", reason: /one side alone never/ });
    expect(definitionOf("87T").doubts?.(steep)).toMatchObject([{ field: "slopes[0].slope", received: "1.2" }]);
    expect(definitionOf("87T").doubts?.({ ...steep, restraint: "average" })).toEqual([]);
    // At 100 % of the sum a fault from one side lies on the line, and does not operate it.
    const even = setting({ restraint: "sum", slopes: [{ slope: 1, line: "through-origin", begins: 0 }] });
    expect(definitionOf("87T").doubts?.(even)).toHaveLength(1);
    // From the knee it runs beside the line of one side alone, and never meets it.
    const beside = setting({ restraint: "sum", slopes: [{ slope: 1, line: "from-knee", begins: 0 }] });
    expect(definitionOf("87T").pose(beside, single).kind).toBe("none");
    expect(operates(even, { ia: { re: 40, im: 0, frequency: 50 } })).toBe(false);
  });

  test("whose second slope begins before the first has passed the pickup goes on with the second there, and is doubted", () => {
    // 1.5/0.25 is 6 A.
    const slopes = (begins: number) =>
      setting({
        slopes: [
          { slope: 0.25, line: "through-origin" },
          { slope: 0.5, line: "from-knee", begins },
        ],
      });
    expect(definitionOf("87T").doubts?.(slopes(5))).toMatchObject([{ field: "slopes[1].begins", received: "5 A" }]);
    expect(definitionOf("87T").doubts?.(slopes(6))).toEqual([]);
    const at = (y: number) => ({
      ia: { re: 10 + y / 2, im: 0, frequency: 50 },
      ia2: { re: y / 2 - 10, im: 0, frequency: 50 },
    });
    // 1.5 + 0.5 · (10 − 6) = 3.5 A.
    expect([operates(slopes(5), at(3.51)), operates(slopes(5), at(3.49))]).toEqual([true, false]);
  });

  test.each([
    ["with the zero sequence kept all of it", { clock: 0, zeroSequence: "kept" }, 1, "all of it"],
    ["with the zero sequence removed 2/3 of it", { clock: 0, zeroSequence: "removed" }, 3 / 2, "2/3"],
    ["turned by an odd clock number 1/√3 of it", { clock: 1, zeroSequence: "removed" }, Math.sqrt(3), "1/√3"],
    ["turned by half a turn all of it", { clock: 6, zeroSequence: "kept" }, 1, "all of it"],
  ])("on one phase counts %s", (_what, first, factor, words) => {
    const pose = definitionOf("87T").pose(setting({ zone: zoneWith(first, {}) }), single);
    if (pose.kind === "none") throw new Error(pose.reason);
    expect(atLevel(pose.base, { lever: pose.lever, level: 1.5 })["i"]?.rms).toBeCloseTo(1.5 * factor, 12);
    expect(pose.note).toContain(words);
  });
});

describe("the places on its boundary", () => {
  const onTheLine = (given: DifferentialSetting, setup: Setup) =>
    (definitionOf("87T").edges?.(given, setup) ?? []).filter(({ name }) => name.startsWith("restraint"));

  const operating = { ...common, accuracy: { pickup: { percent: 1 }, time: { absolute: 0.04 } } } as const;

  test("lie on the line, at a restraint that stays, with two channels and with six", () => {
    let swept = 0;
    holds(
      fc.property(settings, withTwo, (given, setup) => {
        const own = { ...given, accuracy: operating.accuracy };
        for (const edge of onTheLine(own, setup)) {
          if (edge.pose.kind === "none") {
            expect(edge.pose.reason).toContain("one side alone makes");
            continue;
          }
          swept++;
          const restraint = Number(/a restraint of ([\d.e+-]+) A/.exec(edge.pose.note ?? "")?.[1]);
          expect(Math.abs(edge.at / thresholdAt(restraint, own) - 1)).toBeLessThan(1e-12);
          for (const share of [0.9, 0.999, 1.001, 1.1]) {
            const inputs = seenAt(edge, share * edge.at);
            expect(operates(own, inputs)).toBe(share > 1);
            const points = pointsOf(inputs, own).filter(({ x }) => x > 1e-9);
            for (const { x, y } of points) {
              expect(Math.abs(x / restraint - 1)).toBeLessThan(1e-9);
              expect(Math.abs(y - share * edge.at)).toBeLessThan(1e-9 * restraint);
            }
          }
        }
      }),
      300,
    );
    expect(swept).toBeGreaterThan(300);
  });

  test("are below the first knee, on the first slope, and twice on the last", () => {
    const all = onTheLine(setting(), { ...single, currentChannels: 3 });
    // Level from 0.75 A, where one side alone restrains so much, to 6 A; 0.25 × up to 10 A; 2.5 A and 0.6 × beyond.
    expect(all.map(({ name, at }) => [name, Number(at.toPrecision(6))])).toEqual([
      ["restraint-1", 1.5],
      ["restraint-2", 2],
      ["restraint-3", 4],
      ["restraint-4", 8.5],
    ]);
    expect(all.map(({ pose }) => pose.kind === "found" && /of ([\d.]+) A/.exec(pose.note ?? "")?.[1])).toEqual([
      "3.38",
      "8",
      "12.5",
      "20",
    ]);
  });

  test("cannot be shown with one channel, and the reason says why", () => {
    const all = onTheLine(setting(), single);
    expect(all.map(({ pose }) => pose)).toEqual(
      Array(4).fill({ kind: "none", reason: expect.stringContaining("one current channel") }),
    );
  });

  test("of a line that begins with a step lie beside the step, not on it", () => {
    const stepped = setting({
      restraint: "maximum",
      slopes: [
        { slope: 0.2, line: "through-origin" },
        { slope: 0.6, line: "through-origin", begins: 10 },
      ],
    });
    const all = onTheLine(stepped, { ...single, currentChannels: 3 });
    for (const edge of all) {
      expect([
        operates(stepped, seenAt(edge, 1.01 * edge.at)),
        operates(stepped, seenAt(edge, 0.99 * edge.at)),
      ]).toEqual([true, false]);
    }
    // 2 A below the step at 10 A of restraint, 6 A above it.
    expect(all.map(({ at }) => Number(at.toPrecision(6)))).toEqual([1.5, 1.75, 7.5, 12]);
  });
});

describe("where it has to stay quiet", () => {
  const still = (given: DifferentialSetting, setup: Setup, name: string) =>
    (definitionOf("87T").stills?.(given, setup) ?? []).find((one) => one.name === name);

  test("a current that passes through leaves nothing, for every vector group and both rotations", () => {
    holds(
      fc.property(settings, withTwo, fc.constantFrom("through-load", "through-fault"), (given, setup, name) => {
        const { level, ...rest } = still(given, setup, name)!;
        const inputs = seenAt({ level, ...rest } as Still, level);
        for (const { y } of pointsOf(inputs, given)) expect(y).toBeLessThan(1e-9 * level);
        expect(Math.max(...pointsOf(inputs, { ...given, restraint: "maximum" }).map(({ x }) => x))).toBeCloseTo(
          level,
          9,
        );
        expect(operates(given, inputs)).toBe(false);
      }),
    );
  });

  test("of a wrong clock number or a reversed side is differential current", () => {
    const dyn = zoneWith({}, { clock: 11, zeroSequence: "removed" });
    const load = still(
      setting({ zone: dyn }),
      { ...single, currentChannels: 3, secondCurrentChannels: 3 },
      "through-load",
    )!;
    const seenBy = (clock: number) =>
      operates(setting({ zone: zoneWith({}, { clock, zeroSequence: "removed" }) }), seenAt(load, load.level));
    expect([11, 10, 0, 1, 5].map(seenBy)).toEqual([false, true, true, true, true]);
  });

  test("the second side lags by its clock number where the system turns ABC, and leads where it turns ACB", () => {
    for (const [rotation, turn] of [
      ["ABC", 150],
      ["ACB", -150],
    ] as const) {
      const setup = { ...single, rotation, currentChannels: 3, secondCurrentChannels: 3 } as const;
      const load = still(setting({ zone: zoneWith({}, { clock: 1 }) }), setup, "through-load")!;
      const { ia, ia2 } = seenAt(load, load.level);
      expect(angle(divide(ia2!, ia!))).toBeCloseTo(turn, 9);
    }
  });

  test("one channel through both sides in series passes through where both are compared alike", () => {
    const through = still(setting(), single, "through-load")!;
    expect(through.pose).toMatchObject({ kind: "found", wiring: { i: { feeds: { ia: 1, ia2: -1 } } } });
    expect(seenAt(through, 5)).toMatchObject({ ia: { re: 5 }, ia2: { re: -5 } });
    const uneven = still(setting({ zone: zoneWith({}, { ratedCurrent: 1 }) }), single, "through-load")!;
    expect(uneven.pose).toMatchObject({ kind: "none", reason: expect.stringContaining("one current channel") });
    const turned = still(setting({ zone: zoneWith({}, { clock: 6 }) }), single, "through-load")!;
    expect(turned.pose).toMatchObject({ kind: "found", wiring: { i: { feeds: { ia: 1, ia2: 1 } } } });
  });

  test("the zero sequence of a side that takes it out counts nothing, and would count where it is kept", () => {
    holds(
      fc.property(settings, bench, (given, setup) => {
        const names = (definitionOf("87T").stills?.(given, setup) ?? []).map(({ name }) => name);
        for (const [name, side, suffix] of [
          ["zero-sequence", "first", ""],
          ["zero-sequence-2", "second", "2"],
        ] as const) {
          const { clock, zeroSequence } = given.zone[side];
          expect(names.includes(name)).toBe(clock % 2 === 1 || zeroSequence === "removed");
          const one = still(given, setup, name);
          if (one === undefined) continue;
          const inputs = seenAt(one, one.level);
          expect(operates(given, inputs)).toBe(false);
          const share = given.zone[side].ratedCurrent / given.zone.first.ratedCurrent;
          expect(magnitude(phasesOf(inputs, suffix).b) / share).toBeCloseTo(one.level, 9);
          const kept = { ...given.zone[side], clock: 0, zeroSequence: "kept" } as const;
          const deaf = {
            ...given,
            slopes: [{ slope: 0.1, line: "through-origin" }],
            zone: { ...given.zone, [side]: kept },
          } as const;
          expect(operates(deaf, inputs)).toBe(true);
        }
      }),
      100,
    );
  });

  test("the second side alone starts it where the first does, by its own rated current and vector group", () => {
    const secondOf = (edges: readonly Edge[] | undefined) => edges?.find(({ name }) => name === "second-side");
    holds(
      fc.property(settings, bench, (given, setup) => {
        const edge = secondOf(definitionOf("87T").edges?.(given, setup));
        expect(edge).toMatchObject({ unit: "A", side: "over", at: given.pickup, heldTo: "pickup" });
        const first = definitionOf("87T").pose(given, setup);
        expect(edge?.pose.kind).toBe(first.kind);
        if (edge?.pose.kind !== "found") return;
        const inputs = [1 + 1e-9, 1 - 1e-9].map((share) => seenAt(edge, share * edge.at));
        expect(inputs.map((seen) => operates(given, seen))).toEqual([true, false]);
        expect(Object.keys(inputs[0]!).every((name) => name.endsWith("2"))).toBe(true);
        // Had it the rated current of another transformer, it would start elsewhere.
        const { first: one, second } = given.zone;
        const other = {
          ...given,
          zone: { first: one, second: { ...second, ratedCurrent: 1.1 * second.ratedCurrent } },
        };
        expect(operates(other, inputs[0]!)).toBe(false);
      }),
    );
    holds(
      fc.property(zones, bench, number(1, 40), (zone, setup, pickup) => {
        const high = { ...common, function: "87U", pickup, zone } as UnrestrainedDifferentialSetting;
        const edge = secondOf(definitionOf("87U").edges?.(high, setup));
        if (edge?.pose.kind !== "found") throw new Error("no pose");
        expect(edge.at).toBe(pickup);
        expect(definitionOf("87U").read(seenAt(edge, pickup), high).quantity / pickup).toBeCloseTo(1, 12);
      }),
    );
  });

  const SIDES = [
    ["", "first", "second"],
    ["-2", "second", "first"],
  ] as const;

  test("the zero sequence of a side that keeps it starts a transformer differential at its setting, and no other", () => {
    holds(
      fc.property(settings, bench, (given, setup) => {
        const edges = definitionOf("87T").edges?.(given, setup) ?? [];
        for (const [number, side] of SIDES) {
          const edge = edges.find(({ name }) => name === `zero-sequence${number}`);
          const own = given.zone[side];
          expect(edge !== undefined).toBe(own.clock % 2 === 0 && own.zeroSequence === "kept");
          if (edge?.pose.kind !== "found") continue;
          const seen = [1.001, 0.999].map((share) => seenAt(edge, share * edge.at));
          expect(seen.map((inputs) => operates(given, inputs))).toEqual([true, false]);
          const deaf = { ...given, zone: { ...given.zone, [side]: { ...own, zeroSequence: "removed" } } };
          expect(operates(deaf, seenAt(edge, 10 * edge.at))).toBe(false);
        }
        expect(
          definitionOf("87")
            .edges?.(setting({ function: "87" }), setup)
            .map(({ name }) => name),
        ).not.toContain("zero-sequence");
      }),
      100,
    );
  });

  test("an earth fault outside passes through but for its zero sequence, whatever the vector group", () => {
    holds(
      fc.property(settings, withTwo, (given, setup) => {
        for (const [number, side, other] of SIDES) {
          const fault = still(given, setup, `earth-fault${number}`);
          const own = given.zone[side];
          expect(fault !== undefined).toBe(own.clock % 2 === 1 || own.zeroSequence === "removed");
          if (fault === undefined) continue;
          const inputs = seenAt(fault, fault.level);
          expect(operates(given, inputs)).toBe(false);
          const per = (name: "first" | "second", phases: Phases) => {
            const { ratedCurrent, ...turned } = given.zone[name];
            return contribution(phases, turned as Zone["first"]).map((x) => scale(x, 1 / ratedCurrent));
          };
          const [here, there] = [
            phasesOf(inputs, side === "first" ? "" : "2"),
            phasesOf(inputs, side === "first" ? "2" : ""),
          ];
          expect([here.b, here.c].map(magnitude)).toEqual([0, 0]);
          expect(magnitude(here.a) / own.ratedCurrent).toBeCloseTo(fault.level / given.zone.first.ratedCurrent, 9);
          expect(magnitude(toComponents(there).zero)).toBeLessThan(1e-12 * magnitude(here.a) + 1e-12);
          const [one, two] = [per(side, here), per(other, there)];
          for (const phase of [0, 1, 2]) expect(magnitude(add(one[phase]!, two[phase]!))).toBeLessThan(1e-9);
          if (own.clock % 2 === 1) continue;
          const slopes = [{ slope: 0.1, line: "through-origin" }] as const;
          const deaf = { ...given, slopes, zone: { ...given.zone, [side]: { ...own, zeroSequence: "kept" } } } as const;
          expect(operates(deaf, inputs)).toBe(true);
        }
      }),
      200,
    );
  });

  test.each([
    // By the windings that share a limb: behind phase a of a Dyn11 lies the winding between A and B, whose voltage is at +30°.
    ["Dyn11, on the star side", { clock: 0 }, { clock: 11 }, "-2", [-1 / Math.sqrt(3), 1 / Math.sqrt(3), 0]],
    ["Dyn1, on the star side", { clock: 0 }, { clock: 1 }, "-2", [-1 / Math.sqrt(3), 0, 1 / Math.sqrt(3)]],
    ["Dyn5, on the star side", { clock: 0 }, { clock: 5 }, "-2", [1 / Math.sqrt(3), -1 / Math.sqrt(3), 0]],
    ["YNd11, on the star side", { clock: 0 }, { clock: 11 }, "", [-1 / Math.sqrt(3), 0, 1 / Math.sqrt(3)]],
    ["Yyn0, on the earthed side", { clock: 0 }, { clock: 0 }, "-2", [-2 / 3, 1 / 3, 1 / 3]],
    ["Yyn6, on the earthed side", { clock: 0 }, { clock: 6 }, "-2", [2 / 3, -1 / 3, -1 / 3]],
  ])(
    "an earth fault outside of a %s is on the other side what its windings make of it",
    (_what, one, two, number, shares) => {
      const removed = { ratedCurrent: 5, zeroSequence: "removed" } as const;
      const given = setting({ zone: { first: { ...removed, ...one }, second: { ...removed, ...two } } });
      for (const setup of benches.filter(({ currentChannels }) => currentChannels === 3)) {
        const inputs = seenAt(still(given, setup, `earth-fault${number}`)!, 1);
        const other = phasesOf(inputs, number === "" ? "2" : "");
        [other.a, other.b, other.c].forEach((phase, i) => {
          expect(phase.re).toBeCloseTo(shares[i]!, 12);
          expect(phase.im).toBeCloseTo(0, 12);
        });
      }
      expect(still(given, single, `earth-fault${number}`)?.pose).toMatchObject({
        kind: "none",
        reason: expect.stringContaining("one current channel"),
      });
    },
  );

  test("an earth fault outside, on the earthed star side of a YNd1, leaves nothing but where the zero sequence is kept", () => {
    // One phase of the star side carries the fault; the lines of the delta carry its positive and negative sequence.
    const star: Phases = { a: polar(12, 0), b: NOTHING, c: NOTHING };
    const { positive, negative } = toComponents(star);
    const delta = fromComponents({ zero: NOTHING, positive: rotate(positive, 150), negative: rotate(negative, -150) });
    const inputs = Object.fromEntries(
      (["a", "b", "c"] as const).flatMap((phase) => [
        [`i${phase}`, { ...star[phase], frequency: 50 }],
        [`i${phase}2`, { ...delta[phase], frequency: 50 }],
      ]),
    );
    const turning = { clock: 1, zeroSequence: "removed" };
    const zone = (zeroSequence: string) => zoneWith({ zeroSequence }, turning);
    expect(operates(setting({ zone: zone("removed") }), inputs)).toBe(false);
    expect(operates(setting({ zone: zone("kept") }), inputs)).toBe(true);
    // The same, compensated on the star side: the delta lags by 1, so the star lags the delta by 11.
    const onStar = zoneWith({ clock: 11, zeroSequence: "removed" }, {});
    expect(operates(setting({ zone: onStar }), inputs)).toBe(false);
  });
});

describe("the second harmonic", () => {
  const blocked = setting({ secondHarmonic: 0.15 });
  /** 4 A on phases of the first side with so much second harmonic. */
  const distorted = (share: number, phases = "a"): RelayInputs =>
    Object.fromEntries(
      [...phases].map((phase) => [
        `i${phase}`,
        { re: 4, im: 0, frequency: 50, harmonics: { 2: { re: 0, im: 4 * share } } },
      ]),
    );

  test("blocks from its ratio on, the restrained stage alone", () => {
    expect([0, 0.149, 0.151, 0.5].map((share) => operates(blocked, distorted(share)))).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(operates(setting(), distorted(0.5))).toBe(true);
    const high = { ...common, function: "87U", pickup: 3, zone: plainZone } as UnrestrainedDifferentialSetting;
    expect(Number.isFinite(operateTimeOf(high, distorted(0.5)))).toBe(true);
  });

  test("blocks its own phase and no other, and other harmonics block nothing", () => {
    const one = { ...distorted(0.3), ib: { re: 4, im: 0, frequency: 50 } };
    expect(operates(blocked, one)).toBe(true);
    expect(operates(blocked, distorted(0.3, "abc"))).toBe(false);
    const third = { ia: { re: 4, im: 0, frequency: 50, harmonics: { 3: { re: 4, im: 0 } } } };
    expect(operates(blocked, third)).toBe(true);
  });

  test("is that of the differential current, compensated: what passes through has none", () => {
    const through = { ...distorted(0.5), ia2: { re: -1, im: 0, frequency: 50, harmonics: { 2: { re: 0, im: -2 } } } };
    expect(operates(blocked, through)).toBe(true);
    const turned = { ...blocked, zone: zoneWith({ zeroSequence: "removed" }, {}) };
    // In all three phases alike it is zero sequence, and so is the current itself.
    expect(operates(turned, distorted(0, "abc"))).toBe(false);
  });

  test("is weighed at an edge: quiet below the place, operating above, and quiet with more of it", () => {
    holds(
      fc.property(settings, bench, number(0.05, 0.4), (given, setup, secondHarmonic) => {
        const own = { ...given, secondHarmonic };
        const edge = definitionOf("87T")
          .edges?.(own, setup)
          ?.find(({ name }) => name === "second-harmonic");
        fc.pre(edge?.pose.kind === "found");
        expect(edge?.at).toBe(2 * own.pickup);
        expect([
          operates(own, seenAt(edge!, 1.001 * edge!.at)),
          operates(own, seenAt(edge!, 0.999 * edge!.at)),
        ]).toEqual([true, false]);
        const still = definitionOf("87T")
          .stills?.(own, setup)
          ?.find(({ name }) => name === "second-harmonic");
        expect(operates(own, seenAt(still!, still!.level))).toBe(false);
        expect(operates(given, seenAt(still!, still!.level))).toBe(true);
      }),
    );
  });
});

describe("an unrestrained differential function", () => {
  const unrestrained = (zone: Zone): UnrestrainedDifferentialSetting =>
    ({ ...common, id: "87U", function: "87U", pickup: 30, zone }) as UnrestrainedDifferentialSetting;

  test("reads the largest differential current, whatever passes through", () => {
    const inputs = { ia: { re: 100, im: 0, frequency: 50 }, ia2: { re: -14, im: 0, frequency: 50 } };
    // 5 A against 1 A: 14 A of the second side are 70 A of the first.
    const { read } = definitionOf("87U");
    expect(read(inputs, unrestrained(zoneWith({}, { ratedCurrent: 1 }))).quantity).toBeCloseTo(30, 12);
  });

  test("has to stay quiet for more than its setting from outside", () => {
    holds(
      fc.property(zones, withTwo, (zone, setup) => {
        const given = unrestrained(zone);
        const [still] = definitionOf("87U").stills?.(given, setup) ?? [];
        expect(still?.level).toBe(36);
        expect(Number.isFinite(operateTimeOf(given, seenAt(still!, 36)))).toBe(false);
      }),
    );
  });
});

describe("settings that are none", () => {
  test.each([
    [{ restraint: "largest" }, "restraint"],
    [{ slopes: [] }, "slopes"],
    [{ slopes: [{ slope: 0, line: "through-origin" }] }, "slopes[0].slope"],
    [{ slopes: [{ slope: 0.3, line: "from-knee" }] }, "slopes[0].begins"],
    [
      {
        slopes: [
          { slope: 0.3, line: "from-knee", begins: 5 },
          { slope: 0.6, line: "from-knee", begins: 4 },
        ],
      },
      "slopes[1].begins",
    ],
    [{ secondHarmonic: 0 }, "secondHarmonic"],
    [{ zone: undefined }, "zone"],
    [{ zone: { first: plainZone.first } }, "zone.second"],
    [{ zone: zoneWith({ ratedCurrent: 0 }, {}) }, "zone.first.ratedCurrent"],
    [{ zone: zoneWith({}, { clock: 12 }) }, "zone.second.clock"],
    [{ zone: zoneWith({}, { zeroSequence: "out" }) }, "zone.second.zeroSequence"],
    [{ function: "87", zone: zoneWith({}, { clock: 1 }) }, "zone.second.clock"],
    [{ function: "87", zone: zoneWith({ zeroSequence: "removed" }, {}) }, "zone.first.zeroSequence"],
    [{ law: { ...common.law, startRatio: 1.1 } }, "law.startRatio"],
    [{ law: { curve: "iec-inverse" } }, "law.curve"],
  ])("%j", (change, path) => {
    expect(problemsOf(() => checkedDefinition(setting(change)))).toMatchObject([{ path }]);
  });
});
