/** Planes: boundaries and points stand where they were given, and right angles are right. */
import fc from "fast-check";
import { type ImpedanceFigureOptions, impedanceFigure, type PlaneFigureOptions, planeFigure } from "tripwright/figure";
import { polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { axisOf, checkData, drawn, layersOf, rowsOf } from "./drawn.js";

const axes = { x: { quantity: "Restraining current", unit: "A" }, y: { quantity: "Operating current", unit: "A" } };
const figureOf = (change: Partial<PlaneFigureOptions>) => planeFigure({ title: "87T", axes, ...change });
const placesOf = (rows: readonly { readonly [field: string]: unknown }[]) => rows.map(({ x, y }) => ({ x, y }));

const place = fc.record({ x: between(-1e3, 1e3), y: between(-1e3, 1e3) });

test("outlines and points stand where they were given; a closed outline goes back to its first point", () => {
  holds(
    fc.property(
      fc.array(place, { minLength: 2, maxLength: 9 }),
      fc.array(place, { maxLength: 5 }),
      fc.boolean(),
      (points, named, equal) => {
        const plain = points.map(({ x, y }) => ({ x: x + 0, y: y + 0 }));
        const figure = figureOf({
          equal,
          outlines: [
            { name: "closed", points },
            { name: "open", points, open: true },
          ],
          points: named.map((one, i) => ({ name: `${i}`, ...one })),
        });
        expect(placesOf(rowsOf(figure, /^outline 1$/))).toEqual([...plain, plain[0]]);
        expect(placesOf(rowsOf(figure, /^outline 2$/))).toEqual(plain);
        expect(placesOf(rowsOf(figure, /^points/))).toEqual(named.map(({ x, y }) => ({ x: x + 0, y: y + 0 })));
        checkData(figure);
      },
    ),
    60,
  );
});

test("with equal axes a unit is as long across as up, whatever the shape", () => {
  holds(
    fc.property(fc.array(place, { minLength: 2, maxLength: 6 }), (points) => {
      const figure = figureOf({ equal: true, outlines: [{ name: "zone", points }] });
      const [across, up] = (["x", "y"] as const).map(
        (channel) => axisOf(layersOf(figure)[0] as never, channel === "x" ? "x" : "y").scale.domain,
      );
      const perPixel = (domain: readonly [number, number] | undefined, pixels: number) =>
        ((domain?.[1] ?? 0) - (domain?.[0] ?? 0)) / pixels;
      const ratio = perPixel(across, figure.width) / perPixel(up, figure.height);
      // Widths are whole pixels.
      expect(Math.abs(ratio - 1)).toBeLessThan(0.005);
      expect(figure.width).toBeLessThanOrEqual(520);
      expect(figure.height).toBeLessThanOrEqual(420);
      expect(figure.width).toBeGreaterThanOrEqual(259);
      expect(figure.height).toBeGreaterThanOrEqual(259);
    }),
    60,
  );
});

test("points are told apart by their verdicts, and named", () => {
  const figure = figureOf({
    points: [
      { name: "pickup", x: 0.1, y: 0.2, verdict: "within" },
      { name: "slope", x: 2, y: 0.9, verdict: "outside" },
      { name: "other", x: 3, y: 1 },
    ],
  });
  expect(placesOf(rowsOf(figure, /^points within$/))).toEqual([{ x: 0.1, y: 0.2 }]);
  expect(placesOf(rowsOf(figure, /^points outside$/))).toEqual([{ x: 2, y: 0.9 }]);
  expect(rowsOf(figure, /^point names$/).map(({ label }) => label)).toEqual(["pickup", "slope", "other"]);
  expect(figure.description).toContain("slope at (2, 0.9), outside.");
  expect(figure.title.subtitle).toHaveLength(1);
});

test("axes carry quantity and unit, and the origin is always in sight", () => {
  const figure = figureOf({ points: [{ name: "a", x: 7, y: 9 }] });
  const [x, y] = (["x", "y"] as const).map((channel) => axisOf(layersOf(figure)[0] as never, channel));
  expect([x?.axis.title, axisOf(layersOf(figure)[1] as never, "y").axis.title]).toEqual([
    "Restraining current (A)",
    "Operating current (A)",
  ]);
  expect([x?.scale.domain[0], y?.scale.domain[0]]).toEqual([0, 0]);
});

test("impedances are reactance over resistance in ohms, on the side that was named", () => {
  const figure = impedanceFigure({
    title: "21",
    side: "primary",
    outlines: [
      {
        name: "Zone 1",
        points: [
          { x: 0, y: 0 },
          { x: 4, y: 0 },
          { x: 4, y: 3 },
        ],
      },
    ],
    points: [{ name: "reach", impedance: polar(5, 90), verdict: "within" }],
  });
  expect(placesOf(rowsOf(figure, /^points/))).toEqual([{ x: 0, y: 5 }]);
  expect(placesOf(rowsOf(figure, /^outline 1/))).toEqual(
    [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 0],
    ].map(([x, y]) => ({ x, y })),
  );
  expect(figure.description).toContain("Reactance (Ω primary) over Resistance (Ω primary)");
});

