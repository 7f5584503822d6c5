/** Flat rows for tables and plots: the cells of the CSV, without holes. */
import { type Proves, plan } from "tripwright/plan";
import { judge, readReadings } from "tripwright/record";
import { type RecordRow, toCsv, toRows } from "tripwright/report";
import { expect, test } from "vitest";
import { parseCsv } from "../../src/record/csv.js";
import { problemsOf } from "../support/failure.js";
import { inverse51, read, undervoltage27 } from "../support/sheets.js";

const sheet = read([inverse51, undervoltage27], { source: { maximumCurrent: "50 A" } });
const planned = plan(sheet);
const lines = [
  "check,value,repeat,injected,uncertainty,takenAt,note",
  "51P/time@3,1.41 s,1,11.9 A,2 ms,2026-11-18T10:20:00+11:00,first",
  "51P/time@3,1.36 s,2,,,,",
  "27/time,never,1,,,,",
];
const record = judge(sheet, planned, readReadings(lines.join("\n"), planned).readings);
const rows = toRows(record);

test("each reading is a row, and each check without any", () => {
  // Three readings of two checks; the other checks of the plan, and what is impossible, have a row each.
  expect(rows).toHaveLength(3 + planned.checks.length - 2 + planned.impossible.length);
  expect(rows.filter(({ verdict }) => verdict === "impossible").map(({ check }) => check)).toEqual(["51P/time@15"]);
});

test("a row has what was written, and no field for what was not", () => {
  const [first, second] = rows.filter(({ check }) => check === "51P/time@3");
  // Limits of error of a reading: twice the standard uncertainty is 2 ms; the level adds its own, unknown here.
  expect(first).toMatchObject({ repeat: 1, measured: 1.41, injected: 11.9, planned: 12, injectedUnit: "A", unit: "s" });
  expect(first).toMatchObject({ takenAt: "2026-11-18T10:20:00+11:00", note: "first", element: "51P", function: "51" });
  expect(second).not.toHaveProperty("injected");
  expect(second).not.toHaveProperty("takenAt");
  expect(rows.find(({ check }) => check === "27/time")?.measured).toBe("never");
  expect(
    rows.flatMap((row) => Object.values(row)).filter((cell) => !["number", "string"].includes(typeof cell)),
  ).toEqual([]);
});

test("the cells of the CSV are those of the rows", () => {
  const [header, ...body] = parseCsv(toCsv(record)).map(({ cells }) => cells);
  const known = new Set(header);
  for (const row of rows) for (const field of Object.keys(row)) expect(known).toContain(field);
  expect(body).toEqual(rows.map((row) => header?.map((column) => String(row[column as keyof typeof row] ?? ""))));
});

test("what is neither a number nor text, in a record that has been through other hands, is refused with its place", () => {
  const damaged = structuredClone(record) as unknown as {
    verdicts: { check: string; readings?: { grade: object }[] }[];
  };
  const place = damaged.verdicts.findIndex(({ check }) => check === "51P/time@3");
  for (const [error, code] of [
    [Number.NaN, "not-finite"],
    [[0.05], "wrong-type"],
  ]) {
    Object.assign(damaged.verdicts[place]?.readings?.[0]?.grade ?? {}, { error });
    expect(problemsOf(() => toRows(damaged as never))).toMatchObject([{ code, path: `verdicts[${place}].error` }]);
  }
});

test("the words of a row are typed, so that a switch over them is complete", () => {
  const said = (row: RecordRow): string => {
    switch (row.verdict) {
      case "within":
      case "outside":
      case "undecided":
      case "not-taken":
      case "impossible":
        return `${row.verdict} ${row.stage satisfies "as-found" | "as-left"} ${(row.proves ?? "pickup") satisfies Proves}`;
    }
  };
  expect(rows.map(said)).not.toContain(undefined);
  const [notTaken] = rows.filter(({ verdict }) => verdict === "not-taken");
  expect(notTaken).toHaveProperty("check");
  expect(notTaken).not.toHaveProperty("measured");
  expect(toCsv(record)).toContain(",not-taken,");
});
