/** The boundary of an element in the figures of its record: each point where its check was really made. */
import { type DistanceSetting, definitionOf, inputsOf } from "tripwright/element";
import { recordFigures } from "tripwright/figure";
import { plan, settingsOf } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { differential87T, distance21, distanceZone2, dyn11, inverse51, read } from "../support/sheets.js";
import { checkData, drawn, rowsOf } from "./drawn.js";

function boundaryOf(element: { id: string }, other: object, change: (reading: Reading) => Reading = (one) => one) {
  const sheet = read([element], other);
  const planned = plan(sheet);
  const record = judge(sheet, planned, rehearsePlan(sheet, planned).map(change));
  return recordFigures(record).find(({ title }) => title === `F12: boundary of ${element.id}`);
}
const pointsOf = (figure: ReturnType<typeof boundaryOf>) =>
  rowsOf(figure?.spec as never, /^points/).map(({ x, y }) => ({ x: x as number, y: y as number }));

describe("a mho of 4 ohm at 75°", () => {
  const figure = boundaryOf(distance21, {});

  test("has all its points on the circle, each within half a step of the sweep that found it", () => {
    const points = pointsOf(figure);
    expect(points.length).toBeGreaterThan(5);
    const [x, y] = [2 * Math.cos((75 * Math.PI) / 180), 2 * Math.sin((75 * Math.PI) / 180)];
    // A step is a fifth of 5 % of the reach, and a right relay is read up to a step inside.
    for (const point of points) expect(Math.abs(Math.hypot(point.x - x, point.y - y) - 2)).toBeLessThan(0.06);
    expect(figure?.spec.description).toMatch("Reactance (Ω secondary) over Resistance (Ω secondary)");
    checkData(figure?.spec as never);
  });

  test("is drawn", async () => {
    expect(await drawn(figure?.spec as never)).toMatch("pickup");
  });

  test("shows a reading that is 10 % short where it was, as outside", () => {
    const short = boundaryOf(distance21, {}, (one) =>
      one.check === "21-1/pickup" ? { ...one, value: 0.9 * (one.value as number) } : one,
    );
    const [outside] = rowsOf(short?.spec as never, /^points outside/);
    expect(Math.hypot(outside?.["x"] as number, outside?.["y"] as number)).toBeCloseTo(3.6, 1);
    expect(Math.atan2(outside?.["y"] as number, outside?.["x"] as number)).toBeCloseTo((75 * Math.PI) / 180, 6);
  });
});

test("a quadrilateral is drawn by its corners, and its points lie on its sides", () => {
  const figure = boundaryOf(distanceZone2, {});
  const corners = rowsOf(figure?.spec as never, /^outline 1/).map(({ x, y }) => ({ x: x as number, y: y as number }));
  const apart = (p: { x: number; y: number }, i: number) => {
    const [a, b] = [corners[i]!, corners[i + 1]!];
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const along = Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy)));
    return Math.hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
  };
  for (const point of pointsOf(figure))
    expect(Math.min(...corners.slice(1).map((_, i) => apart(point, i)))).toBeLessThan(0.12);
});

test("a restrained differential function has its slopes, and points on them", () => {
  const figure = boundaryOf(differential87T, dyn11);
  const line = rowsOf(figure?.spec as never, /^outline 1/).map(({ x, y }) => ({ x: x as number, y: y as number }));
  const heightAt = (x: number) => {
    const i = Math.max(
      1,
      line.findIndex((place) => place.x >= x),
    );
    const [a, b] = [line[i - 1]!, line[i]!];
    return b.x === a.x ? b.y : a.y + ((x - a.x) / (b.x - a.x)) * (b.y - a.y);
  };
  const points = pointsOf(figure).filter(({ x }) => x > 0);
  expect(points.length).toBeGreaterThan(3);
  for (const { x, y } of points) expect(Math.abs(y / heightAt(x) - 1)).toBeLessThan(0.03);
  expect(figure?.spec.description).toMatch("Differential current (A) over Restraint (A)");
});

test.each([
  ["behind the relay", 30],
  ["without any voltage", 0],
])("the loop that lies ahead is drawn, not the one %s", (_what, volts) => {
  const sheet = read([{ ...distance21, watches: "earth-loops" }]);
  const [setting] = settingsOf(sheet).elements as [DistanceSetting];
  // k0 is none here: 20 V over 5 A is 4 ohm at 75° on phase a, phase b has 6 ohm at -105°, or nothing.
  const at = (rms: number, angle: number) => ({ rms, frequency: 50, angle });
  const channels = { va: at(20, 0), ia: at(5, -75), vb: at(volts, -120), ib: at(5, -15) };
  const wiring = Object.fromEntries(
    Object.keys(channels).map((name) => [
      name,
      { quantity: name.startsWith("v") ? "voltage" : "current", feeds: { [name]: 1 } } as const,
    ]),
  );
  const plain = { ...setting, earth: { factor: { re: 0, im: 0 } } };
  const place = definitionOf("21").plane?.place(inputsOf(channels, wiring), plain);
  expect(place?.x).toBeCloseTo(4 * Math.cos((75 * Math.PI) / 180), 9);
  expect(place?.y).toBeCloseTo(4 * Math.sin((75 * Math.PI) / 180), 9);
});

test("functions of one quantity have no plane, nor has one of which nothing was read", () => {
  expect(boundaryOf(inverse51, {})).toBeUndefined();
  expect(boundaryOf(distance21, {}, (one) => ({ ...one, value: "never" }))).toBeUndefined();
});

test("a reading beyond the sweep stands at no place that anybody injected, and is left out", () => {
  const wide = boundaryOf(distance21, {}, (one) => (one.check === "21-1/pickup" ? { ...one, value: 40 } : one));
  expect(rowsOf(wide?.spec as never, /^points outside/)).toEqual([]);
});
