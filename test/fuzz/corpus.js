/** Valid calls, taken from the examples that people read and from the main path on the invented feeder Tannery Lane. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { copied } from "./mutate.js";

const ROOT = new URL("../..", import.meta.url);
const MOST_EXAMPLES = 60;

/** @typedef {(...args: unknown[]) => unknown} Fn */
/** @typedef {{ name: string, call: Fn, examples: unknown[][] }} Target A function of an entry point. */
/** @typedef {{ [name: string]: unknown }} Module */

/** Names of all entry points that hold code. */
export function entryPoints() {
  /** @type {{ exports: object }} */
  const { exports } = JSON.parse(readFileSync(new URL("package.json", ROOT), "utf8"));
  return Object.keys(exports)
    .filter((path) => path !== "." && !path.endsWith(".json"))
    .map((path) => path.slice(2));
}

/** Every exported function of every entry point, with the valid calls that were seen. @returns {Promise<Target[]>} */
export async function targets() {
  /** @type {Map<string, Module>} */
  const modules = new Map();
  /** @type {Map<Fn, Target>} */
  const found = new Map();
  const names = entryPoints();
  for (const entry of names) {
    const path = `tripwright/${entry}`;
    /** @type {Module} */
    const module = await import(path);
    modules.set(path, module);
    for (const [name, value] of Object.entries(module)) {
      if (typeof value !== "function" || found.has(/** @type {Fn} */ (value)) || name === "InputError") continue;
      found.set(/** @type {Fn} */ (value), { name: `${entry}.${name}`, call: /** @type {Fn} */ (value), examples: [] });
    }
  }
  /** @type {Module} */
  const top = await import("tripwright");
  modules.set("tripwright", top);
  for (const [name, value] of Object.entries(top)) {
    if (typeof value === "function" && name !== "InputError" && !found.has(/** @type {Fn} */ (value)))
      throw new Error(`${name} is exported by the top entry only`);
  }
  const listening = new Map([...modules].map(([name, module]) => [name, listeningTo(module, found)]));
  for (const code of examples()) await runExample(code, listening);
  mainPath(/** @type {Module} */ (listening.get("tripwright")));
  return [...found.values()];
}

/** The module with every function writing down what it is called with. @param {Module} module @param {Map<Fn, Target>} found */
function listeningTo(module, found) {
  return Object.fromEntries(
    Object.entries(module).map(([name, value]) => {
      const target = found.get(/** @type {Fn} */ (value));
      if (target === undefined) return [name, value];
      /** @type {Fn} */
      const listening = (...args) => {
        if (target.examples.length < MOST_EXAMPLES) target.examples.push(/** @type {unknown[]} */ (copied(args)));
        return target.call(...args);
      };
      return [name, listening];
    }),
  );
}

/** The code of every example in sources and documents. */
function examples() {
  const below = (/** @type {string} */ folder, /** @type {string} */ ending) =>
    readdirSync(new URL(folder, ROOT), { recursive: true, encoding: "utf8" })
      .filter((path) => path.endsWith(ending))
      .sort()
      .map((path) => readFileSync(new URL(`${folder}/${path}`, ROOT), "utf8"));
  const fences = [readFileSync(new URL("README.md", ROOT), "utf8"), ...below("docs", ".md")].flatMap((text) =>
    [...text.matchAll(/^```(?:ts|js)[^\n]*\n([\s\S]*?)^```$/gm)].map((match) => match[1] ?? ""),
  );
  const comments = below("src", ".ts").flatMap((text) =>
    [...text.matchAll(/@example\n((?: *\*(?! *@)(?!\/)[^\n]*\n)+)/g)].map((match) =>
      (match[1] ?? "").replace(/^ *\* ?/gm, ""),
    ),
  );
  return [...fences, ...comments];
}

/** @param {string} code @param {Map<string, Module>} modules */
async function runExample(code, modules) {
  const { outputText } = ts.transpileModule(code, {
    compilerOptions: { module: ts.ModuleKind.CommonJS, target: ts.ScriptTarget.ES2022 },
  });
  const run = new Function("require", "exports", "console", `return (async () => {${outputText}\n})()`);
  try {
    await run((/** @type {string} */ name) => modules.get(name), {}, { log: () => undefined, error: () => undefined });
  } catch {
    // Examples show what is refused, too; test/docs proves them right. What was called before is written down.
  }
}

/** From sheet to report with everything on the way. @param {Module} listening */
function mainPath(listening) {
  // The shapes of the results are what the examples prove; here they are only handed on.
  const call = (/** @type {string} */ name, /** @type {unknown[]} */ ...args) =>
    /** @type {{ [key: string]: unknown }} */ (/** @type {Fn} */ (listening[name])(...args));
  for (const feeder of ["tannery-lane", "tannery-lane-60hz"]) {
    const place = (/** @type {string} */ name) => fileURLToPath(new URL(`examples/${feeder}/${name}`, ROOT));
    const read = (/** @type {string} */ name) => readFileSync(place(name), "utf8");
    const work = existsSync(place("work.json")) ? JSON.parse(read("work.json")) : {};
    const sheet = call("readSheet", JSON.parse(read("sheet.json")));
    const planned = call("plan", sheet);
    const { readings, problems } = call("readReadings", read("readings.csv"), planned);
    const judged = call("judge", sheet, planned, readings, { problems, ...work });
    const record = { ...judged, explanations: call("explain", judged) };
    call("rehearsePlan", sheet, planned);
    call("recordFigures", record);
    call("siteCard", planned, { form: "html", sheet });
    call("blankReadings", planned);
    for (const form of ["summarize", "toMarkdown", "toHtml", "toCsv", "toJson"]) call(form, record);
    const checks = /** @type {{ timeline: { segments: object[], wiring: { [name: string]: unknown } } }[]} */ (
      planned["checks"]
    );
    for (const { timeline } of checks.slice(0, 6)) {
      const [channel] = Object.keys(timeline.wiring);
      call("totalTime", timeline);
      call("stateAt", timeline, 0.1);
      call("walk", timeline, []);
      call("profileFigure", { title: "a check", timeline });
      call("render", timeline, { channel, sampleRate: 1000 });
    }
    const settings = call("settingsOf", sheet);
    call("rehearse", settings["elements"] ?? settings, checks[0]?.timeline);
  }
}
