/** Relays in series: the curves and the margins are those of `curve`. */
import fc from "fast-check";
import { coordinationMargin, operateTime, type SeriesRelay, timeBand } from "tripwright/curve";
import { type SeriesFigureOptions, seriesFigure } from "tripwright/figure";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { axisOf, checkData, drawn, layersOf, rowsOf } from "./drawn.js";

const feeder: SeriesRelay = {
  setting: { curve: "iec-very-inverse", multiplier: 0.2 },
  pickup: 4,
  ct: { primary: 400, secondary: 5 },
};
const incomer: SeriesRelay = {
  setting: { curve: "iec-very-inverse", multiplier: 0.3 },
  pickup: 5,
  ct: { primary: 600, secondary: 5 },
};
const transformer: SeriesRelay = { setting: { curve: "iec-inverse", multiplier: 0.4 }, pickup: 900 };
const currents = { from: 700, to: 8000 };
const relays = [
  { name: "F12", relay: feeder },
  { name: "Incomer", relay: incomer },
  { name: "33 kV", relay: transformer },
];
const figureOf = (change: Partial<SeriesFigureOptions> = {}) =>
  seriesFigure({ title: "Tannery Lane", relays, currents, ...change });

const at = (row: { readonly [field: string]: unknown }) => row as { current: number; time: number; upstream: number };

describe("every curve", () => {
  test("has the times that coordinationMargin has at the same currents", () => {
    const figure = figureOf();
    for (const [i, { relay }] of relays.entries()) {
      const rows = rowsOf(figure, new RegExp(`^curve ${i + 1}`)).map(at);
      expect(rows.length).toBeGreaterThan(100);
      const { points } = coordinationMargin({
        upstream: relay,
        downstream: relay,
        currents: rows.map(({ current }) => current),
      });
      expect(rows.map(({ time }) => time)).toEqual(points.map(({ upstream }) => upstream));
    }
    checkData(figure);
  });

  test("begins where its relay starts, at currents asked for", () => {
    const rows = rowsOf(figureOf(), /^curve 3/).map(at);
    expect(rows[0]?.current).toBeCloseTo(900 * 1.02, 9);
    expect(rows.at(-1)?.current).toBe(8000);
    expect(rowsOf(figureOf(), /^curve 1/).map(at)[0]?.current).toBe(700);
  });

  test("has its band where there is one", () => {
    const accepted = { form: "constant", percent: 5 } as const;
    const figure = figureOf({ relays: [{ name: "F12", relay: feeder, accepted }] });
    const rows = rowsOf(figure, /^limits/);
    expect(rows.length).toBeGreaterThan(200);
    for (const row of rows) {
      const band = timeBand(feeder.setting, at(row).current / 320, accepted);
      expect(row["time"]).toBe(band[row["side"] as "low" | "high"]);
    }
  });
});

