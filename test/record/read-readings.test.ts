import { plan } from "tripwright/plan";
import { readReadings } from "tripwright/record";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { distance21, inverse51, read, synchronism25, underfrequency81 } from "../support/sheets.js";

const rate81 = {
  id: "81R",
  function: "81R",
  direction: "falling",
  pickup: "0.5 Hz/s",
  delay: "0.1 s",
  accuracy: { pickup: { absolute: "0.05 Hz/s" }, time: { absolute: "40 ms" } },
};
const planned = plan(
  read([inverse51, underfrequency81, rate81, synchronism25], { source: { maximumCurrent: "50 A" } }),
);

const reading = (line: string, header = "check,value") => readReadings(`${header}\n${line}`, planned);

describe("a good reading", () => {
  test.each([
    ["a time in seconds", "51P/time@3,1.35 s", 1.35],
    ["in milliseconds", "51P/time@3,1350 ms", 1.35],
    ["in cycles of the sheet's 50 Hz", "51P/time@3,67.5 cycles", 1.35],
    ["a bare number in SI units", "51P/time@3,1.35", 1.35],
    ["a current", "51P/pickup,4020 mA", 4.02],
    ["a frequency", "81U/pickup,48.996 Hz", 48.996],
    ["a time after which something happened where nothing may", "51P/quiet,120 ms", 0.12],
    ["never", "51P/time@3,never", "never"],
    ["not taken", "51P/time@3,not taken", "not-taken"],
    ["nothing is not taken", "51P/time@3,", "not-taken"],
  ])("%s", (_what, line, value) => {
    const { readings, problems } = reading(line);
    expect(problems).toEqual([]);
    expect(readings[0]?.value).toBe(value);
  });

  test("has the uncertainty of its own unit, and of the injected level in that of the level", () => {
    const header = "check,value,uncertainty,injected,injectedUncertainty,coverageFactor";
    const { readings, problems } = reading("51P/time@3,1.35 s,6 ms,11.9 A,30 mA,3", header);
    expect(problems).toEqual([]);
    expect(readings[0]).toMatchObject({
      uncertainty: { standard: 0.002, coverageFactor: 3 },
      injectedUncertainty: { standard: 0.01, coverageFactor: 3 },
    });
    expect(reading("51P/time@3,1.35 s,6 A,11.9 A,30 ms,3", header).problems[0]?.code).toBe("wrong-unit");
    expect(reading("51P/time@3,1.35 s,6 ms,11.9 A,30 ms,3", header).problems[0]?.code).toBe("wrong-unit");
  });

  test("is as found and the first unless it says otherwise", () => {
    expect(reading("51P/pickup,4 A").readings).toEqual([
      { check: "51P/pickup", stage: "as-found", repeat: 1, value: 4 },
    ]);
  });

  test("carries everything that its columns say", () => {
    const header = "stage,repeat,check,value,injected,uncertainty,coverageFactor,contact,takenAt,note";
    const line = 'as-left,2,51P/time@3,1.35 s,11.95 A,3 ms,1.5,trip,2026-11-18T11:05+11:00,"after, adjustment"';
    expect(reading(line, header).readings).toEqual([
      {
        check: "51P/time@3",
        stage: "as-left",
        repeat: 2,
        value: 1.35,
        injected: 11.95,
        uncertainty: { standard: 0.002, coverageFactor: 1.5 },
        contact: "trip",
        takenAt: "2026-11-18T11:05+11:00",
        note: "after, adjustment",
      },
    ]);
  });

  test("an expanded uncertainty has coverage factor 2 unless it says otherwise", () => {
    const { readings } = reading("51P/time@3,1.35 s,4 ms", "check,value,uncertainty");
    expect(readings[0]?.uncertainty).toEqual({ standard: 0.002, coverageFactor: 2 });
  });
});

