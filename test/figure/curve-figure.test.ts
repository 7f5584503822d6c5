/** Curves with bands and readings: what is drawn is what `curve` and `grading` say. */
import fc from "fast-check";
import { type CurveSetting, operateTime, type TimeRule, timeBand } from "tripwright/curve";
import { type CurveFigureOptions, curveFigure } from "tripwright/figure";
import { band } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { between, overSettings } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { axisOf, checkData, drawn, layersOf, rowsOf } from "./drawn.js";

const very: CurveSetting = { curve: "iec-very-inverse", multiplier: 0.2 };
const figureOf = (curve: Partial<CurveFigureOptions["curves"][number]>, other: Partial<CurveFigureOptions> = {}) =>
  curveFigure({ title: "Tannery Lane", curves: [{ name: "51P", setting: very, ...curve }], ...other });

const at = (row: { readonly [field: string]: unknown }) =>
  row as { multiple: number; time: number; low: number; high: number };

describe("every point", () => {
  test("of a curve is its operate time, and all of it lies on the axes", () => {
    holds(
      fc.property(overSettings, (setting) => {
        const figure = figureOf({ setting });
        const rows = rowsOf(figure, /^curve/).map(at);
        expect(rows.length).toBeGreaterThan(100);
        for (const { multiple, time } of rows) expect(time).toBe(operateTime(setting, multiple));
        checkData(figure);
      }),
      60,
    );
  });

  const rules: fc.Arbitrary<TimeRule> = fc.oneof(
    fc.record({ form: fc.constantFrom("assigned-error" as const, "class-index" as const), percent: between(0.5, 10) }),
    fc.record({ form: fc.constant("constant" as const), percent: between(0.5, 10), pickupPercent: between(0, 5) }),
    fc.record({ form: fc.constant("constant" as const), absolute: between(0.01, 0.2) }),
  );

  test("of a limit is that of the band, where it lies on the axis of times", () => {
    holds(
      fc.property(overSettings, rules, (setting, accepted) => {
        const figure = figureOf({ setting, accepted });
        const limits = rowsOf(figure, /^limits/);
        for (const row of limits) {
          const { multiple, time } = at(row);
          expect(time).toBe(timeBand(setting, multiple, accepted)[row["side"] as "low" | "high"]);
        }
        checkData(figure);
      }),
      60,
    );
  });

  test("of an area is the band, drawn in to the panel", () => {
    const accepted = { form: "constant", percent: 5, pickupPercent: 4 } as const;
    const figure = figureOf({ accepted });
    const [bottom, top] = axisOf(layersOf(figure)[0] as never, "y").scale.domain;
    const rows = rowsOf(figure, /^band/).map(at);
    expect(rows.length).toBeGreaterThan(100);
    for (const { multiple, low, high } of rows) {
      const limits = timeBand(very, multiple, accepted);
      expect(low).toBe(Math.max(bottom, limits.low as number));
      expect(high).toBe(Math.min(top, limits.high ?? top));
    }
  });

  test("of a plain tolerance is its band, and a side without limit fills the panel", () => {
    const accepted = { percent: 5, absolute: 0.04, side: "high" } as const;
    const figure = figureOf({ accepted });
    const limits = rowsOf(figure, /^limits/);
    expect(new Set(limits.map(({ side }) => side))).toEqual(new Set(["high"]));
    for (const row of limits) expect(row["time"]).toBe(band(operateTime(very, at(row).multiple), accepted).high);
    const [bottom] = axisOf(layersOf(figure)[0] as never, "y").scale.domain;
    for (const row of rowsOf(figure, /^band/)) expect(row["low"]).toBe(bottom);
  });

  test("that was measured stands as it was given, by its verdict", () => {
    const points = [
      { multiple: 3, time: 1.36, verdict: "within" },
      { multiple: 7, time: 0.9, verdict: "outside" },
      { multiple: 10, time: 0.31 },
    ] as const;
    const figure = figureOf({ points });
    expect(rowsOf(figure, /readings 1 within/)).toEqual([{ multiple: 3, time: 1.36 }]);
    expect(rowsOf(figure, /readings 1 outside/)).toEqual([{ multiple: 7, time: 0.9 }]);
    expect(rowsOf(figure, /readings 1$/)).toEqual([{ multiple: 10, time: 0.31 }]);
    expect(rowsOf(figure, /reading labels$/).map(({ label }) => label)).toEqual(["1.36 s", "0.9 s", "0.31 s"]);
    expect(figure.description).toContain(
      "Measured: 1.36 s at 3 times, within; 0.9 s at 7 times, outside; 0.31 s at 10 times.",
    );
  });
});

