import { plan } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { siteCard, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { directional67, read } from "../support/sheets.js";

const sheet = read([directional67]);
const lineOf = (text: string, id: string) => text.split("\n").find((line) => line.startsWith(`| ${id} |`)) ?? "";

describe("an angle on the site card", () => {
  test("stands beside every channel, and where it is turned to", () => {
    // Phase a is compared with vb − vc at −90°: 145° ahead of that is 55°, 125° is 35°.
    const line = lineOf(siteCard(plan(sheet)), "67P/edge@leading");
    expect(line).toContain("145 to 125°, steps of 0.5°");
    expect(line).toContain("ia, ib, ic 8 A at 55, -65, 175°, turned to 35, -85, 155°");
    expect(line).toContain("132.00 to 138.00°");
  });

  test("is told for single channels too, as soon as there are two", () => {
    const single = read([directional67], { source: { currentChannels: 1, voltageChannels: 1 } });
    // Vbc itself stands at 0°: 3.6 A at the characteristic angle.
    expect(lineOf(siteCard(plan(single)), "67P/pickup")).toContain("i 3.6 to 4.4 A at 45°; v 110 V at 0°");
  });
});

test("of an angle the record tells degrees, and no percent", () => {
  const planned = plan(sheet);
  const reading: Reading = { check: "67P/edge@leading", stage: "as-found", repeat: 1, value: 139 };
  const line = lineOf(toMarkdown(judge(sheet, planned, [reading])), "67P/edge@leading");
  expect(line).toContain("139.00°");
  expect(line).not.toContain("%)");
});
