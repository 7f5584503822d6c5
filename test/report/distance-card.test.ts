import { plan } from "tripwright/plan";
import { judge, type Reading, readReadings } from "tripwright/record";
import { siteCard, summarize, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { distance21, read } from "../support/sheets.js";

const sheet = read([distance21]);
const planned = plan(sheet);
/** Among ids that look like addresses all stand between backticks. */
const lineOf = (text: string, id: string) => text.split("\n").find((line) => line.startsWith(`| \`${id}\` |`)) ?? "";

describe("a distance zone on the site card", () => {
  test("tells the loop, the angle, what to hold, how the voltage comes from the ohm, and every channel", () => {
    const line = lineOf(siteCard(planned), "21-1/edge@B-75°");
    expect(line).toContain("4.4 to 3.6 ohm, steps of 0.02 ohm held 0.08 s, after 2 s of the healthy system; loop b");
    expect(line).toContain("loop b to earth at 75°, 5 A on b: Vb = 1.665·I·Z, k0 = 0.6686∠-7.491°");
    // |1 + k0| · 5 A · 4.4 and 3.6 ohm.
    expect(line).toContain("va, vc 63.509 V at 0, 120°; vb 36.633 to 29.973 V at -120°");
    expect(line).toContain("5.5 to 4.5 ohm");
    expect(line).toContain("3.800 to 4.200 ohm");
  });

  test("tells where the voltages of a fault between two phases turn to", () => {
    const line = lineOf(siteCard(planned), "21-1/edge@BC-75°");
    expect(line).toContain("Vbc = 2·I·Z around −½·Va");
    // tan⁻¹ of 22 V, and of 18 V, over half of 63.509 V.
    expect(line).toContain("vb, vc 38.631 to 36.501 V at -145.285, 145.285°, turned to -150.453, 150.453°");
  });
});

test("readings in ohm are read and judged, on the limit too", () => {
  const { readings, problems } = readReadings(
    "check,value\n21-1/pickup,3.8 ohm\n21-1/edge@AB-45°,3.29 Ω\n21-1/quiet@reverse-AB,never",
    planned,
  );
  expect(problems).toEqual([]);
  const record = judge(sheet, planned, readings);
  const verdictOf = (id: string) => record.verdicts.find(({ check }) => check === id);
  expect(verdictOf("21-1/pickup")).toMatchObject({ grade: { verdict: "within" } });
  expect(verdictOf("21-1/edge@AB-45°")).toMatchObject({ grade: { verdict: "outside" } });
  expect(summarize(record)).toContain("21-1/edge@AB-45°");
  const line = lineOf(toMarkdown(record), "21-1/edge@AB-45°");
  expect(line).toContain("3.291 to 3.637 ohm");
  expect(line).toContain("3.290 ohm");
});

test("a reading at an angle is told in ohm, and how far beyond the limit", () => {
  const reading: Reading = { check: "21-1/edge@A-105°", stage: "as-found", repeat: 1, value: 3.7 };
  expect(lineOf(toMarkdown(judge(sheet, planned, [reading])), "21-1/edge@A-105°")).toContain(
    "3.291 to 3.637 ohm | 3.700 ohm | 0.0627 ohm too high",
  );
});

test("the settings stand in words, what lies within a field in parentheses", () => {
  expect(toMarkdown(judge(sheet, planned, []))).toContain(
    "zone (mho, line angle 75°), operates forward, earth return (Z1 (size 0.4 ohm, angle 75°), Z0 (size 1.2 ohm, angle 70°))",
  );
});
