import { describe, expect, test } from "vitest";
import { againstExact, againstPrinted } from "./digits.js";
import { type Ask, ledger, misses } from "./harness.js";
import { checkTable, flaggedIn, type Row, type Table } from "./table.js";

const source = { title: "A handbook", clause: "Table 1", provenance: "invented, to try the harness" };
const row = (id: string, rest: Partial<Row> = {}): Row => ({
  id,
  source,
  inputs: { x: "2" },
  printed: { half: "1.0" },
  ...rest,
});
const table = (rows: readonly Row[], rest: Partial<Table> = {}): Table => ({
  about: { title: "Halves", source: "a handbook", provenance: "invented" },
  count: rows.length,
  values: rows.length,
  rows,
  ...rest,
});
const two = { rows: 2, values: 2 };
const missesOf = (rows: readonly Row[], ask: Ask, about: Partial<Table["about"]> = {}): string[] =>
  misses(ledger({ ...table(rows), about: { ...table(rows).about, ...about } }, ask));

describe("a table is refused", () => {
  test("unless it is whole", () => {
    const whole = table([row("a"), row("b")]);
    expect(checkTable("halves", whole, two)).toBe(whole);
  });

  test("when a row was cut off", () => {
    const cut = { ...table([row("a"), row("b")]), rows: [row("a")] };
    expect(() => checkTable("halves", cut, two)).toThrow("halves: 1 rows, the table declares 2, the test expects 2");
  });

  test("when a row was cut off and the declared count lowered to fit", () => {
    expect(() => checkTable("halves", table([row("a")]), two)).toThrow("the table declares 1, the test expects 2");
  });

  test("when it declares more rows than it has, whatever the test expects", () => {
    const rows = [row("a"), row("b")];
    expect(() => checkTable("halves", table(rows, { count: 3 }), two)).toThrow("2 rows, the table declares 3");
  });

  test("when a row lost one of its values", () => {
    const rows = [row("a"), row("b", { printed: { half: "1.0", third: "0.7" } })];
    const three = { rows: 2, values: 3 };
    expect(() => checkTable("halves", table(rows, { values: 3 }), three)).not.toThrow();
    expect(() => checkTable("halves", table([row("a"), row("b")], { values: 3 }), three)).toThrow("2 values");
  });

  test("when one row stands there twice in the place of another", () => {
    expect(() => checkTable("halves", table([row("a"), row("a")]), two)).toThrow("a stands there twice");
  });

  test("when a row hides its source or how it is known", () => {
    const nameless = row("b", { source: { ...source, title: "" } });
    const unsaid = row("b", { source: { ...source, provenance: "surely right" } });
    expect(() => checkTable("halves", table([row("a"), nameless]), two)).toThrow("b names no source");
    expect(() => checkTable("halves", table([row("a"), unsaid]), two)).toThrow("seen or remembered");
  });

  test("when a row has nothing to compare with", () => {
    expect(() =>
      checkTable("halves", table([row("a"), row("b", { printed: {} })], { values: 1 }), { rows: 2, values: 1 }),
    ).toThrow("b has no value to compare with");
  });

  test("when it does not say where it comes from", () => {
    const about = { title: "Halves", source: "", provenance: "invented" };
    expect(() => checkTable("halves", table([row("a"), row("b")], { about }), two)).toThrow("where it comes from");
  });

  test("when it compares beyond printed digits without a bound, or gives no reason for it", () => {
    const about = { ...table([]).about, bound: { ulps: 1, reason: "" } };
    expect(() => missesOf([row("a", { exact: { half: "1" } })], () => ({ half: 1 }))).toThrow("gives no bound");
    expect(() => checkTable("halves", table([row("a"), row("b")], { about }), two)).toThrow("gives no reason");
  });
});

