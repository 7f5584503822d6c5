/** The tolerance that checks use: shares are those of the grades, and nothing that was not measured looks measured. */
import fc from "fast-check";
import { operateTime } from "tripwright/curve";
import { recordFigures, type SingleFigure, toleranceFigure } from "tripwright/figure";
import { type Check, plan } from "tripwright/plan";
import { judge, type Reading, type TestRecord } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { bandOf, instantaneous50, inverse51, read, sheets, undervoltage27 } from "../support/sheets.js";
import { axisOf, checkData, drawn, layersOf, rowsOf } from "./drawn.js";

const sheet = read([inverse51, undervoltage27, instantaneous50]);
const planned = plan(sheet);
const checkNamed = (id: string) => planned.checks.find((check) => check.id === id) as Check;
const reading = (check: string, value: Reading["value"], more: Partial<Reading> = {}): Reading => ({
  check,
  stage: "as-found",
  repeat: 1,
  value,
  ...more,
});
const recordOf = (...readings: Reading[]) => judge(sheet, planned, readings);
const shareIn = (record: TestRecord, check: string) =>
  rowsOf(toleranceFigure(record), /^readings/).find((row) => row["check"] === check)?.["share"];
const remarkIn = (record: TestRecord, check: string) =>
  rowsOf(toleranceFigure(record), /remarks$/).find((row) => row["check"] === check)?.["label"];

/** The axis on which each check has its row. */
const rowAxisOf = (figure: SingleFigure) =>
  figure.layer.at(-1)?.encoding["y"] as unknown as {
    readonly axis: { readonly labelLimit: number };
    readonly scale: { readonly domain: readonly string[] };
  };

describe("every share", () => {
  test("is that of the grade, with the sign of its error, on any sheet", () => {
    holds(
      fc.property(sheets, fc.integer({ min: 1, max: 1000 }), (given, seed) => {
        const thePlan = plan(given);
        const errors = Object.fromEntries(given.elements.map(({ id }) => [id, { pickup: 1.01, time: 1.02 }]));
        const record = judge(given, thePlan, rehearsePlan(given, thePlan, { errors, seed }));
        const figure = toleranceFigure(record);
        const rows = new Map(rowsOf(figure, /^readings/).map((row) => [row["check"], row["share"] as number]));
        for (const verdict of record.verdicts) {
          const grade = verdict.status === "graded" ? verdict.grade : undefined;
          if (grade?.error === undefined) expect(rows.has(verdict.check)).toBe(false);
          else if ("used" in grade && grade.used !== undefined && grade.used <= 3)
            expect(rows.get(verdict.check)).toBe(grade.error < 0 ? -grade.used : grade.used);
        }
        checkData(figure);
      }),
      15,
    );
  });

  test("is 1 on the upper limit and −1 on the lower one", () => {
    const { low = 0, high = 0 } = bandOf(checkNamed("51P/pickup"));
    expect(shareIn(recordOf(reading("51P/pickup", high)), "51P/pickup")).toBe(1);
    expect(shareIn(recordOf(reading("51P/pickup", low)), "51P/pickup")).toBe(-1);
  });
});

test("an uncertainty is a bar as long as its own share of the tolerance", () => {
  const { nominal, high = 0 } = bandOf(checkNamed("51P/pickup"));
  const value = nominal + 0.5 * (high - nominal);
  const uncertainty = { standard: 0.1 * (high - nominal), coverageFactor: 2 };
  const [bar] = rowsOf(toleranceFigure(recordOf(reading("51P/pickup", value, { uncertainty }))), /^uncertainties/);
  expect([bar?.["share"], bar?.["to"]]).toEqual([0.3, 0.7].map((x) => expect.closeTo(x, 9)));
});

describe("what has no share", () => {
  test("says why, loudly", () => {
    const record = recordOf(
      reading("27/time", "never"),
      reading("51P/quiet", "never"),
      reading("50P/quiet", "operated"),
    );
    expect(remarkIn(record, "27/time")).toBe("never operated, OUTSIDE");
    expect(remarkIn(record, "51P/quiet")).toBe("stayed quiet");
    expect(remarkIn(record, "50P/quiet")).toBe("operated, should have stayed quiet, OUTSIDE");
    expect(remarkIn(record, "51P/pickup")).toBe("NOT TAKEN");
    expect(rowsOf(toleranceFigure(record), /^readings/)).toEqual([]);
    expect(rowsOf(toleranceFigure(record), /^never operated$/)).toEqual([{ check: "27/time", share: 1.4 }]);
    expect(toleranceFigure(record).title.subtitle?.join(" ")).toContain("▶ at the edge: never operated");
    expect(rowsOf(toleranceFigure(record), /^remarks$/).map(({ check }) => check)).toEqual(["51P/quiet"]);
  });

  test("for want of a limit on its side stands at 0 and says so", () => {
    const oneSided = read([
      { ...instantaneous50, accuracy: { pickup: { percent: 5 }, time: { absolute: "40 ms", side: "high" } } },
    ]);
    const record = judge(oneSided, plan(oneSided), [reading("50P/time", 0)]);
    const row = rowsOf(toleranceFigure(record), /^readings within/);
    expect(row).toEqual([{ check: "50P/time", share: 0 }]);
  });
});

