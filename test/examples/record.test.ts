/** The main job as `npm start` runs it: what it prints, writes, and exits with. */
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";

let folder = "";

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "tripwright-"));
  cpSync("examples/tannery-lane", folder, { recursive: true, filter: (path) => !path.includes("output") });
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

/** Imports the script anew with its arguments in place, against the sources. */
async function run(...options: string[]) {
  const { argv, exitCode } = process;
  const printed: string[] = [];
  const log = vi.spyOn(console, "log").mockImplementation((text: string) => void printed.push(text));
  const error = vi.spyOn(console, "error").mockImplementation((text: string) => void printed.push(text));
  process.argv = ["node", "record.js", ...options, folder];
  try {
    vi.resetModules();
    await import("../../examples/record.js");
    return { exitCode: process.exitCode, printed: printed.join("\n") };
  } finally {
    process.argv = argv;
    process.exitCode = exitCode;
    log.mockRestore();
    error.mockRestore();
  }
}

const written = (name: string) => join(folder, "output", name);

describe("the main job", () => {
  test("writes the record in every form and the site card, prints the summary and exits 0", async () => {
    const { exitCode, printed } = await run();
    expect(exitCode).toBe(0);
    expect(printed).toMatch("36 checks, 4 again as left: 34 within, 4 outside, 0 undecided, 1 not taken, 1 impossible");
    expect(readFileSync(written("record.md"), "utf8")).toMatch(/^# Relay test record/);
    expect(readFileSync(written("record.csv"), "utf8")).toMatch(/^check,element,/);
    expect(readFileSync(written("record.html"), "utf8")).toMatch(/^<!doctype html>/);
    expect(JSON.parse(readFileSync(written("record.json"), "utf8"))).toMatchObject({ format: "tripwright/record@1" });
    expect(readFileSync(written("site-card.md"), "utf8")).toMatch(/^# Site card/);
    expect(readFileSync(written("site-card.html"), "utf8")).toMatch(/^<!doctype html>/);
  });

  test("prints what the README shows", async () => {
    const shown = [...readFileSync("README.md", "utf8").matchAll(/^ {4}(\S.*)$/gm)].map(([, line]) => line);
    const { printed } = await run();
    expect(shown.length).toBeGreaterThan(0);
    expect(printed.split("\n").slice(0, shown.length)).toEqual(shown);
  });

  test("draws the figures into the record, and beside it", async () => {
    await run();
    expect(
      readFileSync(written("record.html"), "utf8").match(/<img alt="[^"]+" src="data:image\/svg\+xml/g),
    ).toHaveLength(3);
    for (const n of [1, 2, 3]) expect(readFileSync(written(`figure-${n}.svg`), "utf8")).toMatch(/^<svg /);
  });

  test("makes the record without them where no renderer is installed", async () => {
    vi.doMock("vega", () => {
      throw new Error("Cannot find package 'vega'");
    });
    try {
      const { exitCode, printed } = await run();
      expect(exitCode).toBe(0);
      expect(printed).toMatch(/^Without figures: /);
    } finally {
      vi.doUnmock("vega");
    }
    expect(readFileSync(written("record.html"), "utf8")).not.toContain("<img");
    expect(existsSync(written("figure-1.svg"))).toBe(false);
  });

  test("with --strict exits 1 when anything is outside, and 0 when nothing is", async () => {
    expect((await run("--strict")).exitCode).toBe(1);
    writeFileSync(join(folder, "readings.csv"), "check,value\n51P/pickup,4 A\n");
    expect((await run("--strict")).exitCode).toBe(0);
  });

  test.each([
    [
      "a value in the wrong unit",
      (sheet: string) => sheet.replace('"4 A"', '"4 V"'),
      'elements[0].pickup: expected a current such as "4 A", received "4 V"',
    ],
    ["what is no JSON", (sheet: string) => sheet.slice(1), /^No record was written\. .*sheet\.json is no JSON: /],
  ])("a sheet with %s exits 2 and writes nothing", async (_what, spoil, message) => {
    const path = join(folder, "sheet.json");
    writeFileSync(path, spoil(readFileSync(path, "utf8")));
    const { exitCode, printed } = await run();
    expect(exitCode).toBe(2);
    expect(printed).toMatch(message);
    expect(existsSync(written("record.md"))).toBe(false);
  });

  test("readings that are not there yet exit 2, with what there is to take along", async () => {
    rmSync(join(folder, "readings.csv"));
    const { exitCode, printed } = await run();
    expect(exitCode).toBe(2);
    expect(printed).toMatch(
      /^No record was written\. There is no .*readings\.csv yet\. The site card and blank-readings\.csv/,
    );
    expect(existsSync(written("record.md"))).toBe(false);
    expect(readFileSync(written("site-card.md"), "utf8")).toMatch("## Settings on the sheet");
    // Filled in where it is for, it makes a record; what stayed empty was not taken.
    const blank = readFileSync(written("blank-readings.csv"), "utf8");
    writeFileSync(join(folder, "readings.csv"), blank.replace(/^(51P\/pickup,[^,]*),/m, "$1,4 A"));
    const filled = await run();
    expect(filled.exitCode).toBe(0);
    expect(filled.printed).toMatch("36 checks: 1 within, 0 outside, 0 undecided, 34 not taken, 1 impossible");
  });

  test("readings that cannot be read exit 2, with the name of their file", async () => {
    rmSync(join(folder, "readings.csv"));
    mkdirSync(join(folder, "readings.csv"));
    const { exitCode, printed } = await run();
    expect(exitCode).toBe(2);
    expect(printed).toMatch(/^No record was written\. .*readings\.csv cannot be read: /);
  });

  test.each([
    ["that is no JSON", '{ "instruments": [ }', /work\.json is no JSON: /],
    ["with an instrument without a description", '{ "instruments": [{ "id": "T1" }] }', /work\.json:\n.*description/],
    ["with a misspelt list", '{ "instrument": [] }', /work\.json:\n.*instrument/],
  ])("a list of the work %s exits 2, with the name of its file", async (_what, text, message) => {
    writeFileSync(join(folder, "work.json"), text);
    const { exitCode, printed } = await run();
    expect(exitCode).toBe(2);
    expect(printed).toMatch(message);
    expect(existsSync(written("record.md"))).toBe(false);
  });

  test.each([
    [
      "an unknown option",
      ["--stric"],
      /^No record was written\. Unknown option '--stric': node examples\/record\.js \[--strict\]/,
    ],
    ["a value for --strict", ["--strict=no"], /^No record was written\. .*'--strict' does not take an argument: node /],
    ["two folders", ["elsewhere"], /^No record was written\. One folder at a time, not elsewhere and /],
  ])("%s is told by name, in one line, and exits 2", async (_what, options, message) => {
    const { exitCode, printed } = await run(...options);
    expect(exitCode).toBe(2);
    expect(printed).toMatch(message);
    expect(printed).not.toContain("\n");
  });

  test("a bad line is named and left out, the others are judged", async () => {
    writeFileSync(join(folder, "readings.csv"), 'check,value\n51P/pickup,4 A\n59/pickup,"121,4 V"\n');
    const { exitCode, printed } = await run();
    expect(exitCode).toBe(0);
    expect(printed).toMatch("1 within");
    expect(printed).toMatch(
      /line 3: 59\/pickup, value: expected a voltage such as "63\.5 V", with a decimal point, received "121,4 V"/,
    );
  });
});
