/** Collects the code examples that people read: ts fences of Markdown files, and `@example` blocks of doc comments. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** One example with the place where it stands. */
export interface Snippet {
  readonly file: string;
  /** Of its first line of code, counted from 1. */
  readonly line: number;
  readonly language: string;
  readonly code: string;
}

const ROOT = new URL("../..", import.meta.url).pathname;

function filesBelow(folder: string, ending: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((path) => path.endsWith(ending))
    .map((path) => join(folder, path).replaceAll("\\", "/"));
}

/** Every fence of the Markdown files that people read. */
export function markdownSnippets(): Snippet[] {
  return ["README.md", "DEVELOPERS.md", ...filesBelow("docs", ".md")].flatMap((file) =>
    fencesOf(file, readFileSync(join(ROOT, file), "utf8")),
  );
}

/** Every `@example` of the sources. */
export function sourceSnippets(): Snippet[] {
  return filesBelow("src", ".ts").flatMap((file) => examplesOf(file, readFileSync(join(ROOT, file), "utf8")));
}

function fencesOf(file: string, text: string): Snippet[] {
  return [...text.matchAll(/^```(\w+)[^\n]*\n([\s\S]*?)^```$/gm)].map((match) => ({
    file,
    line: lineAt(text, match.index) + 1,
    language: match[1] as string,
    code: match[2] as string,
  }));
}

function examplesOf(file: string, text: string): Snippet[] {
  return [...text.matchAll(/@example\n((?: *\*(?! *@)(?!\/)[^\n]*\n)+)/g)].map((match) => ({
    file,
    line: lineAt(text, match.index) + 1,
    language: "ts",
    code: (match[1] as string).replace(/^ *\* ?/gm, ""),
  }));
}

const lineAt = (text: string, index: number): number => text.slice(0, index).split("\n").length;
