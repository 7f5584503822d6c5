/** What stands on the card beside the checks: the settings of the sheet, and what comes before each level. */
import fc from "fast-check";
import { plan, readSheet } from "tripwright/plan";
import { siteCard } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { distance21, instantaneous50, inverse51, read, sheets, undervoltage27, usual } from "../support/sheets.js";

const disk51 = { ...inverse51, id: "51D", curve: "ieee-very-inverse", multiplier: 2.5 };
const ratios = { ct: "400/5", vt: "11 kV/110 V" };
const cardOf = (elements: readonly object[], more: object = {}) =>
  siteCard(plan(read([...elements], { ...ratios, ...more })));
const rowOf = (text: string, id: string) =>
  text.split("\n").find((line) => line.startsWith(`| ${id} |`) || line.startsWith(`| \`${id}\` |`)) ?? "";

describe("what comes before a level", () => {
  const HEALTHY = "- The healthy system: va, vb, vc 63.509 V at 0, -120, 120°; 50 Hz.";

  test("is said once where the checks share it", () => {
    const text = cardOf([undervoltage27]);
    expect(text).toContain(HEALTHY);
    expect(text).toContain("- A level that is not swept comes after 2 s of the healthy system, unless told otherwise.");
    expect(rowOf(text, "27/time")).toMatch(/\| 70\.4 V \|/);
    expect(text.match(/after 2 s/g)).toHaveLength(1);
  });

  test("is said of a disk that has to run back, which takes longer", () => {
    const text = cardOf([disk51, undervoltage27, instantaneous50]);
    // 21.6 s · 2.5 = 54 s from full travel at no current.
    expect(rowOf(text, "51D/time@3")).toContain("| 12 A, after 54 s of the healthy system |");
    expect(rowOf(text, "27/time")).not.toContain("healthy");
  });

  test("is the first level of a sweep: 2 s, and in a dropout until the trip contact has followed", () => {
    const text = cardOf([undervoltage27, inverse51]);
    expect(text).toContain("- A sweep begins with 2 s at its first level, unless told otherwise.");
    const { checks } = plan(read([undervoltage27, inverse51], ratios));
    const [first] = checks.find(({ id }) => id === "27/dropout")?.timeline.segments ?? [];
    // It trips 1.5 s after it has started, 1.575 s at the latest.
    expect(first?.duration).toBeGreaterThan(1.575);
    expect(rowOf(text, "27/dropout")).toContain(`the first held ${first?.duration} s, steps of`);
    expect(rowOf(text, "27/pickup")).not.toContain("the first held");
  });

  test("of a distance zone is the healthy system before its sweeps too", () => {
    const text = cardOf([distance21]);
    expect(rowOf(text, "21-1/pickup")).toContain("after 2 s of the healthy system");
    expect(text).toContain("- The healthy system: va, vb, vc 63.509 V");
  });

  test("where the relay has no voltages, nothing is put out, also at rest between pulses", () => {
    const { vt: _, ...currentsAlone } = read([instantaneous50]);
    const text = siteCard(plan(readSheet(currentsAlone)));
    expect(text).toContain("- The healthy system: nothing is put out.");
    expect(rowOf(text, "50P/pickup")).toContain("with 2 s rest in the healthy system |");
  });

  test("does not matter for a check of somebody's own that has one state alone, and that without a clock", () => {
    const planned = plan(read([undervoltage27], ratios));
    const alone = planned.checks.map((check) => {
      const { clock: _, ...fault } = check.timeline.segments.at(-1) as (typeof check.timeline.segments)[number];
      return { ...check, timeline: { ...check.timeline, segments: [fault] } };
    });
    const row = rowOf(siteCard({ ...planned, checks: alone }), "27/time");
    expect(row).toContain("| 70.4 V");
  });

  test("is told of every check of every sheet: the state and how long, shared or its own", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const planned = plan(sheet);
        const text = siteCard(planned);
        const [, usually] = /comes after ([\d.]+) s of the healthy/.exec(text) ?? [];
        for (const { id, sweep, timeline } of planned.checks) {
          const [before] = timeline.segments;
          if (sweep !== undefined || before === undefined || before.duration >= 60) continue;
          const [, own] = /after ([\d.]+) s of/.exec(rowOf(text, id)) ?? [];
          // Three digits are shown.
          expect(Number(own ?? usually)).toBe(Number(before.duration.toPrecision(3)));
        }
      }),
      15,
    );
  });
});

describe("with its sheet", () => {
  const sheet = read([inverse51, { ...undervoltage27, enabled: false }], { ...ratios, values: "primary" });

  test("the card has the ratios and a line of settings for each element, with a box for what is found", () => {
    const text = siteCard(plan(sheet), { sheet });
    expect(text).toContain("| CT | 400/5 |");
    expect(text).toContain("| VT | 11 kV/110 V |");
    expect(text).toContain("| Settings written as | primary values |");
    expect(rowOf(text, "51P")).toMatch(/^\| 51P \| function 51, pickup 4 A, curve iec-very-inverse, .* \| {2}\|$/);
    expect(rowOf(text, "27")).toMatch(/enabled no/);
    expect(siteCard(plan(sheet))).not.toContain("## Settings on the sheet");
  });

  test("a sheet that has been changed since the plan is refused", () => {
    const now = readSheet({ ...sheet, elements: [{ ...inverse51, pickup: "5 A" }] });
    expect(problemsOf(() => siteCard(plan(sheet), { sheet: now }))).toMatchObject([{ path: "plan", code: "conflict" }]);
  });
});

test("settings that make no sense together are told before the work", () => {
  const behind = { ...instantaneous50, id: "50Q", pickup: "44 A", delay: "300 ms", accuracy: usual };
  const planned = plan(read([instantaneous50, behind], ratios));
  expect(planned.findings.length).toBeGreaterThan(0);
  const text = siteCard(planned);
  expect(text.indexOf("## Settings to look at")).toBeGreaterThan(0);
  expect(text.indexOf("## Settings to look at")).toBeLessThan(text.indexOf("## In this order"));
  for (const { expected } of planned.findings) expect(text).toContain(expected.split(/[*_|]/)[0]);
});