describe("a bad line is named with its number, and the good ones are kept", () => {
  const all = "check,stage,repeat,value,injected,uncertainty,coverageFactor,takenAt";
  test.each([
    ["an unknown check", "52P/pickup,,,4 A", "check", "unknown-name"],
    ["an impossible check", "51P/time@15,,,0.19 s", "check", "not-applicable"],
    ["an unknown stage", "51P/pickup,before,,4 A", "stage", "unknown-name"],
    ["a repeat that is no count", "51P/pickup,,0,4 A", "repeat", "out-of-range"],
    ["an unreadable number", "51P/pickup,,,four", "value", "unreadable"],
    ["a quoted decimal comma", '51P/pickup,,,"4,02 A"', "value", "decimal-comma"],
    ["a wrong unit", "51P/pickup,,,4 V", "value", "wrong-unit"],
    ["a time where a current belongs", "51P/pickup,,,4 s", "value", "wrong-unit"],
    ["a negative time", "51P/time@3,,,-1 s", "value", "out-of-range"],
    ["an injected level for a pickup", "51P/pickup,,,4 A,4 A", "injected", "not-applicable"],
    ["an injected level in the wrong unit", "51P/time@3,,,1.35 s,12 V", "injected", "wrong-unit"],
    ["an uncertainty in the wrong unit", "51P/time@3,,,1.35 s,,3 A", "uncertainty", "wrong-unit"],
    ["a coverage factor of zero", "51P/time@3,,,1.35 s,,3 ms,0", "coverageFactor", "out-of-range"],
    ["a coverage probability for a factor", "51P/time@3,,,1.35 s,,3 ms,95 %", "coverageFactor", "unreadable"],
    ["a coverage factor of nothing that is none", "51P/time@3,,,1.35 s,,,two", "coverageFactor", "unreadable"],
    ["a date that is none", "51P/time@3,,,1.35 s,,,,18.11.2026", "takenAt", "unreadable"],
    ["a day that does not exist", "51P/time@3,,,1.35 s,,,,2026-02-30", "takenAt", "unreadable"],
    ["an hour that does not exist", "51P/time@3,,,1.35 s,,,,2026-02-28T25:00", "takenAt", "unreadable"],
  ])("%s", (_what, line, path, code) => {
    const { readings, problems } = readReadings(`${all}\n81U/time,,,0.2 s\n${line}\n81U/pickup,,,49 Hz`, planned);
    expect(problems.map((problem) => [problem.line, problem.path, problem.code])).toEqual([[3, path, code]]);
    expect(readings.map(({ check }) => check)).toEqual(["81U/time", "81U/pickup"]);
  });

  test("an unquoted decimal comma is one cell too many", () => {
    const { problems } = reading("51P/pickup,4,02 A");
    expect(problems).toMatchObject([{ line: 2, code: "wrong-length" }]);
    expect(problems[0]?.expected).toMatch("decimal comma");
  });

  test.each([
    ["in the value", "check,value,note", "51P/pickup,4,02 A", "value"],
    ["in a bare value", "check,value,injected", "51P/time@3,1,27", "value"],
    ["in the injected level", "check,value,injected,note", "51P/time@3,1.35 s,11,95 A", "injected"],
    ["in the uncertainty", "check,value,uncertainty,note", "51P/time@3,1.35 s,0,002 s", "uncertainty"],
    [
      "in the coverage factor",
      "check,value,uncertainty,coverageFactor,note",
      "51P/time@3,1.35 s,4 ms,1,96",
      "coverageFactor",
    ],
    ["in a rate", "check,value,note", "81R/pickup,0,52 Hz/s", "value"],
    ["behind a minus sign of typesetters", "check,value,note", "25/edge@leading,−19,5°", "value"],
  ])("an unquoted decimal comma beside a spare column is not guessed at, %s", (_what, header, line, path) => {
    const { readings, problems } = reading(line, header);
    expect(readings).toEqual([]);
    expect(problems).toMatchObject([{ line: 2, path, code: "decimal-comma" }]);
  });

  test("what is no number and no word is told which words there are", () => {
    for (const text of ["no operation", "nevermore", "-"]) {
      const { readings, problems } = reading(`51P/time@3,${text}`);
      expect(readings).toEqual([]);
      expect(problems[0]?.expected).toMatch("never, operated, not taken");
    }
  });

  test("where semicolons separate, whole numbers side by side are whole numbers", () => {
    const { readings, problems } = readReadings('"check";"value";"injected"\r\n51P/time@3;2;12 A', planned);
    expect(problems).toEqual([]);
    expect(readings).toMatchObject([{ value: 2, injected: 12 }]);
    expect(reading("51P/time@3;1,35 s", "check;value").problems[0]?.code).toBe("decimal-comma");
  });

  test("a coverage factor in front of a number is one", () => {
    const header = "check,coverageFactor,value,uncertainty";
    expect(reading("51P/time@3,2,2 s,4 ms", header)).toMatchObject({
      problems: [],
      readings: [{ value: 2, uncertainty: { standard: 0.002, coverageFactor: 2 } }],
    });
  });

  test("but whole numbers with their units, and dates, are no decimal commas", () => {
    expect(reading("51P/time@3,2 s,12 A,4 ms", "check,value,injected,uncertainty").problems).toEqual([]);
    expect(reading("51P/time@3,2,2026-11-18T11:05", "check,value,takenAt").problems).toEqual([]);
  });

  test("a quote that is never closed takes no reading with it in silence", () => {
    const { readings, problems } = readReadings(
      'check,value,note\n81U/time,0.2 s,\n51P/pickup,4 A,"abc\n51P/time@3,1.35 s,',
      planned,
    );
    expect(readings.map(({ check }) => check)).toEqual(["81U/time"]);
    expect(problems).toMatchObject([{ line: 3, code: "unreadable" }]);
  });

  test("the same check, stage and repeat twice: the first is kept", () => {
    const { readings, problems } = readReadings("check,value\n51P/pickup,4 A\n51P/pickup,4.1 A", planned);
    expect(readings.map(({ value }) => value)).toEqual([4]);
    expect(problems).toMatchObject([{ line: 3, code: "duplicate" }]);
  });

  test("a line after a note of two lines has its true number", () => {
    const { problems } = readReadings('check,value,note\n51P/pickup,4 A,"one\ntwo"\n52P/pickup,4 A,', planned);
    expect(problems[0]?.line).toBe(4);
  });
});