test("is drawn, with outlines named where they reach highest", async () => {
  const zone = (k: number) => ({
    name: `Zone ${k}`,
    points: [
      { x: 0, y: 0 },
      { x: 3 * k, y: 0 },
      { x: 3 * k, y: 2 * k },
      { x: -k, y: 2 * k },
    ],
  });
  const svg = await drawn(
    figureOf({ equal: true, outlines: [zone(1), zone(2)], points: [{ name: "F1", x: 1, y: 1, verdict: "undecided" }] }),
  );
  for (const text of ["Zone 1", "Zone 2", "F1"]) expect(svg).toContain(`>${text}<`);
  await drawn(figureOf({ points: [{ name: "origin", x: 0, y: 0 }] }));
});

describe("names of ten readings", () => {
  const readings = [45, 60, 75, 90, 105].flatMap((degrees) =>
    [4, 6].map((reach, i) => ({
      name: `21-${i + 1}/edge@AB-${degrees}°`,
      impedance: polar(reach * Math.cos(((75 - degrees) * Math.PI) / 180), degrees),
      verdict: i === 0 ? ("within" as const) : ("outside" as const),
    })),
  );
  const figure = impedanceFigure({ title: "21", points: readings });
  const [across, up] = (["x", "y"] as const).map(
    (channel) => axisOf(layersOf(figure)[0] as never, channel).scale.domain,
  );
  const along = (value: number, [low, high]: readonly [number, number] = [0, 1], length: number) =>
    (length * (value - low)) / (high - low);
  const pixel = ({ x, y }: { readonly [field: string]: unknown }) => ({
    x: along(x as number, across, figure.width),
    y: along(y as number, up, figure.height),
  });
  // As wide as a wide font draws them: 0.6 of 12 pixels for each character.
  const boxes = rowsOf(figure, /^point names$/).map((row) => {
    const width = (row["label"] as string).length * 7.2;
    const { x, y } = pixel(row);
    const left = x - { left: 0, center: width / 2, right: width }[row["align"] as "left" | "center" | "right"];
    return { label: row["label"] as string, left, right: left + width, low: y - 7, high: y + 7 };
  });

  test("cover neither one another nor a reading", () => {
    expect(boxes.length).toBeGreaterThan(5);
    for (const [i, a] of boxes.entries()) {
      for (const b of boxes.slice(0, i))
        expect(a.left < b.right && b.left < a.right && a.low < b.high && b.low < a.high).toBe(false);
      for (const { x, y } of rowsOf(figure, /^points/).map(pixel))
        expect(x > a.left && x < a.right && y > a.low && y < a.high).toBe(false);
    }
  });

  test("stand at those that are outside, before others, and every one is in the description", () => {
    for (const { name, verdict } of readings) {
      if (verdict === "outside") expect(boxes.map(({ label }) => label)).toContain(name);
      expect(figure.description).toContain(name);
    }
  });

  test("have their rims below the marks", () => {
    const names = layersOf(figure).map(({ name }) => name);
    expect(names).toContain("point names rim");
    expect(names.indexOf("point names rim")).toBeLessThan(names.indexOf("points within"));
    expect(names.indexOf("points outside")).toBeLessThan(names.indexOf("point names"));
  });
});

