import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { circles, FLOORS, type Sources, violations } from "./floors.js";

const SRC = new URL("../../src/", import.meta.url);

const sources: Sources = new Map(
  readdirSync(SRC, { recursive: true, encoding: "utf8" })
    .map((path) => path.replaceAll("\\", "/"))
    .filter((path) => path.endsWith(".ts"))
    .map((path) => [path, readFileSync(new URL(path, SRC), "utf8")]),
);

/** The real house with one more line in one file. */
const withLine = (path: string, line: string): Sources =>
  new Map(sources).set(path, `${line}\n${sources.get(path) ?? ""}`);

describe("the house as it stands", () => {
  test("no import climbs, crosses or reaches past an index", () => {
    expect(sources.size).toBeGreaterThan(50);
    expect(violations(sources)).toEqual([]);
  });

  test("no files import each other in a circle", () => {
    expect(circles(sources)).toEqual([]);
  });

  test("every folder has a floor, and an index unless it is base", () => {
    const folders = new Set(
      [...sources.keys()].filter((path) => path.includes("/")).map((path) => path.split("/")[0] as string),
    );
    for (const folder of folders) {
      expect(Object.keys(FLOORS)).toContain(folder);
      expect(sources.has(`${folder}/index.ts`)).toBe(folder !== "base");
    }
  });

  test("a file is one concept: none is longer than 250 lines", () => {
    const long = [...sources].filter(([, text]) => text.split("\n").length > 250).map(([path]) => path);
    expect(long).toEqual([]);
  });
});

describe("the rules bite", () => {
  test.each([
    ["a climb", "curve/form.ts", 'import { plan } from "../plan/index.js";', "curve/form.ts climbs to plan/index.ts"],
    [
      "a climb for a type only",
      "base/check.ts",
      'import type { Curve } from "../curve/index.js";',
      "base/check.ts climbs to curve/index.ts",
    ],
    [
      "neighbours on floor 1",
      "curve/form.ts",
      'import { rect } from "../phasor/index.js";',
      "curve/form.ts crosses to its neighbour phasor/index.ts",
    ],
    [
      "plan and rehearsal",
      "rehearsal/rehearse.ts",
      'export * from "../plan/index.js";',
      "rehearsal/rehearse.ts crosses to its neighbour plan/index.ts",
    ],
    [
      "past an index",
      "plan/plan.ts",
      'import { observe } from "../element/definition.js";',
      "plan/plan.ts reaches into element/definition.ts instead of its index",
    ],
    [
      "a package in the wrong place",
      "grading/band.ts",
      'import { Decimal } from "decimal.js";',
      "grading/band.ts imports the package decimal.js",
    ],
    [
      "a dependency below a light module",
      "phasor/polar.ts",
      'import { decimal } from "../base/exact.js";',
      "phasor reaches the package decimal.js",
    ],
  ])("%s is found", (_what, path, line, sentence) => {
    expect(violations(withLine(path, line))).toContain(sentence);
  });

  test("an import over several lines is seen", () => {
    const line = 'import {\n  plan,\n  readSheet,\n} from "../plan/index.js";';
    expect(violations(withLine("curve/form.ts", line))).toContain("curve/form.ts climbs to plan/index.ts");
  });

  test("a circle is found", () => {
    expect(circles(withLine("base/units.ts", 'import "./check.js";\nimport "./quantity.js";'))).not.toEqual([]);
  });
});