describe("the margins", () => {
  test("are the tightest ones between neighbours, from curve to curve", () => {
    holds(
      fc.property(between(0.05, 0.5), between(0.5, 1.5), between(0.1, 0.6), (low, high, required) => {
        const upstream = { ...incomer, setting: { ...incomer.setting, multiplier: high } };
        const downstream = { ...feeder, setting: { ...feeder.setting, multiplier: low } };
        const pair = [
          { name: "a", relay: downstream },
          { name: "b", relay: upstream },
        ];
        const figure = figureOf({ relays: pair, required });
        const { tightest } = coordinationMargin({ upstream, downstream, currents, required });
        const [row] = rowsOf(figure, /^margins$/).map(at);
        expect(row).toEqual({ current: tightest?.current, time: tightest?.downstream, upstream: tightest?.upstream });
        expect(row?.time).toBeCloseTo(operateTime(downstream.setting, (row?.current ?? 0) / 320), 12);
        checkData(figure);
      }),
      40,
    );
  });

  test("are those against what is required, where that grows with the time of the downstream relay", () => {
    const pair = relays.slice(0, 2);
    const required = { relayErrorsPercent: { upstream: 150, downstream: 150 } };
    const range = { from: 2000, to: 8000 };
    const { tightest, smallest } = coordinationMargin({
      upstream: incomer,
      downstream: feeder,
      currents: range,
      required,
    });
    // Margins 1.736 − 0.514 s at 2000 A and 0.328 − 0.1125 s at 8000 A; 3.1 times the downstream time is required, and more.
    expect([tightest?.current, smallest?.current]).toEqual([2000, 8000]);
    const marked = (figure: ReturnType<typeof figureOf>) => rowsOf(figure, /^margins$/).map(({ current }) => current);
    expect(marked(figureOf({ relays: pair, currents: range, required }))).toEqual([tightest?.current]);
    expect(marked(figureOf({ relays: pair, currents: range }))).toEqual([smallest?.current]);
  });

  const labelsOf = (figure: ReturnType<typeof figureOf>) =>
    rowsOf(figure, /^margin labels$/).map(({ label }) => label as string);

  test("are told in seconds, with the pair where there are several; one that is not kept is told loudly", () => {
    const labels = labelsOf(figureOf({ required: 0.3 }));
    // 13.5 · 0.2/(8000/320 − 1) = 0.1125 s and 13.5 · 0.3/(8000/600 − 1) = 0.3284 s leave 0.2159 s.
    expect(labels.slice(0, 3)).toEqual(["F12 to Incomer", "0.2159 s, NOT KEPT", "Incomer to 33 kV"]);
    expect(labels[3]).toMatch(/^0\.9\d+ s$/);
    expect(labelsOf(figureOf({ relays: relays.slice(0, 2) }))).toEqual(["0.2159 s"]);
    expect(figureOf({ required: 0.3 }).title.subtitle).toEqual([
      "Bars: the tightest margin between neighbours, 0.3 s required",
    ]);
    // What is required grows with the downstream time: it differs from pair to pair.
    expect(labelsOf(figureOf({ required: {} })).join(" ")).toMatch(/s, 0\.\d+ s required/);
  });

  test("lie on no curve where there is room", () => {
    const figure = figureOf();
    const [x, y] = (["x", "y"] as const).map((channel) => axisOf(layersOf(figure)[0] as never, channel).scale.domain);
    const along = (value: number, [low, high]: readonly [number, number] = [1, 10], length: number) =>
      (length * Math.log(value / low)) / Math.log(high / low);
    const pixel = (row: { readonly [field: string]: unknown }) => ({
      x: along(at(row).current, x, 560),
      y: along(at(row).time, y, 400),
    });
    const labels = rowsOf(figure, /^margin labels$/);
    expect(labels).toHaveLength(4);
    for (const label of labels) {
      const { x: end, y: middle } = pixel(label);
      expect(label["align"]).toBe("right");
      const left = end - (label["label"] as string).length * 8.4;
      for (const { x: across, y: up } of rowsOf(figure, /^curve/).map(pixel))
        expect(across > left && across < end && Math.abs(up - middle) < 7).toBe(false);
    }
  });

  test("that find no room stand under the title", () => {
    const long = relays.map((relay, i) => ({ ...relay, name: `Relay ${i} ${"of a very long chain ".repeat(16)}` }));
    const figure = figureOf({ relays: long, required: 0.3 });
    expect(rowsOf(figure, /^margin labels$/)).toEqual([]);
    expect(figure.title.subtitle?.join(" ")).toContain("0.2159 s at 8000 A, 0.3 s required, NOT KEPT");
  });

  test("are none for a single relay", () => {
    expect(rowsOf(figureOf({ relays: relays.slice(0, 1) }), /^margin/)).toEqual([]);
  });
});