test("an axis without a unit has no empty brackets", () => {
  const figure = figureOf({
    axes: { x: { quantity: "Ratio", unit: "" }, y: axes.y },
    points: [{ name: "a", x: 1, y: 2 }],
  });
  expect(axisOf(layersOf(figure)[0] as never, "x").axis.title).toBe("Ratio");
  expect(figure.description).toContain("Operating current (A) over Ratio.");
});

test("long numbers on an axis are powers of ten, and what rounding left of 0 is 0 in words", async () => {
  const figure = figureOf({
    points: [
      { name: "far", x: 1e12, y: 1 },
      { name: "up", x: 1e-5, y: 1.5 },
    ],
  });
  const svg = await drawn(figure);
  expect(svg).toContain(">2e+11<");
  expect(svg).not.toMatch(/>-?\d{8,}</);
  expect(figure.description).toContain("up at (0, 1.5).");
});

describe("refuses", () => {
  test.each([
    ["an unknown option", { lines: [] }, "lines"],
    ["an axis without unit", { axes: { x: { quantity: "R" }, y: axes.y } }, "axes.x.unit"],
    ["a plane with nothing in it", {}, "outlines"],
    ["an outline of one point", { outlines: [{ name: "z", points: [{ x: 0, y: 0 }] }] }, "outlines[0].points"],
    ["a place with NaN", { points: [{ name: "a", x: 1, y: Number.NaN }] }, "points[0].y"],
    [
      "a place with text",
      {
        outlines: [
          {
            name: "z",
            points: [
              { x: 0, y: 0 },
              { x: "1", y: 0 },
            ],
          },
        ],
      },
      "outlines[0].points[1].x",
    ],
    ["an unknown verdict", { points: [{ name: "a", x: 1, y: 1, verdict: "good" }] }, "points[0].verdict"],
    ["coordinates that no axis holds", { points: [{ name: "a", x: 1e300, y: 1 }] }, ""],
  ])("%s", (_what, change, path) => {
    expect(problemsOf(() => figureOf(change as Partial<PlaneFigureOptions>))[0]?.path).toBe(path);
  });

  test.each([
    ["an unknown side", { side: "both" }, "side"],
    ["an impedance that is none", { points: [{ name: "a", impedance: 5 }] }, "points[0].impedance"],
    ["a resistance that is text", { points: [{ name: "a", impedance: { re: "1", im: 2 } }] }, "points[0].impedance.re"],
    ["a reactance that is missing", { points: [{ name: "a", impedance: { re: 1 } }] }, "points[0].impedance.im"],
    ["a point with a key of no meaning", { points: [{ name: "a", impedance: { re: 1, im: 2 }, x: 3 }] }, "points[0].x"],
    [
      "a place with NaN",
      {
        outlines: [
          {
            name: "z",
            points: [
              { x: 1, y: Number.NaN },
              { x: 1, y: 1 },
            ],
          },
        ],
      },
      "outlines[0].points[0].y",
    ],
    ["points that are no list", { points: 5 }, "points"],
    ["outlines that are no list", { outlines: 5 }, "outlines"],
    ["an outline without points", { outlines: [{ name: "z" }] }, "outlines[0].points"],
  ])("%s", (_what, change, path) => {
    expect(
      problemsOf(() => impedanceFigure({ title: "t", ...change } as unknown as ImpedanceFigureOptions))[0]?.path,
    ).toBe(path);
  });
});
