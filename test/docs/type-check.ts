/** Type-checks all examples at once, as the project's own files would be. */
import { join } from "node:path";
import ts from "typescript";
import type { Snippet } from "./snippets.js";

const ROOT = new URL("../..", import.meta.url).pathname;

/** Every complaint of the compiler, with the place of the example. */
export function typeProblems(snippets: readonly Snippet[]): string[] {
  const { config } = ts.readConfigFile(join(ROOT, "tsconfig.json"), ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent({ ...config, include: [], files: ["src/index.ts"] }, ts.sys, ROOT);
  // Each example is a module of its own. Readers seldom have the strictest of our settings, so it is off for them.
  const files = new Map(snippets.map((snippet, i) => [join(ROOT, "test", "docs", `example-${i}.ts`), snippet]));
  const host = ts.createCompilerHost(options);
  const { getSourceFile, fileExists, readFile } = host;
  const textOf = (name: string) => {
    const snippet = files.get(name);
    return snippet && `${snippet.code}\nexport {};\n`;
  };
  host.fileExists = (name) => files.has(name) || fileExists(name);
  host.readFile = (name) => textOf(name) ?? readFile(name);
  host.getSourceFile = (name, target, ...rest) => {
    const text = textOf(name);
    return text === undefined ? getSourceFile(name, target, ...rest) : ts.createSourceFile(name, text, target);
  };
  const program = ts.createProgram(
    [...files.keys()],
    { ...options, noUnusedLocals: false, noPropertyAccessFromIndexSignature: false },
    host,
  );
  return ts.getPreEmitDiagnostics(program).map((diagnostic) => {
    const snippet = files.get(diagnostic.file?.fileName ?? "");
    const place = snippet ? `${snippet.file}:${snippet.line}` : (diagnostic.file?.fileName ?? "");
    return `${place}: ${ts.flattenDiagnosticMessageText(diagnostic.messageText, "\n")}`;
  });
}
