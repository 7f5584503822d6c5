/**
 * Runs the notebooks of examples/notebooks with a TypeScript kernel, against the tarball, and holds what comes out against
 * the outputs that are committed; `npm run notebooks -- --write` writes them instead. Needs a build (`npm run notebooks`
 * makes one), the npm registry (Deno, which is the kernel, comes from there on first use) and on Debian the package
 * `jupyter-nbconvert` (apt-get install jupyter-nbconvert).
 */
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { toolCommand } from "../tools/heavy.js";
import { finish, install, PROJECT, pack, run, step } from "./project.js";

const FOLDER = "examples/notebooks";
const JUPYTER = resolve(".cache/jupyter");
const write = process.argv.includes("--write");

install(pack());
// Deno looks for packages that the project names; the drawing ones are found further up.
const own = join(PROJECT, "package.json");
/** @type {{ dependencies: object }} */
const user = JSON.parse(readFileSync(own, "utf8"));
/** @type {{ devDependencies: { vega: string, "vega-lite": string } }} */
const { devDependencies } = JSON.parse(readFileSync("package.json", "utf8"));
const drawing = { vega: devDependencies.vega, "vega-lite": devDependencies["vega-lite"] };
writeFileSync(own, JSON.stringify({ ...user, dependencies: { ...user.dependencies, ...drawing } }));

const kernel = join(JUPYTER, "kernels/deno");
mkdirSync(kernel, { recursive: true });
const argv = [toolCommand("deno"), "jupyter", "--kernel", "--conn", "{connection_file}"];
writeFileSync(join(kernel, "kernel.json"), JSON.stringify({ argv, display_name: "Deno", language: "typescript" }));
Object.assign(process.env, { JUPYTER_PATH: JUPYTER, NO_COLOR: "1" });

cpSync(FOLDER, PROJECT, { recursive: true });
for (const name of readdirSync(FOLDER).filter((file) => file.endsWith(".ipynb"))) {
  step(`${name} ${write ? "is written" : "gives the outputs that are committed"}`, () => {
    const committed = readFileSync(join(FOLDER, name), "utf8");
    // On a busy machine an output may come after the kernel has said that it is done, and is lost: then once more.
    const first = executed(name);
    const ran = outputsIn(first) < outputsIn(committed) ? executed(name) : first;
    if (ran.includes(process.cwd()) || /"output_type": "error"/.test(ran))
      throw new Error("a path or an error came out");
    if (write) writeFileSync(join(FOLDER, name), ran);
    else if (ran !== committed) throw new Error(differenceOf(ran, committed));
    return `${outputsIn(ran)} outputs`;
  });
}
finish();

/** @param {string} name */
function executed(name) {
  const how = ["--to", "notebook", "--execute", "--inplace", "--ExecutePreprocessor.kernel_name=deno", name];
  run("jupyter-nbconvert", how, PROJECT);
  return settled(readFileSync(join(PROJECT, name), "utf8"));
}

/** @param {string} notebook */
function outputsIn(notebook) {
  return notebook.match(/"output_type"/g)?.length ?? 0;
}

/** A notebook without what differs from run to run and from machine to machine. @param {string} text */
function settled(text) {
  /** @type {{ cells: { metadata: object, outputs?: object[] }[], metadata: object }} */
  const notebook = JSON.parse(text);
  for (const cell of notebook.cells) cell.metadata = {};
  notebook.metadata = {
    kernelspec: { display_name: "Deno", language: "typescript", name: "deno" },
    language_info: { file_extension: ".ts", mimetype: "text/x.typescript", name: "typescript" },
  };
  return `${JSON.stringify(notebook, undefined, 1)}\n`;
}

/** @param {string} ran @param {string} committed */
function differenceOf(ran, committed) {
  const [now, then] = [ran.split("\n"), committed.split("\n")];
  const at = now.findIndex((line, i) => line !== then[i]);
  return `line ${at + 1} was\n  ${then[at]?.slice(0, 200)}\nand is\n  ${now[at]?.slice(0, 200)}`;
}
