/** The sketch on the page of conventions is what the library draws; `npm run sketch` draws it anew. */
import { readFileSync, writeFileSync } from "node:fs";
import { type PhasorSet, phasorFigure } from "tripwright/figure";
import { threePhase } from "tripwright/phasor";
import { expect, test } from "vitest";
import { drawn } from "../figure/drawn.js";

const FILE = new URL("../../docs/conventions.svg", import.meta.url);

/** Voltages of one rotation, with a load that lags by 30°. */
function loaded(rotation: "ABC" | "ACB"): PhasorSet {
  const [v, i] = [threePhase(63.5, 0, rotation), threePhase(5, -30, rotation)];
  const groups = [
    { unit: "V", phasors: { Va: v.a, Vb: v.b, Vc: v.c } },
    { unit: "A", phasors: { Ia: i.a, Ib: i.b, Ic: i.c } },
  ];
  return { name: `Rotation ${rotation}`, groups };
}
const figure = phasorFigure({
  title: "Each current lags its voltage by 30°; secondary, rms",
  sets: [loaded("ABC"), loaded("ACB")],
});

/** Engines differ in the last digits of a sine, and a hundredth of a pixel is nothing to see. */
const rounded = (svg: string) =>
  svg.replace(/\d+\.\d+/g, (digits) => Number(digits).toFixed(1)).replace(/-0\.0\b/g, "0.0");

test("the sketch of the conventions is what phasorFigure draws (else: npm run sketch)", async () => {
  const svg = await drawn(figure);
  if (process.env["TRIPWRIGHT_WRITE"] === "sketch") writeFileSync(FILE, `${svg}\n`);
  expect(rounded(readFileSync(FILE, "utf8"))).toBe(`${rounded(svg)}\n`);
});

test("the page says in words what the sketch shows", () => {
  const page = readFileSync(new URL("../../docs/conventions.md", import.meta.url), "utf8");
  expect(page).toContain(`![${figure.description}](conventions.svg)`);
});