describe("the axes", () => {
  test("have the ticks 1, 2 and 5, units, and reach where points lie", () => {
    const figure = figureOf({ points: [{ multiple: 40, time: 0.07 }] });
    const [x, y] = (["x", "y"] as const).map((channel) => axisOf(layersOf(figure)[0] as never, channel));
    expect(x?.scale).toMatchObject({ type: "log", domain: [1, 40] });
    expect(x?.axis).toMatchObject({ title: "Multiple of the setting" });
    expect(JSON.stringify(x)).toContain("indexof([1, 2, 5, 10, 20], datum.value)");
    expect(y?.axis.title).toBe("Operate time (s)");
    // 13.5/(1.1 − 1) · 0.2 = 27 s at the top, 13.5/39 · 0.2 = 0.069 s at the bottom.
    expect(y?.scale).toMatchObject({ type: "log", domain: [0.05, 50] });
  });

  test("hold what was asked for", () => {
    const figure = figureOf({}, { multiples: { from: 2, to: 8 } });
    expect(axisOf(layersOf(figure)[0] as never, "x").scale.domain).toEqual([2, 8]);
    const rows = rowsOf(figure, /^curve/).map(at);
    expect([rows[0]?.multiple, rows.at(-1)?.multiple]).toEqual([2, 8]);
  });

  test("of under functions reach 0 on a linear axis", () => {
    const setting: CurveSetting = { curve: "undervoltage-inverse", multiplier: 0.5 };
    const figure = figureOf({ setting, points: [{ multiple: 0, time: 0.5 }] });
    expect(axisOf(layersOf(figure)[0] as never, "x").scale).toMatchObject({ type: "linear", domain: [0, 1] });
    expect(rowsOf(figure, /^curve/)[0]).toMatchObject({ multiple: 0, time: 0.5 });
  });
});

test("no band is drawn where no accuracy is declared", () => {
  const figure = figureOf({ accepted: { form: "assigned-error", percent: 5 } });
  const rows = rowsOf(figure, /^band/).map(at);
  expect(rows[0]?.multiple).toBe(2);
  expect(rowsOf(figure, /^curve/).map(at)[0]?.multiple).toBeLessThan(1.2);
});

test("the step of a band at five times the setting is upright, not slanted", () => {
  const rows = rowsOf(figureOf({ accepted: { form: "assigned-error", percent: 5 } }), /^band/).map(at);
  const step = rows.filter(({ multiple }) => Math.abs(multiple - 5) < 1e-6);
  // 13.5/4 · 0.2 = 0.675 s: 12.5 % of it just below, 7.5 % from there on.
  expect(step[0]?.high).toBeCloseTo(0.675 * 1.125, 6);
  expect(step.at(-1)?.high).toBeCloseTo(0.675 * 1.075, 6);
});

test("a relay that never operated is an arrow at the top, and so in words", () => {
  const figure = figureOf({ points: [{ multiple: 3 }] });
  const [, top] = axisOf(layersOf(figure)[0] as never, "y").scale.domain;
  expect(rowsOf(figure, /^never/)).toEqual([{ multiple: 3, time: top }]);
  expect(rowsOf(figure, /reading labels$/)[0]?.["label"]).toBe("never");
  expect(figure.description).toContain("Measured: never operated at 3 times.");
});

test("the verdict on a relay that never operated stands below its arrow, and the key says what the arrow is", () => {
  const figure = figureOf({ points: [{ multiple: 3, verdict: "outside" }, { multiple: 5 }] });
  expect(rowsOf(figure, /^never 1$/).map(({ multiple }) => multiple)).toEqual([3, 5]);
  expect(rowsOf(figure, /^never 1 outside$/).map(({ multiple }) => multiple)).toEqual([3]);
  const marks = layersOf(figure).filter(({ name }) => name.startsWith("never"));
  expect(marks.map(({ mark }) => [mark["shape"], (mark["yOffset"] as number | undefined) ?? 0])).toEqual([
    ["cross", 15],
    ["triangle-up", 0],
  ]);
  expect(figure.title.subtitle?.[0]).toContain("▲ never operated");
  expect(figureOf({ points: [{ multiple: 3, time: 1 }] }).title.subtitle).toBeUndefined();
});

test("marks stand above the white rims of labels", () => {
  const names = layersOf(figureOf({ points: [{ multiple: 3, time: 1.36, verdict: "within" }] })).map(
    ({ name }) => name,
  );
  expect(names).toContain("reading labels rim");
  expect(names.indexOf("reading labels rim")).toBeLessThan(names.indexOf("readings 1 within"));
});

test("a point with an empty label has none", () => {
  const points = [
    { multiple: 3, time: 1.36, label: "" },
    { multiple: 5, time: 0.7 },
  ];
  expect(rowsOf(figureOf({ points }), /reading labels$/).map(({ label }) => label)).toEqual(["0.7 s"]);
});

test("a long title is broken into lines, a short one is one", () => {
  const title = "Protection of the feeder to Tannery Lane in Corriedale Junction, as found and left";
  expect(title).toHaveLength(82);
  const { text } = figureOf({}, { title }).title;
  expect(text).toHaveLength(2);
  expect((text as readonly string[]).join(" ")).toBe(title);
  expect(figureOf({}).title.text).toBe("Tannery Lane");
});