describe("an upstream relay that starts first", () => {
  const pair = (downstream: SeriesRelay) => [
    { name: "Down", relay: downstream },
    { name: "Up", relay: { setting: { curve: "iec-inverse", multiplier: 1 }, pickup: 400 } satisfies SeriesRelay },
  ];
  const late: SeriesRelay = { setting: { curve: "iec-inverse", multiplier: 0.3 }, pickup: 900 };
  const range = { from: 450, to: 8000 };

  test("operates alone: that is said and shaded, and no bar shows a margin that has no bound", async () => {
    const figure = figureOf({ relays: pair(late), currents: range, required: 0.3 });
    expect(rowsOf(figure, /^margins$/)).toEqual([]);
    expect(rowsOf(figure, /^alone$/)).toEqual([{ current: 450, to: 900 }]);
    const labels = rowsOf(figure, /^margin labels$/).map(({ label }) => label);
    expect(labels.join(" ")).toBe("up to 900 A Up operates alone, NOT KEPT");
    expect(figure.description).toContain("Margins: Down to Up: up to 900 A Up operates alone, NOT KEPT.");
    expect(figure.title.subtitle).toEqual(["Shaded: the upstream relay operates alone"]);
    await drawn(figure);
  });

  test("has a margin to a definite time all the same", () => {
    const definite: SeriesRelay = { setting: { curve: { form: "definite", time: 0.5 } }, pickup: 900 };
    const figure = figureOf({ relays: pair(definite), currents: range, required: 0.3 });
    // 0.14/((8000/400)^0.02 − 1) = 2.267 s at the far end, less 0.5 s.
    expect(rowsOf(figure, /^margins$/)).toEqual([
      { current: expect.closeTo(8000, 6), time: 0.5, upstream: expect.closeTo(2.267, 3) },
    ]);
    expect(figure.description).toContain("Down to Up 1.767 s at 8000 A, 0.3 s required; Down to Up: up to 900 A");
  });

  test("at the same current, and operates first there, is said to", () => {
    const slow: SeriesRelay = { setting: { curve: "iec-inverse", multiplier: 2 }, pickup: 400 };
    const figure = figureOf({ relays: pair(slow), currents: { from: 300, to: 8000 } });
    expect(rowsOf(figure, /^margins$/)).toEqual([]);
    expect(figure.description).toContain("Down to Up: right above 400 A Up operates first.");
  });

  test("at a start that is drawn just below the end of its axis has a bar held to the axis", () => {
    // At the start of both, 520 A: 13.5 · 0.2385/0.3 = 10.73 s and 0.404 · 0.14/(1.3^0.02 − 1) = 10.75 s, on an axis to 10 s.
    const figure = figureOf({
      relays: [
        {
          name: "Down",
          relay: { setting: { curve: "iec-very-inverse", multiplier: 0.2385, startRatio: 1.3 }, pickup: 400 },
        },
        { name: "Up", relay: { setting: { curve: "iec-inverse", multiplier: 0.404, startRatio: 1.3 }, pickup: 400 } },
      ],
      currents: { from: 400, to: 8000 },
    });
    expect(axisOf(layersOf(figure)[0] as never, "y").scale.domain[1]).toBe(10);
    expect(rowsOf(figure, /^margins$/)).toEqual([{ current: expect.closeTo(520, 6), time: 10, upstream: 10 }]);
    expect(figure.description).toMatch(/Down to Up 0\.0\d+ s at 520 A/);
  });

  test("leaves no bar that ends beyond the axis of times, whatever the relays", () => {
    const relay = fc.record({
      setting: fc.record({
        curve: fc.constantFrom("iec-inverse" as const, "iec-very-inverse" as const),
        multiplier: between(0.05, 2),
        startRatio: fc.constantFrom(1, 1.1, 1.3),
      }),
      pickup: between(200, 2000),
    });
    holds(
      fc.property(relay, relay, (downstream, upstream) => {
        const both = [
          { name: "Down", relay: downstream },
          { name: "Up", relay: upstream },
        ];
        // checkData holds every row of the bars against the axes.
        checkData(figureOf({ relays: both, currents: { from: 100, to: 8000 }, required: 0.3 }));
      }),
      60,
    );
  });
});

test("the axis is primary current, over the range asked for", () => {
  const { scale, axis } = axisOf(layersOf(figureOf())[0] as never, "x");
  expect(scale).toMatchObject({ type: "log", domain: [700, 8000] });
  expect(axis.title).toBe("Primary current (A)");
});

test("is drawn, with bands, margins and names", async () => {
  const svg = await drawn(
    figureOf({ required: {}, relays: relays.map((relay) => ({ ...relay, accepted: { percent: 5 } })) }),
  );
  for (const { name } of relays) expect(svg).toContain(`>${name}<`);
});

describe("refuses", () => {
  const given = { title: "t", relays, currents };
  test.each([
    ["an unknown option", { ...given, required_: 1 }, "required_"],
    ["no relays", { ...given, relays: [] }, "relays"],
    ["a bad pickup", { ...given, relays: [{ name: "a", relay: { ...feeder, pickup: 0 } }] }, "relays[0].relay.pickup"],
    [
      "a bad curve",
      { ...given, relays: [{ name: "a", relay: { ...feeder, setting: { curve: "inverse" } } }] },
      "relays[0].relay.setting.curve",
    ],
    [
      "a bad rule",
      { ...given, relays: [{ name: "a", relay: feeder, accepted: { form: "constant", percent: -1 } }] },
      "relays[0].accepted.percent",
    ],
    [
      "a bad tolerance",
      { ...given, relays: [{ name: "a", relay: feeder, accepted: { percent: -1 } }] },
      "relays[0].accepted.percent",
    ],
    ["a relay without a name", { ...given, relays: [{ relay: feeder }] }, "relays[0].name"],
    ["currents from 0", { ...given, currents: { from: 0, to: 5 } }, "currents.from"],
    ["one current", { ...given, currents: { from: 5, to: 5 } }, "currents.to"],
    ["a negative margin", { ...given, required: -1 }, "required"],
    ["a relay that starts beyond the range", { ...given, currents: { from: 400, to: 800 } }, "relays[2].relay"],
  ])("%s", (_what, options, path) => {
    expect(problemsOf(() => seriesFigure(options as SeriesFigureOptions))[0]?.path).toBe(path);
  });
});
