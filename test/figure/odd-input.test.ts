import { curveFigure, impedanceFigure, phasorFigure, planeFigure, seriesFigure } from "tripwright/figure";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const hole = new Array(1) as never[];
const title = "51P of Tannery Lane";
const setting = { curve: "iec-very-inverse" } as const;
const axes = { x: { quantity: "Restraint", unit: "A" }, y: { quantity: "Operating", unit: "A" } };
const currents = { from: 800, to: 6000 };

// Found by npm run fuzz: loops that pass over holes left them for the drawing, which broke on them.
test.each<readonly [string, () => unknown, string]>([
  ["curves", () => curveFigure({ title, curves: hole }), "curves[0]"],
  [
    "points of a curve",
    () => curveFigure({ title, curves: [{ name: "51P", setting, points: hole }] }),
    "curves[0].points[0]",
  ],
  ["outlines of an impedance", () => impedanceFigure({ title, outlines: hole }), "outlines[0]"],
  [
    "points of an impedance's outline",
    () => impedanceFigure({ title, outlines: [{ name: "Zone 1", points: Object.assign([], { 1: { x: 4, y: 3 } }) }] }),
    "outlines[0].points[0]",
  ],
  ["points of an impedance", () => impedanceFigure({ title, points: hole }), "points[0]"],
  ["outlines of a plane", () => planeFigure({ title, axes, outlines: hole }), "outlines[0]"],
  ["points of a plane", () => planeFigure({ title, axes, points: hole }), "points[0]"],
  ["sets of phasors", () => phasorFigure({ title, sets: hole }), "sets[0]"],
  ["relays in series", () => seriesFigure({ title, relays: hole, currents }), "relays[0]"],
])("a hole among %s is named", (_what, work, path) => {
  expect(problemsOf(work).map((problem) => problem.path)).toEqual([path]);
});

test("a place at −0 makes no axis that begins at −0", () => {
  const points = [
    { x: -0, y: -0 },
    { x: 1, y: 1 },
  ];
  const outlines = [{ name: "boundary", points, open: true as const }];
  expect(JSON.stringify(planeFigure({ title, axes, outlines }), withMinus)).not.toMatch(/"domain":\["-0"/);
});

/** JSON has no −0; it is shown as text. */
const withMinus = (_key: string, value: unknown): unknown => (Object.is(value, -0) ? "-0" : value);