describe("is drawn", () => {
  const curves: CurveFigureOptions["curves"] = [
    {
      name: "51P",
      setting: very,
      accepted: { percent: 5, absolute: 0.04 },
      points: [{ multiple: 3, time: 1.4, verdict: "outside" }, { multiple: 4 }],
    },
    { name: "definite", setting: { curve: { form: "definite", time: 0.4 } }, accepted: { percent: 1, absolute: 0.04 } },
    { name: "thermal", setting: { curve: { form: "thermal", tau: 600 } } },
    {
      name: "table",
      setting: {
        curve: {
          form: "table",
          points: [
            { multiple: 2, time: 5 },
            { multiple: 9, time: 0.2 },
          ],
        },
      },
      accepted: { form: "constant", percent: 5, pickupPercent: 2 },
    },
    { name: "energy", setting: { curve: { form: "energy", k: 10, maximumTime: 300 }, minimumTime: 0.5 } },
    { name: "ceiling", setting: { curve: "ieee-very-inverse", ceilingMultiple: 8, startRatio: 1.3 } },
  ];
  test.each(curves.map((curve) => [curve.name, [curve]] as const))("%s", async (_name, one) => {
    const svg = await drawn(curveFigure({ title: "One", curves: one }));
    expect(svg).toContain(">Operate time (s)<");
  });

  test("all together, each named", async () => {
    const svg = await drawn(curveFigure({ title: "All", curves }));
    for (const { name } of curves) expect(svg).toContain(`>${name}<`);
  });

  test("under functions, and a narrow axis", async () => {
    await drawn(
      figureOf({
        setting: { curve: "undervoltage-inverse" },
        accepted: { form: "constant", percent: 5, pickupPercent: 1 },
      }),
    );
    await drawn(
      figureOf({ setting: { curve: { form: "excess", k: 1, power: 2 } } }, { multiples: { from: 1.02, to: 1.4 } }),
    );
  });

  test("with names that mean something to a renderer, as text", async () => {
    const names = [
      "datum.x",
      "a[0].b",
      "<script>alert(1)</script>",
      'q"uote',
      "it's",
      "two\nlines\u0000",
      "\ud800half",
      "",
      "51/P",
      "51_P",
    ];
    const svg = await drawn(
      curveFigure({ title: names.join(), curves: names.map((name) => ({ name, setting: very })) }),
    );
    expect(svg).not.toContain("<script");
    expect(svg).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(svg).not.toMatch(/\p{Cs}|(?![\n\t])\p{Cc}/u);
  });
});

describe("refuses", () => {
  const options = (change: object) =>
    ({ title: "t", curves: [{ name: "51P", setting: very }], ...change }) as CurveFigureOptions;
  const withCurve = (change: object) => options({ curves: [{ name: "51P", setting: very, ...change }] });
  test.each([
    ["an unknown option", options({ colour: "red" }), "colour"],
    ["no title", options({ title: undefined }), "title"],
    ["no curves", options({ curves: undefined }), "curves"],
    ["an empty list", options({ curves: [] }), "curves"],
    ["an unknown field", withCurve({ color: "red" }), "curves[0].color"],
    ["an unknown curve", withCurve({ setting: { curve: "steep" } }), "curves[0].setting.curve"],
    ["a bad multiplier", withCurve({ setting: { ...very, multiplier: 0 } }), "curves[0].setting.multiplier"],
    ["a time of 0 s", withCurve({ setting: { curve: { form: "definite", time: 0 } } }), "curves[0].setting"],
    ["a bad rule", withCurve({ accepted: { form: "constant", percent: -1 } }), "curves[0].accepted.percent"],
    ["a bad tolerance", withCurve({ accepted: { percent: -1 } }), "curves[0].accepted.percent"],
    ["a measured time of 0 s", withCurve({ points: [{ multiple: 3, time: 0 }] }), "curves[0].points[0].time"],
    [
      "a multiple that is none",
      withCurve({ points: [{ multiple: Number.NaN, time: 1 }] }),
      "curves[0].points[0].multiple",
    ],
    [
      "a multiple of 0 on a logarithmic axis",
      withCurve({ points: [{ multiple: 0, time: 1 }] }),
      "curves[0].points[0].multiple",
    ],
    [
      "an unknown verdict",
      withCurve({ points: [{ multiple: 3, time: 1, verdict: "fine" }] }),
      "curves[0].points[0].verdict",
    ],
    ["points that are no list", withCurve({ points: 3 }), "curves[0].points"],
    ["multiples from 0", options({ multiples: { from: 0, to: 2 } }), "multiples.from"],
    ["multiples that end before they begin", options({ multiples: { from: 3, to: 2 } }), "multiples.to"],
    ["multiples at which nothing operates", options({ multiples: { from: 0.2, to: 0.9 } }), "curves[0].setting"],
    [
      "over and under functions on one axis",
      options({
        curves: [
          { name: "a", setting: very },
          { name: "b", setting: { curve: "undervoltage-inverse" } },
        ],
      }),
      "curves[1].setting.curve",
    ],
  ])("%s", (_what, given, path) => {
    expect(problemsOf(() => curveFigure(given))[0]?.path).toBe(path);
  });
});
