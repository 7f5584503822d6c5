/** What single imports cost in a page, made by a bundler that drops what is not used. */
import { join } from "node:path";
import { buildSync } from "esbuild";
import { PROJECT, run, step } from "./project.js";

/** Bytes, minified and not compressed. Those above the line reach no package at all. */
const BUNDLES = [
  { from: "curve", names: "operateTime", budget: 7_000 },
  { from: "curve", names: "*", budget: 35_000 },
  { from: "phasor", names: "polar, add", budget: 3_500 },
  { from: "phasor", names: "*", budget: 19_000 },
  { from: "sinusoid", names: "amplitudes", budget: 4_500 },
  { from: "sinusoid", names: "*", budget: 31_000 },
  { from: "", names: "operateTime", budget: 7_000 },
  { from: "", names: "polar, add", budget: 3_500 },
  { from: "timeline", names: "levels", budget: 50_000, packages: ["decimal.js"] },
  { from: "grading", names: "band, grade", budget: 50_000, packages: ["decimal.js"] },
  { from: "plan", names: "readSheet, plan", budget: 230_000, packages: ["decimal.js", "valibot"] },
];

export function bundleSteps() {
  for (const { from, names, budget, packages = [] } of BUNDLES) {
    const module = from === "" ? "tripwright" : `tripwright/${from}`;
    const imports = names === "*" ? "* as all" : `{ ${names} }`;
    const used = names === "*" ? "Object.keys(all).length" : `[${names}].length`;
    step(`bundled: import ${imports} from "${module}"`, () => {
      const { metafile } = buildSync({
        stdin: { contents: `import ${imports} from "${module}"; console.log(${used});`, resolveDir: PROJECT },
        bundle: true,
        minify: true,
        format: "esm",
        metafile: true,
        outfile: join(PROJECT, "bundle.mjs"),
        logLevel: "silent",
      });
      const [{ bytes, inputs } = { bytes: 0, inputs: {} }] = Object.values(metafile.outputs);
      const found = new Set(
        Object.entries(inputs)
          .filter(([, { bytesInOutput }]) => bytesInOutput > 0)
          .flatMap(([path]) => /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(path)?.[1] ?? []),
      );
      found.delete("tripwright");
      if ([...found].sort().join() !== packages.join()) throw new Error(`bundles ${[...found].join(", ")}`);
      if (bytes > budget) throw new Error(`${bytes} bytes, more than ${budget}`);
      run("node", [join(PROJECT, "bundle.mjs")]);
      return `${bytes} of ${budget} bytes${packages.length > 0 ? `, with ${packages.join(", ")}` : ", no package"}`;
    });
  }
}
