import { explain, nextInjection } from "tripwright/explain";
import { recordFigures, toleranceFigure } from "tripwright/figure";
import { plan, settingsOf, timedAt } from "tripwright/plan";
import { checkOnLoad, expectOnLoad, judge, readReadings } from "tripwright/record";
import { siteCard, summarize, toCsv, toHtml, toJson, toMarkdown } from "tripwright/report";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { instantaneous50, inverse51, read } from "../support/sheets.js";

const sheet = read([inverse51, instantaneous50]);
const planned = plan(sheet);
const taken = [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.105 }] as const;
const record = judge(sheet, planned, taken);

/** A copy that went through JSON and lost or changed something on the way. */
function damaged<T>(good: T, damage: (copy: T) => void): T {
  const copy = JSON.parse(JSON.stringify(good)) as T;
  damage(copy);
  return copy;
}
type Loose = { [key: string]: Loose };
const loose = (value: unknown): Loose => value as Loose;

const cyclic = damaged(record, (copy) => Object.assign(copy, { self: copy }));
const without = (field: string, of: "verdicts" | "checks") =>
  damaged(record, (copy) => {
    for (const one of of === "checks" ? copy.plan.checks : copy.verdicts) delete loose(one)[field];
  });

// Found by npm run fuzz: records are handed on as JSON, and a damaged one was a TypeError.
test.each<readonly [string, () => unknown, string]>([
  ["summarize, graded without readings", () => summarize(without("readings", "verdicts")), "record"],
  ["toMarkdown, checks without a timeline", () => toMarkdown(without("because", "checks")), "record"],
  ["toHtml, checks without what is expected", () => toHtml(without("expect", "checks")), "record"],
  ["toCsv, graded without readings", () => toCsv(without("readings", "verdicts")), "record"],
  ["toJson of a cycle", () => toJson(cyclic), "record"],
  ["toleranceFigure, graded without readings", () => toleranceFigure(without("readings", "verdicts")), "record"],
  ["recordFigures without a sheet", () => recordFigures(damaged(record, (r) => delete loose(r)["sheet"])), "record"],
  ["explain, checks without a timeline", () => explain(without("timeline", "checks"), { elements: "all" }), "record"],
  [
    "siteCard, checks without cautions",
    () => siteCard(damaged(planned, ({ checks }) => delete loose(checks[0])["cautions"])),
    "plan",
  ],
  [
    "judge, no list of what is impossible",
    () =>
      judge(
        sheet,
        damaged(planned, (p) => delete loose(p)["impossible"]),
        taken,
      ),
    "plan",
  ],
  [
    "readReadings, a hole in the plan",
    () =>
      readReadings(
        "check,value\n50P/time,0.1",
        damaged(planned, (p) => delete loose(p)["checks"]),
      ).problems,
    "plan",
  ],
  [
    "timedAt without elements",
    () =>
      timedAt(
        damaged(settingsOf(sheet), (s) => delete loose(s)["elements"]),
        { element: "51P", multiple: 5 },
      ),
    "settings",
  ],
  [
    "settingsOf a sheet without accuracies",
    () => settingsOf(damaged(sheet, ({ elements }) => delete loose(elements[0])["accuracy"])),
    "elements[0].accuracy",
  ],
])("%s: the error says in which data", (what, work, path) => {
  if (what.startsWith("readReadings")) {
    // Each row has its problem, and the rest is read.
    expect(work()).toMatchObject([{ path, line: 2 }]);
    return;
  }
  expect(problemsOf(work)[0]?.path).toMatch(new RegExp(`^${path.replace(/[[\]]/g, "\\$&")}`));
});

test("the next injection of explanations that are none", () => {
  expect(problemsOf(() => nextInjection([null] as never, { sheet }))[0]?.path).toBe("explanations");
});

test("values on load: lists and their items are looked at", () => {
  const tolerance = { magnitude: { percent: 5 }, angle: 5 };
  const expected = expectOnLoad(sheet, { active: 3e6, reactive: 0, voltage: 11e3, ctRatio: 80, vtRatio: 100 });
  const paths = (given: unknown, measured: unknown) =>
    problemsOf(() => checkOnLoad(given as never, { measured: measured as never, tolerance })).map(({ path }) => path);
  expect(paths(3, expected)).toEqual(["expected"]);
  expect(paths(expected, 3)).toEqual(["measured"]);
  expect(paths(expected, [undefined])).toEqual(["measured[0]"]);
  expect(paths([undefined], expected)).toEqual(["expected[0]"]);
  expect(paths([{ magnitude: 1, angle: 0 }], expected)).toEqual(["expected[0].input"]);
  const huge = { active: 1e308, reactive: 0, voltage: 1e-3, ctRatio: 1e-3, vtRatio: 1 };
  expect(problemsOf(() => expectOnLoad(sheet, huge))).toHaveLength(1);
});
