import { readFileSync } from "node:fs";
import { plan, readSheet } from "tripwright/plan";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { inverse51, read, tanneryLane, undervoltage27, usual } from "../support/sheets.js";

const good = { id: "51P", function: "51", pickup: "4 A", curve: "iec-inverse", startContact: "start", accuracy: usual };

const problemsWith = (element: object, other: object = {}) =>
  problemsOf(() => readSheet(tanneryLane([{ ...good, ...element }], other)));

describe("a good sheet", () => {
  test.each(["tannery-lane", "tannery-lane-60hz"])("the shipped sheet %s is read, and comes back as typed", (name) => {
    const typed = JSON.parse(readFileSync(new URL(`../../examples/${name}/sheet.json`, import.meta.url), "utf8"));
    expect(readSheet(typed)).toEqual(typed);
  });

  test("survives JSON and back, and is good again", () => {
    const sheet = read([good]);
    expect(readSheet(JSON.parse(JSON.stringify(sheet)))).toEqual(sheet);
  });
});

describe("a bad sheet lists every problem at once", () => {
  // Found by npm run fuzz: a TypeError, for the slip that is made most often.
  test.each([undefined, null, "5 %"])("an element whose accuracy is %s, and what else is wrong", (accuracy) => {
    const paths = problemsWith({ accuracy }, { frequency: "50 V" }).map(({ path }) => path);
    expect(paths.toSorted()).toEqual(["elements[0].accuracy", "frequency"]);
  });

  test("in several elements and in the head", () => {
    const problems = problemsOf(() =>
      readSheet({
        ...tanneryLane([
          { ...good, pickup: "4 V" },
          { ...good, id: "51Q", pickup: -1, curve: "steep" },
          { ...good, id: "50P", function: "50", curve: undefined, delay: "-1 s", measuringDelay: "-2 ms" },
        ]),
        frequency: "50 V",
        feeder: undefined,
        colour: "green",
      }),
    );
    expect(problems.map(({ path, code }) => `${path} ${code}`).toSorted()).toEqual(
      [
        "colour unknown-key",
        "elements[0].pickup wrong-unit",
        "elements[1].curve unknown-name",
        "elements[1].pickup out-of-range",
        "elements[2].delay out-of-range",
        "elements[2].measuringDelay out-of-range",
        "feeder missing",
        "frequency wrong-unit",
      ].toSorted(),
    );
  });

  test("in the words of the person who typed it", () => {
    const elements = [good, { ...good, id: "a" }, { ...good, id: "b", pickup: "4 V" }];
    expect(() => readSheet(tanneryLane(elements))).toThrow(
      'elements[2].pickup: expected a current such as "4 A", received "4 V"',
    );
  });

  test.each([
    ["a missing pickup", { pickup: undefined }, "elements[0].pickup", "missing"],
    ["a pickup that is no text and no number", { pickup: true }, "elements[0].pickup", "wrong-type"],
    ["a decimal comma", { pickup: "4,5 A" }, "elements[0].pickup", "decimal-comma"],
    ["a pickup without a unit", { pickup: "4" }, "elements[0].pickup", "wrong-unit"],
    ["nonsense", { pickup: "four" }, "elements[0].pickup", "unreadable"],
    ["infinity", { pickup: Number.POSITIVE_INFINITY }, "elements[0].pickup", "not-finite"],
    ["a pickup beyond a double", { pickup: "1e999 A" }, "elements[0].pickup", "out-of-range"],
    ["a pickup of zero", { pickup: 0 }, "elements[0].pickup", "out-of-range"],
    ["a misspelt field", { pikcup: 1 }, "elements[0].pikcup", "unknown-key"],
    ["a field of another function", { phases: "any" }, "elements[0].phases", "unknown-key"],
    ["an unknown function", { function: "52" }, "elements[0].function", "unknown-name"],
    ["both a delay and a curve", { delay: 1 }, "elements[0].delay", "conflict"],
    ["neither a delay nor a curve", { curve: undefined }, "elements[0].delay", "missing"],
    [
      "a multiplier without a curve",
      { curve: undefined, delay: 1, multiplier: 0.2 },
      "elements[0].multiplier",
      "not-applicable",
    ],
    ["a multiplier of zero", { multiplier: 0 }, "elements[0].multiplier", "out-of-range"],
    [
      "constants outside their domain",
      { curve: { form: "inverse", k: 0, alpha: 1, c: 0 } },
      "elements[0].curve.k",
      "out-of-range",
    ],
    ["an under curve on an over function", { curve: "undervoltage-inverse" }, "elements[0].curve", "conflict"],
    ["one contact for start and trip", { startContact: "trip" }, "elements[0].startContact", "conflict"],
    [
      "an accuracy without a tolerance",
      { accuracy: { pickup: {}, time: { percent: 5 } } },
      "elements[0].accuracy.pickup",
      "missing",
    ],
    [
      "a tolerance of nothing",
      { accuracy: { ...usual, pickup: { percent: 0 } } },
      "elements[0].accuracy.pickup",
      "out-of-range",
    ],
    [
      "a percentage of no delay",
      { function: "50", curve: undefined, startContact: undefined, accuracy: { ...usual, time: { percent: 5 } } },
      "elements[0].accuracy.time.absolute",
      "missing",
    ],
    [
      "a negative tolerance",
      { accuracy: { ...usual, pickup: { percent: -5 } } },
      "elements[0].accuracy.pickup.percent",
      "out-of-range",
    ],
    [
      "a time where a current belongs",
      { accuracy: { ...usual, pickup: { absolute: "5 ms" } } },
      "elements[0].accuracy.pickup.absolute",
      "wrong-unit",
    ],
    ["a dropout beyond the start", { dropoutRatio: 1.2 }, "elements[0].dropoutRatio", "out-of-range"],
    [
      "a dropout farther back than zero",
      { dropoutRatio: undefined, dropoutDifference: "400 A" },
      "elements[0].dropoutDifference",
      "out-of-range",
    ],
  ])("%s", (_what, element, path, code) => {
    expect(problemsWith(element).map((problem) => [problem.path, problem.code])).toEqual([[path, code]]);
  });

  test.each([
    ["no current transformer", { ct: undefined }, "ct", "missing"],
    ["a ratio of nothing", { ct: "400/0" }, "ct", "out-of-range"],
    ["a ratio the wrong way round", { ct: "5/400" }, "ct", "out-of-range"],
    ["a ratio in the wrong unit", { ct: "400 V/5 A" }, "ct", "wrong-unit"],
    ["a ratio without a slash", { ct: "80" }, "ct", "unreadable"],
    ["a ratio of three", { ct: "400:5:1" }, "ct", "unreadable"],
    ["a frequency of zero", { frequency: 0 }, "frequency", "out-of-range"],
    ["a source of two channels", { source: { currentChannels: 2 } }, "source.currentChannels", "unknown-name"],
    ["a source that makes nothing", { source: { maximumCurrent: "0 A" } }, "source.maximumCurrent", "out-of-range"],
    [
      "a power without a burden",
      { source: { currentOutput: { power: "100 VA" } } },
      "source.currentOutput.burden",
      "missing",
    ],
    [
      "a compliance without a burden",
      { source: { currentOutput: { compliance: "10 V" } } },
      "source.currentOutput.burden",
      "missing",
    ],
    [
      "a compliance of a voltage channel",
      { source: { voltageOutput: { compliance: "10 V" } } },
      "source.voltageOutput.compliance",
      "unknown-key",
    ],
    [
      "a duty in the wrong unit",
      { source: { currentOutput: { duty: [{ above: "20 A", atMost: "10 A" }] } } },
      "source.currentOutput.duty[0].atMost",
      "wrong-unit",
    ],
    [
      "a range upside down",
      { source: { frequency: { minimum: "70 Hz", maximum: "40 Hz" } } },
      "source.frequency.maximum",
      "out-of-range",
    ],
    ["no elements", { elements: [] }, "elements", "wrong-length"],
    ["another format", { format: "tripwright/sheet@2" }, "format", "unknown-name"],
  ])("%s", (_what, other, path, code) => {
    expect(problemsWith({}, other).map((problem) => [problem.path, problem.code])).toEqual([[path, code]]);
  });

  test.each([
    [{ form: "table", points: [{ multiple: 2, time: "1 A" }] }, "points[0].time", "wrong-unit"],
    [{ form: "table", points: [{ multiple: 2 }] }, "points[0].time", "missing"],
    [{ form: "table", points: [{ multiple: "2", time: 1 }] }, "points[0].multiple", "wrong-type"],
    [{ form: "table", points: [{ multiple: 2, time: 1, at: 3 }] }, "points[0].at", "unknown-key"],
    [{ form: "table", points: [3] }, "points[0]", "wrong-type"],
    [{ form: "table" }, "points", "missing"],
    [{ form: "table", points: "2, 1 s" }, "points", "wrong-type"],
    [{ form: "inverse", k: "0.14 s", alpha: "0.02", c: 0 }, "alpha", "wrong-type"],
    [{ form: "inverse", k: "-1 s", alpha: 0.02, c: 0 }, "k", "out-of-range"],
    [{ form: "energy", k: "10 s", maximumTime: "2 min 10 s" }, "maximumTime", "unreadable"],
    [{ form: "steep", k: "10 s" }, "form", "unknown-name"],
    [{ k: "0.14 s", alpha: 0.02, c: 0 }, "form", "missing"],
  ])("constants of a curve are told where they are bad: %j", (curve, field, code) => {
    const path = `elements[0].curve.${field}`;
    expect(problemsWith({ curve }).map((problem) => [problem.path, problem.code])).toEqual([[path, code]]);
  });

  test("the message says what belongs there, by the form that was typed", () => {
    const messageWith = (curve: unknown) => problemsWith({ curve }).map(({ expected }) => expected);
    expect(messageWith({ form: "table", points: [{ multiple: 2, time: "1 A" }] })).toEqual([
      'a time such as "250 ms" or "12 cycles"',
    ]);
    expect(messageWith({ form: "energy", k: 10, power: 2 })).toEqual(["one of form, k, maximumTime"]);
    expect(messageWith({ k: 10 })).toEqual(["one of inverse, under, excess, energy, thermal, table"]);
    for (const curve of ["steep", 3, null, true])
      expect(messageWith(curve)).toEqual([expect.stringMatching(/^one of iec-inverse, .* or constants such as/)]);
  });

  test("a curve with a bad time is not held against its function as well", () => {
    const under = { ...undervoltage27, delay: undefined, curve: { form: "under", k: "-1 s", alpha: 1, c: 0 } };
    expect(problemsOf(() => readSheet(tanneryLane([under]))).map(({ path }) => path)).toEqual(["elements[0].curve.k"]);
  });

  test("a reset that the law cannot follow: it was taken, and no plan could be made", () => {
    const { curve: _, multiplier: __, ...definite } = { ...inverse51, delay: "1 s" };
    const thermal = {
      ...definite,
      function: "49",
      watches: "phase",
      delay: undefined,
      curve: { form: "thermal", tau: 600 },
    };
    const inverse27 = { ...undervoltage27, delay: undefined, curve: "undervoltage-inverse" };
    const refused = (element: object) =>
      problemsOf(() => readSheet(tanneryLane([element]))).map(({ path, code }) => [path, code]);
    // No curve of IEC has the constant of a disk, and a definite time has none either.
    for (const element of [inverse51, definite])
      expect(refused({ ...element, reset: { form: "disk" } })).toEqual([["elements[0].reset.time", "missing"]]);
    // A thermal image cools, and neither turns back nor is gone at once.
    for (const reset of [{ form: "disk", time: "5 s" }, { form: "instantaneous" }])
      expect(refused({ ...thermal, reset })).toEqual([["elements[0].reset.form", "not-applicable"]]);
    expect(refused({ ...inverse51, reset: { form: "disk", time: "0 s" } })).toEqual([
      ["elements[0].reset.time", "out-of-range"],
    ]);
    for (const time of ["3 s", undefined])
      expect(refused({ ...inverse27, reset: { form: "disk", time } })).toEqual([
        ["elements[0].reset.form", "not-applicable"],
      ]);
    expect(refused({ ...inverse51, reset: { form: "cooling", release: 0.5 } })).toEqual([
      ["elements[0].reset.form", "not-applicable"],
    ]);
    expect(refused({ ...thermal, reset: { form: "cooling", release: 1 } })).toEqual([
      ["elements[0].reset.release", "out-of-range"],
    ]);
    // One slip is told once, and a bad law is not held against its reset.
    expect(refused({ ...inverse51, reset: { form: "disk", time: "-1 s" } })).toEqual([
      ["elements[0].reset.time", "out-of-range"],
    ]);
    expect(refused({ ...inverse51, multiplier: 0, reset: { form: "disk" } })).toEqual([
      ["elements[0].multiplier", "out-of-range"],
    ]);
  });

  test("a value of the wrong type is told once, also where the law is held against it", () => {
    for (const field of ["multiplier", "startRatio", "ceilingMultiple"])
      expect(problemsWith({ [field]: "0.2" })).toMatchObject([{ path: `elements[0].${field}`, code: "wrong-type" }]);
  });

  test("a reset that it can follow is taken and planned", () => {
    for (const element of [
      { ...inverse51, reset: { form: "disk", time: "9 s" } },
      { ...inverse51, curve: "ieee-very-inverse", reset: { form: "disk" } },
      { ...inverse51, reset: { form: "definite", time: "0 s" } },
      { ...undervoltage27, reset: { form: "definite", time: "1 s" } },
    ])
      expect(plan(readSheet(tanneryLane([element]))).checks.length).toBeGreaterThan(0);
  });

  test("every time of a curve that is below zero, at once", () => {
    const points = [
      { multiple: 2, time: "-2 s" },
      { multiple: 4, time: "1 s" },
      { multiple: 6, time: "-500 ms" },
    ];
    expect(problemsWith({ curve: { form: "table", points } }).map(({ path, received }) => [path, received])).toEqual([
      ["elements[0].curve.points[0].time", '"-2 s"'],
      ["elements[0].curve.points[2].time", '"-500 ms"'],
    ]);
  });

  test("a drawn curve that ends where the function starts, or before", () => {
    const drawn = (last: number) => {
      const points = [
        { multiple: 0.5, time: "2 s" },
        { multiple: last, time: "1 s" },
      ];
      return { curve: { form: "table", points } };
    };
    readSheet(
      tanneryLane([
        { ...good, ...drawn(1.001) },
        { ...good, ...drawn(1.2), startRatio: 1.1, id: "51Q" },
      ]),
    );
    for (const [element, start] of [
      [drawn(1), 1],
      [{ ...drawn(1.1), startRatio: 1.1 }, 1.1],
    ] as const)
      expect(problemsWith(element)).toMatchObject([
        { path: "elements[0].curve.points", expected: `a point beyond the start at ${start} × the setting` },
      ]);
  });

  test("a tolerance that no double can tell from the setting: 100 MA ± 1 nA", () => {
    const accuracy = { ...good.accuracy, pickup: { absolute: "1e-9 A" } };
    expect(problemsWith({ pickup: "1e8 A", accuracy })).toMatchObject([
      { path: "elements[0].accuracy.pickup", code: "out-of-range" },
    ]);
  });

  test("the same id twice, on the second element", () => {
    const problems = problemsOf(() => readSheet(tanneryLane([good, good])));
    expect(problems.map(({ path, code }) => [path, code])).toEqual([["elements[1].id", "duplicate"]]);
  });

  test.each([[null], [undefined], [42], ["a sheet"], [[]], [{}], [{ elements: 3 }], [{ elements: [null, 3, []] }]])(
    "%j is no sheet",
    (given) => {
      expect(problemsOf(() => readSheet(given)).length).toBeGreaterThan(0);
    },
  );

  test("keys of a prototype are unknown keys", () => {
    const sheet = JSON.parse(JSON.stringify(tanneryLane([good])).replace("{", '{"__proto__":{"values":"primary"},'));
    expect(problemsOf(() => readSheet(sheet)).map(({ path }) => path)).toEqual(["__proto__"]);
  });
});

test("plan reads what was not read", () => {
  expect(problemsOf(() => plan(tanneryLane([{ ...good, pickup: "4 V" }]) as never))).toHaveLength(1);
});
