import { plan, readSheet } from "tripwright/plan";
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

  test("all are typed right", { timeout: 240_000 }, () => {
    expect(typeProblems(code)).toEqual([]);
  });
});

describe("what is not TypeScript", () => {
  test("the README's command lines are the two that a newcomer runs", () => {
    const shell = markdown.filter(({ file, language }) => file === "README.md" && language === "sh");
    expect(shell.map(({ code }) => code.trim())).toEqual(["npm ci && npm start", "npm ci && npm test"]);
  });

  const sheets = markdown.filter(({ language }) => language === "json");
  test.each(sheets.map((snippet) => [`${snippet.file}:${snippet.line}`, snippet] as const))(
    "%s is a sheet that can be read and planned",
    (_place, { code }) => {
      expect(plan(readSheet(JSON.parse(code))).checks.length).toBeGreaterThan(0);
    },
  );

  test("every fence is of a language that something runs", () => {
    expect(markdown.filter(({ language }) => ![...CODE, "sh", "json"].includes(language))).toEqual([]);
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