test("a reading far beyond stands at the edge, with its share in figures", () => {
  const { nominal, high = 0 } = bandOf(checkNamed("51P/pickup"));
  const record = recordOf(reading("51P/pickup", nominal + 40 * (high - nominal)));
  const figure = toleranceFigure(record);
  expect(rowsOf(figure, /^readings beyond right$/)).toEqual([{ check: "51P/pickup", share: 3 }]);
  expect(remarkIn(record, "51P/pickup")).toBe("+4000 % of the tolerance, OUTSIDE");
});

test("a share that is outside is never printed as 100 %", () => {
  const { nominal, high = 0 } = bandOf(checkNamed("51P/pickup"));
  const record = recordOf(reading("51P/pickup", nominal + 1.00002 * (high - nominal)));
  expect(remarkIn(record, "51P/pickup")).toBe("+100.002 % of the tolerance, OUTSIDE");
});

test("as found and as left are rows of their own, in the order of the record", () => {
  const record = recordOf(reading("51P/pickup", 4.3), reading("51P/pickup", 4, { stage: "as-left" }));
  const figure = toleranceFigure(record);
  const names = rowAxisOf(figure).scale.domain;
  expect(names).toHaveLength(record.verdicts.length);
  expect(names.filter((name) => name.startsWith("51P/pickup"))).toEqual(["51P/pickup", "51P/pickup, as left"]);
});

test("a reading that is nominal but for rounding uses 0 %", () => {
  expect(remarkIn(recordOf(reading("51P/pickup", 4 + 4e-15)), "51P/pickup")).toBe("0 % of the tolerance");
  // 0.0002 A of the 0.2 A that 5 % of 4 A allow.
  expect(remarkIn(recordOf(reading("51P/pickup", 4.0002)), "51P/pickup")).toBe("+0.1 % of the tolerance");
});

test("names of checks are whole, however long", () => {
  const id = "51P of the feeder to the north section, second stage";
  const long = read([{ ...inverse51, id }]);
  const figure = toleranceFigure(judge(long, plan(long), []));
  // 0 is no limit.
  expect(rowAxisOf(figure).axis.labelLimit).toBe(0);
  expect(rowAxisOf(figure).scale.domain).toContain(`${id}/time@3`);
});

test("the limits stand at −1 and 1", () => {
  const figure = toleranceFigure(recordOf());
  expect(rowsOf(figure, /^limits$/)).toEqual([{ share: -1 }, { share: 1 }]);
  expect(axisOf(layersOf(figure)[0] as never, "x").axis.title).toBe(
    "Error as a share of the tolerance (1 = on the limit)",
  );
});

test("is drawn", async () => {
  const svg = await drawn(
    toleranceFigure(recordOf(reading("51P/pickup", 4.3), reading("27/time", 90), reading("50P/time", 0.001))),
  );
  expect(svg).toContain(">51P/pickup<");
  await drawn(toleranceFigure(recordOf()));
});

