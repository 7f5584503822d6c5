import { describe, expect, test } from "vitest";
import { runSnippet } from "./run-snippet.js";
import { markdownSnippets, type Snippet, sourceSnippets } from "./snippets.js";
import { typeProblems } from "./type-check.js";

const CODE = ["ts", "js"];
const markdown = markdownSnippets();
const code = [...markdown.filter(({ language }) => CODE.includes(language)), ...sourceSnippets()];

describe("every example that people read", () => {
  test("there are many of them", () => {
    expect(code.length).toBeGreaterThan(30);
  });

  test.each(code.map((snippet) => [`${snippet.file}:${snippet.line}`, snippet] as const))(
    "%s gives the values it shows",
    async (_place, snippet) => {
      expect(await runSnippet(snippet)).toBeGreaterThan(0);
    },
  );

  test("all are typed right", { timeout: 60_000 }, () => {
    expect(typeProblems(code)).toEqual([]);
  });
});

describe("the runner", () => {
  const snippet = (text: string): Snippet => ({ file: "here", line: 1, language: "ts", code: text });

  test("finds a wrong value", async () => {
    await expect(runSnippet(snippet("1 + 1; // → 3"))).rejects.toThrow();
  });

  test("finds a missing throw", async () => {
    await expect(runSnippet(snippet("1 + 1; // throws InputError"))).rejects.toThrow();
  });

  test("finds a mark that stands behind no expression", async () => {
    await expect(runSnippet(snippet("const two = 2; // → 2"))).rejects.toThrow("marks");
  });

  test("finds a wrong type", { timeout: 60_000 }, () => {
    expect(typeProblems([snippet('const two: string = 2;\ntwo; // → "2"')])).toHaveLength(1);
  });
});
