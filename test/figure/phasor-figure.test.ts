/** Phasors on dials: directions, lengths and figures are those of `phasor`. */
import fc from "fast-check";
import { type PhasorFigureOptions, phasesAndComponents, phasorFigure } from "tripwright/figure";
import { angleBetween, magnitude, type Phasor, polar, rect, threePhase, toComponents } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { checkData, drawn, layersOf, rowsOf } from "./drawn.js";

const figureOf = (phasors: { readonly [name: string]: Phasor }, unit = "V") =>
  phasorFigure({ title: "Tannery Lane", sets: [{ name: "Phases", groups: [{ unit, phasors }] }] });
const tipOf = (figure: ReturnType<typeof figureOf>, n: number, dial = 1): Phasor => {
  const tip = rowsOf(figure, new RegExp(`^dial ${dial} arrow ${n}$`))[1] as { readonly x: number; readonly y: number };
  return rect(tip.x, tip.y);
};

const phasor = fc
  .record({ size: between(0.01, 500), degrees: between(-180, 180) })
  .map(({ size, degrees }) => polar(size, degrees));

describe("every arrow", () => {
  test("points where its phasor does, and is as long as its share of the largest", () => {
    holds(
      fc.property(phasor, phasor, phasor, (a, b, c) => {
        const figure = figureOf({ a, b, c });
        const largest = Math.max(...[a, b, c].map(magnitude));
        const longest = Math.max(...[1, 2, 3].map((n) => magnitude(tipOf(figure, n))));
        for (const [i, one] of [a, b, c].entries()) {
          const tip = tipOf(figure, i + 1);
          expect(magnitude(tip) / longest).toBeCloseTo(magnitude(one) / largest, 9);
          expect(Math.abs(angleBetween({ from: one, to: tip }))).toBeLessThan(1e-6);
        }
        expect(longest).toBeLessThanOrEqual(1 + 1e-12);
        checkData(figure);
      }),
      60,
    );
  });

  test("has the length that the numbers at the circles give it", () => {
    const figure = figureOf({ a: polar(63.5, 0), b: polar(30, 90) });
    const sizes = rowsOf(figure, /sizes$/).map(({ x, y, label }) => [magnitude(rect(x as number, y as number)), label]);
    expect(sizes).toEqual(
      [
        [0.25, "20 V"],
        [0.5, "40 V"],
        [0.75, "60 V"],
        [1, "80 V"],
      ].map(([radius, label]) => [expect.closeTo(radius as number, 9), label]),
    );
    expect(magnitude(tipOf(figure, 1))).toBeCloseTo(63.5 / 80, 12);
    expect(tipOf(figure, 2)).toEqual({ re: 0, im: expect.closeTo(30 / 80, 12) });
  });
});

test("each value stands in figures below, a phasor that is noise as 0 and without an arrow", () => {
  const figure = figureOf({ Va: polar(63.5, -5), Vn: polar(1e-6, 77) });
  expect(rowsOf(figure, /list$/).map(({ label }) => label)).toEqual(["Va  63.5 V ∠ -5°", "Vn  0 V"]);
  expect(layersOf(figure).filter(({ name }) => /arrow/.test(name))).toHaveLength(1);
  expect(figure.description).toBe("Tannery Lane. Phases: Va 63.5 V ∠ -5°, Vn 0 V.");
});

test("currents that are all 0 are listed beside their voltages, with neither arrow nor circle", async () => {
  const none = { re: 0, im: 0 };
  const groups = [
    { unit: "V", phasors: { Va: polar(63.5, 0) } },
    { unit: "A", phasors: { Ia: none } },
  ];
  const figure = phasorFigure({ title: "t", sets: [{ name: "both", groups }] });
  expect(figure.description).toBe("t. both: Va 63.5 V ∠ 0°, Ia 0 A.");
  expect(rowsOf(figure, /sizes$/).map(({ label }) => label)).toEqual(["80 V"]);
  expect(layersOf(figure).filter(({ name }) => /arrow/.test(name))).toHaveLength(1);
  await drawn(figure);
});

