import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

const SRC = new URL("../../src/", import.meta.url);
const text = (path: string): string => readFileSync(new URL(path, SRC), "utf8");

/** What modules compute; the others make plans, text and figures of it, and read sheets. */
const COMPUTES = ["curve", "sinusoid", "phasor", "timeline", "grading", "characteristic", "element"];

const modules = readdirSync(SRC, { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && entry.name !== "base")
  .map(({ name }) => name);

/** The names that an index hands on from files of its own module. */
const handedOn = modules.flatMap((module) =>
  [...text(`${module}/index.ts`).matchAll(/export \{([^}]*)\} from "\.\/([\w-]+)\.js"/g)].flatMap(([, names, file]) =>
    (names as string)
      .split(",")
      .map((name) => name.trim())
      .filter((name) => name !== "" && !name.startsWith("type "))
      .map((name) => ({ module, name, path: `${module}/${file}.ts` })),
  ),
);

/** The doc comment that stands right before what a file exports under a name, and how it begins; overloads have one together. */
function documented(source: string, name: string): { readonly doc: string; readonly code: string } {
  const [, doc = "", code = ""] =
    new RegExp(`(/\\*\\*(?:(?!\\*/)[^])*\\*/)\\nexport (?:async )?((?:function\\*?|const) ${name}\\b[^;{]*)`).exec(
      source,
    ) ?? [];
  return { doc, code };
}

/** Not a constant, such as a list of names or a schema. */
const isFunction = (code: string): boolean => code.startsWith("function") || /^const [^=]+= [(<]/.test(code);

/** The parts of the template that the comment of an exported function is without. */
function missing(source: string, name: string, module: string): string[] {
  const { doc, code } = documented(source, name);
  if (code !== "" && !isFunction(code)) return [];
  const parts = ["@throws", "@source", "@example", ...(COMPUTES.includes(module) ? ["Accuracy:"] : [])];
  return parts.filter((part) => !doc.includes(part));
}

describe("the doc comment of an exported function", () => {
  test.each(handedOn)(
    "$module: $name says what it throws, how accurate it is, where it comes from, by an example",
    ({ module, name, path }) => {
      expect(missing(text(path), name, module)).toEqual([]);
    },
  );

  test("is looked for in all modules", () => {
    expect(handedOn.length).toBeGreaterThan(150);
    expect(new Set(handedOn.map(({ module }) => module))).toEqual(new Set(modules));
  });

  test("is missed where there is none, and its parts where they are not there", () => {
    const source = "/** Twice. @source here @example x */\nexport const twice = (x: number): number => 2 * x;\n";
    expect(missing(source, "twice", "phasor")).toEqual(["@throws", "Accuracy:"]);
    expect(missing(source, "twice", "report")).toEqual(["@throws"]);
    expect(missing(source, "thrice", "report")).toEqual(["@throws", "@source", "@example"]);
    const ofOne = "/** Of one. @throws @source @example */\nexport const ofOne = ({ x }: One): number => x;\n";
    expect(missing(ofOne, "ofOne", "curve")).toEqual(["Accuracy:"]);
    expect(missing("/** All. */\nexport const names: readonly string[] = [];\n", "names", "curve")).toEqual([]);
  });
});
