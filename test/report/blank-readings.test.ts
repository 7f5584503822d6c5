/** A file of readings to be filled in, which `readReadings` takes as it is. */
import fc from "fast-check";
import { plan } from "tripwright/plan";
import { judge, readReadings } from "tripwright/record";
import { blankReadings } from "tripwright/report";
import { expect, test } from "vitest";
import { parseCsv } from "../../src/record/csv.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { distance21, inverse51, read, sheets, synchronism25, undervoltage27 } from "../support/sheets.js";

const sheet = read([inverse51, undervoltage27, distance21, synchronism25]);
const planned = plan(sheet);

test("there is a line for each check, in the order of the plan, with what is to be read and its unit", () => {
  const [header, ...rows] = parseCsv(blankReadings(planned)).map(({ cells }) => cells);
  expect(header?.slice(0, 3)).toEqual(["check", "wanted", "value"]);
  expect(rows.map(([check]) => check)).toEqual(planned.checks.map(({ id }) => id));
  const wanted = new Map(rows.map(([check, text]) => [check, text]));
  expect(wanted.get("51P/pickup")).toBe("level in A at which it starts");
  expect(wanted.get("51P/dropout")).toBe("level in A at which it lets go");
  expect(wanted.get("51P/time@3")).toBe("time in s at 12 A");
  // 4 A less 5 %
  expect(wanted.get("51P/quiet")).toBe("never in 1 s at 3.8 A or else the time in s");
  expect(wanted.get("25/edge@lagging")).toBe("level in ° at which it starts");
});

test("as it is, all of it was not taken", () => {
  holds(
    fc.property(sheets, (given) => {
      const thePlan = plan(given);
      const { readings, problems } = readReadings(blankReadings(thePlan), thePlan);
      expect(problems).toEqual([]);
      expect(readings.map(({ check, value }) => [check, value])).toEqual(
        thePlan.checks.map(({ id }) => [id, "not-taken"]),
      );
    }),
    15,
  );
});

test("filled in, by hand or by a spreadsheet that separates by semicolons, it makes readings", () => {
  const filled = blankReadings(planned).replace("51P/pickup,level in A at which it starts,", "$&4.02 A");
  for (const text of [filled, filled.replaceAll(",", ";")]) {
    const { readings, problems } = readReadings(text, planned);
    expect(problems).toEqual([]);
    expect(readings.find(({ check }) => check === "51P/pickup")?.value).toBe(4.02);
    expect(judge(sheet, planned, readings).verdicts.filter(({ status }) => status === "graded")).toHaveLength(1);
  }
});

test("a name that a spreadsheet would run is no formula, and still is the name of its check", () => {
  const nasty = plan(read([{ ...inverse51, id: "=1+1" }]));
  const text = blankReadings(nasty);
  expect(text).toMatch(/^'=1\+1\/pickup,/m);
  expect(text).not.toMatch(/^=/m);
  expect(readReadings(text, nasty)).toMatchObject({
    problems: [],
    readings: [{ check: "=1+1/pickup" }, {}, {}, {}, {}, {}],
  });
});

test("what is no plan is refused", () => {
  expect(problemsOf(() => blankReadings({} as never))).toMatchObject([{ path: "about" }]);
});