describe("a header that cannot be used", () => {
  test.each([
    ["an empty file", "", "missing"],
    ["no value column", "check,reading\n", "missing"],
    ["an unknown column", "check,value,colour\n", "unknown-name"],
    ["a column twice", "check,value,value\n", "duplicate"],
  ])("%s", (_what, csv, code) => {
    expect(problemsOf(() => readReadings(csv, planned))[0]?.code).toBe(code);
  });
});

describe("what is written as people write it", () => {
  test.each([
    ["header", "Check,VALUE,takenat", "51P/pickup,4 A,2026-11-18T11:05", { value: 4, takenAt: "2026-11-18T11:05" }],
    ["ids", "check,value", "51p/TIME@3,1.35 s", { check: "51P/time@3" }],
    ["ids between the backticks of a page", "check,value", "`51P/time@3`,1.35 s", { check: "51P/time@3" }],
    ["never", "check,value", "51P/time@3,Never", { value: "never" }],
    ["operated", "check,value", "51P/quiet,OPERATED", { value: "operated" }],
    ["not taken", "check,value", "51P/time@3,Not taken", { value: "not-taken" }],
    ["stages", "check,value,stage", "51P/pickup,4 A,As left", { stage: "as-left" }],
    ["tabs", "check\tvalue\tnote", "51P/pickup\t4 A\tby hand, twice", { value: 4, note: "by hand, twice" }],
  ])("%s", (_what, header, line, wanted) => {
    expect(reading(line, header)).toMatchObject({ problems: [], readings: [wanted] });
  });

  test("a tab beside commas is a blank", () => {
    expect(reading("51P/pickup,\t4 A", "check,\tvalue")).toMatchObject({ problems: [], readings: [{ value: 4 }] });
  });

  test("of two elements whose names differ by case alone each is itself, and neither is guessed at", () => {
    const both = plan(read([inverse51, { ...inverse51, id: "51p" }]));
    const { readings, problems } = readReadings("check,value\n51p/pickup,4 A\n51P/pickup,4 A\n51p/PICKUP,4 A", both);
    expect(readings.map(({ check }) => check)).toEqual(["51p/pickup", "51P/pickup"]);
    expect(problems).toMatchObject([{ line: 4, code: "unknown-name" }]);
  });

  test("the nearest check is told of an id that is none", () => {
    const nearest = (typed: string) => reading(`${typed},1`).problems[0]?.expected;
    expect(nearest("51P/pikup")).toBe("a check of the plan; the nearest is 51P/pickup");
    expect(nearest("51p/time7")).toBe("a check of the plan; the nearest is 51P/time@7");
    expect(nearest("81U-time")).toBe("a check of the plan; the nearest is 81U/time");
  });

  test("an id without its degree sign, or with a broken one, is taken where one check can be meant", () => {
    const zone = plan(read([distance21]));
    const [id = ""] = zone.checks.map((check) => check.id).filter((name) => name.includes("°"));
    expect(id).not.toBe("");
    for (const sign of ["", "Â°", "º"]) {
      const { readings, problems } = readReadings(`check,value\n${id.replace("°", sign)},1 ohm`, zone);
      expect(problems).toEqual([]);
      expect(readings).toMatchObject([{ check: id }]);
    }
    const { readings, problems } = readReadings(`check,value\n${id.replace("°", "\uFFFD")},1 ohm`, zone);
    expect(readings).toMatchObject([{ check: id }]);
    expect(problems).toMatchObject([
      { line: 2, expected: "text in UTF-8", received: expect.stringMatching("not UTF-8") },
    ]);
  });
});

test("a problem says which check it is about, and at which stage", () => {
  const { problems } = reading("51P/time@3,as left,1,35 s\n51P/pickup,,four\n52P/pickup,,4 A", "check,stage,value");
  expect(problems.map(({ line, check, stage }) => [line, check, stage])).toEqual([
    [2, "51P/time@3", "as-left"],
    [3, "51P/pickup", "as-found"],
    [4, undefined, undefined],
  ]);
});