test("a name longer than the room beside its arrow stands in the list alone", async () => {
  const long = "Current of winding 1";
  const figure = phasorFigure({
    title: "t",
    sets: [{ name: "s", groups: [{ unit: "A", phasors: { [long]: polar(1, 0), Ib: polar(1, -120) } }] }],
  });
  expect(rowsOf(figure, /tips$/).map(({ label }) => label)).toEqual(["Ib"]);
  expect(rowsOf(figure, /list$/).map(({ label }) => label)).toContain(`${long}  1 A ∠ 0°`);
  await drawn(figure);
});

test("two groups have a circle each: full and dashed, and lengths of their own", () => {
  const groups = [
    { unit: "V", phasors: { Va: polar(50, 0) } },
    { unit: "A", phasors: { Ia: polar(5, -30) } },
  ];
  const figure = phasorFigure({ title: "t", sets: [{ name: "both", groups }] });
  expect(rowsOf(figure, /sizes$/).map(({ label }) => label)).toEqual(["60 V", "6 A"]);
  expect(magnitude(tipOf(figure, 1))).toBeCloseTo(50 / 60, 12);
  expect(magnitude(tipOf(figure, 2))).toBeCloseTo((0.6 * 5) / 6, 12);
});

test("the components of three phases are those of toComponents, at any rotation", () => {
  holds(
    fc.property(phasor, phasor, phasor, fc.constantFrom("ABC" as const, "ACB" as const), (a, b, c, rotation) => {
      const phases = { a, b, c };
      const [first, second] = phasesAndComponents({ unit: "A", symbol: "I", phases, rotation });
      expect(first.groups[0]?.phasors).toEqual({ Ia: a, Ib: b, Ic: c });
      const { zero, positive, negative } = toComponents(phases, rotation);
      expect(second.groups[0]?.phasors).toEqual({ I0: zero, I1: positive, I2: negative });
    }),
    60,
  );
});

test("is drawn: phases beside components, and names that hide nothing", async () => {
  const svg = await drawn(
    phasorFigure({ title: "t", sets: phasesAndComponents({ unit: "V", symbol: "V", phases: threePhase(63.5) }) }),
  );
  for (const text of ["Va", "Vb", "Vc", "V1", "V0  0 V", "90°", "-90°", "180°"]) expect(svg).toContain(`>${text}<`);
  await drawn(figureOf({ "<b>": polar(1, 0), "datum.x": polar(1, 0), "": polar(1e-9, 0) }));
});

describe("refuses", () => {
  const set = (change: object) => ({
    title: "t",
    sets: [{ name: "s", groups: [{ unit: "V", phasors: { a: polar(1, 0) } }], ...change }],
  });
  test.each([
    ["an unknown option", { title: "t", set: [] }, "set"],
    ["no sets", { title: "t", sets: [] }, "sets"],
    ["three groups", set({ groups: [1, 2, 3] }), "sets[0].groups"],
    ["a unit that is none", set({ groups: [{ unit: 5, phasors: {} }] }), "sets[0].groups[0].unit"],
    [
      "a phasor with NaN",
      set({ groups: [{ unit: "V", phasors: { a: { re: Number.NaN, im: 0 } } }] }),
      "sets[0].groups[0].phasors.a.re",
    ],
    [
      "nothing but zeros",
      set({ groups: [{ unit: "V", phasors: { a: { re: 0, im: 0 } } }] }),
      "sets[0].groups[0].phasors",
    ],
  ])("%s", (_what, options, path) => {
    expect(problemsOf(() => phasorFigure(options as unknown as PhasorFigureOptions))[0]?.path).toBe(path);
  });

  test("phases that are not finite", () => {
    const phases = { a: polar(1, 0), b: polar(1, 0), c: { re: Number.NaN, im: 0 } };
    expect(problemsOf(() => phasesAndComponents({ unit: "V", symbol: "V", phases }))[0]?.path).toBe("phases.c.re");
  });
});