describe("printed digits", () => {
  test("agree up to half a unit of the last one, that included, and no double further", () => {
    for (const ours of [1.5, 2, 2.5]) expect(againstPrinted(ours, "2").within, `${ours}`).toBe(true);
    for (const ours of [1.4999999999999998, 2.5000000000000004]) {
      expect(againstPrinted(ours, "2").within, `${ours}`).toBe(false);
    }
    for (const ours of [-1.5, -2.5]) expect(againstPrinted(ours, "-2").within, `${ours}`).toBe(true);
  });

  test("count their trailing zeros and their power of ten", () => {
    expect(againstPrinted(2.53125, "2.5").within).toBe(true);
    expect(againstPrinted(2.53125, "2.50").within).toBe(false);
    expect(againstPrinted(28865, "28.86e3").within).toBe(true);
    expect(againstPrinted(28865.5, "28.86e3").within).toBe(false);
  });

  test("agree with nothing that is no number, and must be digits", () => {
    for (const ours of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(againstPrinted(ours, "2").within, `${ours}`).toBe(false);
    }
    expect(() => againstPrinted(2, "about 2")).toThrow('"about 2" is not a decimal number');
  });
});

describe("exact digits", () => {
  // 2^-3 is a double; its neighbour lies 2^-55 above it.
  test("are held to units in the last place, counted from all binary digits", () => {
    const neighbour = 0.125 + 2 ** -55;
    expect(againstExact(0.125, "0.125", { ulps: 0 }).within).toBe(true);
    expect(againstExact(neighbour, "0.125", { ulps: 1 }).within).toBe(true);
    expect(againstExact(neighbour, "0.125", { ulps: 0.99 }).within).toBe(false);
    expect(againstExact(0.1, "0.1", { ulps: 0.5 }).within).toBe(true);
    expect(againstExact(0.1, "0.1", { ulps: 0 }).within).toBe(false);
  });

  test("are held to a share of the value, or to a fixed distance where that is greater", () => {
    expect(againstExact(1024.5, "1024", { relative: 1 / 2048 }).within).toBe(true);
    expect(againstExact(1024.75, "1024", { relative: 1 / 2048 }).within).toBe(false);
    expect(againstExact(0.25, "0", { relative: 0.5 }).within).toBe(false);
    expect(againstExact(0.25, "0", { relative: 0.5, absolute: 0.25 }).within).toBe(true);
    expect(againstExact(-0.5, "0", { absolute: 0.25 })).toEqual({ difference: -0.5, slack: 0.25, within: false });
  });
});

describe("a disagreement", () => {
  test("is told with row, quantity, printed value, ours, the difference and the source", () => {
    expect(missesOf([row("a"), row("b")], (_, id) => ({ half: id === "a" ? 1 : 1.25 }))).toEqual([
      "b: half: printed 1.0, ours 1.25, off by 0.25; allowed: half a unit of the last digit; " +
        "A handbook, Table 1 (invented, to try the harness)",
    ]);
  });

  test("is what an answer that is missing, a word or a list of another length makes", () => {
    expect(missesOf([row("a")], () => ({}))[0]).toContain("ours missing");
    expect(missesOf([row("a", { printed: { verdict: "pass" } })], () => ({ verdict: "fail" }))[0]).toContain(
      "ours fail",
    );
    expect(missesOf([row("a", { printed: { verdict: "pass" } })], () => ({ verdict: "pass" }))).toEqual([]);
    const list = [row("a", { printed: { halves: ["1.0", "2.0"] } })];
    expect(missesOf(list, () => ({ halves: [1, 2] }))).toEqual([]);
    expect(missesOf(list, () => ({ halves: [1, 3] }))[0]).toContain("halves[1]: printed 2.0, ours 3");
    expect(missesOf(list, () => ({ halves: [1, 2, 3] }))).toHaveLength(2);
  });

  test("is what a single unit in the last place makes under a tighter bound", () => {
    const rows = [row("a", { printed: {}, exact: { half: "1" } })];
    const bound = { ulps: 0.5, reason: "to try it" };
    expect(missesOf(rows, () => ({ half: 1 }), { bound })).toEqual([]);
    expect(missesOf(rows, () => ({ half: 1 + 2 ** -52 }), { bound })[0]).toContain("0.5 units in the last place");
  });
});

test("a printed value on record as not following from its formula is found where a table uses it", () => {
  const flag = { id: "b", source, quantity: "half", printed: "1.1", recomputed: "1.0" };
  const recomputed = row("b", { printed: { third: "0.7" }, exact: { half: "1.0" } });
  expect(flaggedIn(table([row("a"), row("b")]), [flag])).toEqual(["b: half"]);
  expect(flaggedIn(table([row("a"), recomputed]), [flag])).toEqual([]);
});
