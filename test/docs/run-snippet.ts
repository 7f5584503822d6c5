/** Runs an example: every `expression; // → value` and `expression; // throws Name` in it becomes an assertion. */
import ts from "typescript";
import { expect } from "vitest";
import { ulps } from "../support/distance.js";
import type { Snippet } from "./snippets.js";

const MARK = /^[ \t]*\/\/ (→|throws) (.*)$/m;

/** Runs one example; the number of assertions that it made. */
export async function runSnippet(snippet: Snippet): Promise<number> {
  const { code, modules } = prepared(snippet);
  const loaded = Object.fromEntries(await Promise.all(modules.map(async (name) => [name, await import(name)])));
  let assertions = 0;
  const check = async (actual: () => unknown, expected: () => unknown) => {
    assertions++;
    expectSame(await actual(), expected());
  };
  const throws = async (work: () => unknown, name: string) => {
    assertions++;
    await expect(async () => await work()).rejects.toMatchObject({ name });
  };
  const run = new Function("modules", "check", "throws", "console", `return (async () => {\n${code}\n})()`);
  await run(loaded, check, throws, { log: () => undefined });
  return assertions;
}

/** Imports become destructured namespaces, marked statements become assertions, types are stripped. */
function prepared({ code, file, line }: Snippet): { code: string; modules: string[] } {
  const source = ts.createSourceFile("snippet.ts", code, ts.ScriptTarget.Latest, true);
  const modules: string[] = [];
  const edits: { start: number; end: number; text: string }[] = [];
  let marked = 0;
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) {
      const name = (node.moduleSpecifier as ts.StringLiteral).text;
      modules.push(name);
      edits.push({ start: node.getStart(), end: node.end, text: destructured(node, name) });
    } else if (ts.isExpressionStatement(node)) {
      const mark = MARK.exec(code.slice(node.end).split("\n")[0] as string);
      if (mark !== null) {
        marked++;
        edits.push({ start: node.getStart(), end: node.end, text: assertion(node.expression, mark) });
        return;
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  const marks = code.match(new RegExp(MARK.source.replace("^[ \\t]*", ""), "gm"))?.length ?? 0;
  if (marks !== marked)
    throw new Error(`${file}:${line}: ${marks} marks, but only ${marked} stand behind an expression`);
  const rewritten = edits
    .sort((a, b) => b.start - a.start)
    .reduce((text, { start, end, text: by }) => text.slice(0, start) + by + text.slice(end), code);
  return { code: ts.transpile(rewritten, { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext }), modules };
}

function destructured({ importClause }: ts.ImportDeclaration, name: string): string {
  if (importClause === undefined || importClause.isTypeOnly) return "";
  const from = `modules[${JSON.stringify(name)}]`;
  const bindings = importClause.namedBindings;
  if (bindings !== undefined && ts.isNamespaceImport(bindings)) return `const ${bindings.name.text} = ${from};`;
  const names = (bindings?.elements ?? []).filter((element) => !element.isTypeOnly);
  return `const { ${names.map(({ propertyName, name }) => (propertyName ? `${propertyName.text}: ${name.text}` : name.text)).join(", ")} } = ${from};`;
}

/** What `console.log` would print is what is compared. */
function assertion(expression: ts.Expression, [, kind, text]: RegExpExecArray): string {
  const isLog = ts.isCallExpression(expression) && expression.expression.getText() === "console.log";
  const actual = (isLog ? (expression.arguments[0] as ts.Expression) : expression).getText();
  return kind === "throws"
    ? `await throws(async () => (${actual}), ${JSON.stringify((text as string).trim())});`
    : `await check(async () => (${actual}), () => (${text}));`;
}

/** Deep equality in which numbers may differ by 4 units in the last place, since engines differ there. */
function expectSame(actual: unknown, expected: unknown): void {
  if (typeof actual === "number" && typeof expected === "number" && ulps(actual, expected) <= 4) return;
  if (typeof actual !== "object" || actual === null || typeof expected !== "object" || expected === null) {
    expect(actual).toEqual(expected);
    return;
  }
  expect(Object.keys(actual)).toEqual(Object.keys(expected));
  for (const key of Object.keys(expected)) {
    expectSame((actual as Record<string, unknown>)[key], (expected as Record<string, unknown>)[key]);
  }
}