describe("the figures of a record", () => {
  const record = recordOf(
    reading("51P/time@3", 1.36, { injected: 11.9 }),
    reading("51P/time@7", 0.6),
    reading("51P/time@7", 0.46, { stage: "as-left" }),
    reading("51P/time@15", "never"),
    reading("27/time", 1.5),
  );
  const figures = recordFigures(record);

  test("are the shares, and a curve for each element whose time depends on its quantity", () => {
    expect(figures.map(({ element }) => element)).toEqual([undefined, "51P"]);
    expect(recordFigures(recordOf())).toHaveLength(1);
  });

  test("show each time at the multiple that was really injected, by its verdict", () => {
    const rows = (verdict: string) => rowsOf(figures[1]?.spec as never, new RegExp(`^readings 1 ${verdict}`));
    expect(rows("within")).toEqual([
      { multiple: 11.9 / 4, time: 1.36 },
      { multiple: 7, time: 0.46 },
    ]);
    expect(rows("outside")).toEqual([{ multiple: 7, time: 0.6 }]);
    expect(rowsOf(figures[1]?.spec as never, /^never 1$/)).toMatchObject([{ multiple: 15 }]);
    expect(rowsOf(figures[1]?.spec as never, /^never 1 outside$/)).toMatchObject([{ multiple: 15 }]);
    expect(figures[1]?.spec.title.subtitle).toEqual(["● within · ✕ outside · ◇ undecided · ▲ never operated"]);
    expect(rowsOf(figures[1]?.spec as never, /reading labels$/).map(({ label }) => label)).toEqual([
      "1.36 s",
      "0.6 s",
      "0.46 s as left",
      "never",
    ]);
  });

  test("show the band in which the readings were judged", () => {
    const at7 = rowsOf(figures[1]?.spec as never, /^limits/).filter(({ multiple }) => multiple === 7);
    const { low, high } = bandOf(checkNamed("51P/time@7"));
    expect(at7.map(({ time }) => time)).toEqual([low, high].map((limit) => expect.closeTo(limit as number, 12)));
    const curve = rowsOf(figures[1]?.spec as never, /^curve/).find(({ multiple }) => multiple === 7);
    expect(curve?.["time"]).toBe(operateTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 7));
  });

  test("are drawn", async () => {
    for (const { spec } of figures) await drawn(spec);
  });

  test("label of several repeats the one that makes the verdict", () => {
    const times = [1.37, 1.38, 1.36, 1.35, 1.34];
    const repeated = recordOf(
      ...times.map((value, i) => reading("51P/time@3", value, { repeat: i + 1 })),
      reading("51P/time@3", 1.35, { stage: "as-left" }),
    );
    const spec = recordFigures(repeated)[1]?.spec as never;
    expect(rowsOf(spec, /^readings 1/)).toHaveLength(6);
    // 13.5/2 · 0.2 = 1.35 s: 1.38 s is farthest from it.
    expect(rowsOf(spec, /reading labels$/).map(({ label }) => label)).toEqual(["worst of 5: 1.38 s", "1.35 s as left"]);
  });

  test("are several of about 40 rows where a record is long, with every check once", () => {
    const many = read(Array.from({ length: 14 }, (_, i) => ({ ...inverse51, id: `51P-${i + 1}` })));
    const thePlan = plan(many);
    const record = judge(many, thePlan, [
      reading("51P-7/time@3", 1.36),
      reading("51P-7/time@3", 1.35, { stage: "as-left" }),
    ]);
    const shares = recordFigures(record).filter(({ element }) => element === undefined);
    const names = shares.map(({ spec }) => rowAxisOf(spec).scale.domain);
    expect(names.flat()).toHaveLength(record.verdicts.length);
    expect(new Set(names.flat()).size).toBe(record.verdicts.length);
    for (const part of names) expect(part.length).toBeLessThanOrEqual(41);
    expect(shares.map(({ title }) => title.split(" used, ")[1])).toEqual(
      shares.map((_, i) => `${i + 1} of ${Math.ceil(record.verdicts.length / 40)}`),
    );
    expect(names.filter((part) => part.some((name) => name.startsWith("51P-7/time@3")))).toHaveLength(1);
  });

  test("go without titles beside headings, and are the same otherwise", async () => {
    const beside = recordFigures(record, { titles: "beside" });
    expect(beside.map(({ title }) => title)).toEqual(figures.map(({ title }) => title));
    // Made anew, because the renderer leaves marks in the rows that it draws.
    for (const [i, { spec }] of recordFigures(record).entries()) {
      const { title, ...rest } = spec;
      expect(beside[i]?.spec).toEqual({ ...rest, title: expect.objectContaining({ text: title.subtitle }) });
      expect(await drawn(spec)).toContain(`>${title.text}<`);
      expect(await drawn(beside[i]?.spec as SingleFigure)).not.toContain(`>${title.text}<`);
    }
    expect(problemsOf(() => recordFigures(record, { titles: "above" as never }))[0]?.path).toBe("titles");
  });
});

describe("refuses", () => {
  test.each([
    ["what is no record", null, "record"],
    ["a record without verdicts", { sheet }, "verdicts"],
    ["an empty record", { sheet, verdicts: [] }, "verdicts"],
  ])("%s", (_what, record, path) => {
    expect(problemsOf(() => toleranceFigure(record as unknown as TestRecord))[0]?.path).toBe(path);
    expect(problemsOf(() => recordFigures(record as unknown as TestRecord))[0]?.path).toBe(path);
  });

  test("an unknown option", () => {
    expect(problemsOf(() => toleranceFigure(recordOf(), { name: "x" } as never))[0]?.path).toBe("name");
  });
});
