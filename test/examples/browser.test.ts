/** The script of the browser page, against the sources and a page of cells instead of a browser. */
import { readFileSync } from "node:fs";
import * as curve from "tripwright/curve";
import { expect, test } from "vitest";

const html = readFileSync("examples/browser/index.html", "utf8");
const script = /<script type="module">([\s\S]*)<\/script>/.exec(html)?.[1] ?? "";
const [, names = ""] = /import \{(.*)\} from "\.\.\/\.\.\/dist\/curve\/index\.js";/.exec(script) ?? [];

/** What the page shows for what is typed into its form; the fields that are not given keep the value in the page. */
function shownFor(typed: Record<string, string> = {}) {
  const inputs = [...html.matchAll(/<input name="(\w+)" value="([^"]*)"/g)].map(([, name, value]) => [name, value]);
  const selected = /<option selected>([^<]*)</.exec(html)?.[1];
  const fields = { curve: selected, ...Object.fromEntries(inputs), ...typed };
  const rows: string[][] = [];
  const insertRow = () => {
    const cells: string[] = [];
    rows.push(cells);
    return {
      insertCell: () => ({
        set textContent(text: string) {
          cells.push(text);
        },
      }),
    };
  };
  const problem = { textContent: "" };
  const elements: Record<string, object> = {
    setting: { addEventListener: () => undefined },
    problem,
    times: { insertRow, replaceChildren: () => rows.splice(0) },
  };
  const document = { getElementById: (id: string) => elements[id] };
  class FormData {
    [Symbol.iterator] = () => Object.entries(fields)[Symbol.iterator]();
  }
  const run = new Function(
    "curve",
    "document",
    "FormData",
    script.replace(/import .*\n/, `const {${names}} = curve;\n`),
  );
  run(curve, document, FormData);
  return { rows, problem: problem.textContent };
}

test("the page shows the expected time at what was injected, and at the usual multiples", () => {
  // 13.5 · 0.2/(M − 1), ± 5 %: 1.35 s at 3, 2.7/1.95 s at 11.8 A/4 A = 2.95
  // Limits inward: 1.31538 to 1.45385 s at 2.95, 0.4275 to 0.4725 s at 7, 0.18321 to 0.2025 s at 15
  expect(shownFor().rows).toEqual([
    ["2.950", "1.385", "1.316", "1.453"],
    ["3.000", "1.350", "1.283", "1.417"],
    ["7.000", "0.450", "0.428", "0.472"],
    ["15.000", "0.193", "0.184", "0.202"],
  ]);
  expect(shownFor({ injected: "4" }).rows[0]).toEqual(["1.000", "never", "", ""]);
});

test("the page shows what is wrong at which field", () => {
  expect(shownFor({ multiplier: "0" })).toEqual({ rows: [], problem: "multiplier: a time multiplier above 0, not 0" });
  expect(shownFor({ injected: "4,1" }).problem).toMatch(/^multiple: /);
});
