/** The rules of the house as a function of source texts, so that a test can show both that they hold and that they bite. */

/** The floor of each module. A module imports only from floors below its own; neighbours do not know each other. */
export const FLOORS: Readonly<Record<string, number>> = {
  base: 0,
  curve: 1,
  grading: 1,
  phasor: 1,
  sinusoid: 1,
  timeline: 1,
  characteristic: 2,
  element: 3,
  sheet: 4,
  plan: 5,
  rehearsal: 5,
  record: 6,
  explain: 7,
  figure: 7,
  report: 7,
};

/** The only files that may import a package. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  "base/exact.ts": ["decimal.js"],
  "sheet/read-sheet.ts": ["valibot"],
  "sheet/sheet-shape.ts": ["valibot"],
  "sheet/source-shape.ts": ["valibot"],
  "sheet/distance-shape.ts": ["valibot"],
  "sheet/typed-shape.ts": ["valibot"],
  "sheet/differential-shape.ts": ["valibot"],
};

/** Modules that bundle no dependency at all. */
const LIGHT = ["curve", "phasor", "sinusoid"];

/** Source texts by path below src, such as `curve/form.ts`. */
export type Sources = ReadonlyMap<string, string>;

const IMPORT = /^(?:import|export)\s(?:[^"';]*?\sfrom\s)?"([^"]+)"/gm;

/** What a file imports, types included: paths below src, or package names. */
export function importsOf(path: string, text: string): string[] {
  return [...text.matchAll(IMPORT)].map(([, specifier]) =>
    (specifier as string).startsWith(".") ? resolve(path, specifier as string) : (specifier as string),
  );
}

function resolve(from: string, specifier: string): string {
  const parts = from.split("/").slice(0, -1);
  for (const step of specifier.split("/")) {
    if (step === "..") parts.pop();
    else if (step !== ".") parts.push(step);
  }
  return parts.join("/").replace(/\.js$/, ".ts");
}

const moduleOf = (path: string): string => path.split("/")[0] as string;

/** Every import that the rules forbid, as a sentence. */
export function violations(sources: Sources): string[] {
  const found = [...sources].flatMap(([path, text]) =>
    path.includes("/") ? importsOf(path, text).flatMap((target) => violation(path, target, sources)) : [],
  );
  return [...found, ...LIGHT.flatMap((module) => heavy(module, sources))];
}

function violation(path: string, target: string, sources: Sources): string[] {
  const isPackage = !sources.has(target) && !target.endsWith(".json") && !target.endsWith(".ts");
  if (isPackage) return PACKAGES[path]?.includes(target) ? [] : [`${path} imports the package ${target}`];
  const [own, other] = [moduleOf(path), moduleOf(target)];
  if (own === other) return [];
  const [ownFloor, otherFloor] = [FLOORS[own], FLOORS[other]];
  if (ownFloor === undefined || otherFloor === undefined)
    return [`${path} imports ${target}: no floor is known for it`];
  if (otherFloor > ownFloor) return [`${path} climbs to ${target}`];
  if (otherFloor === ownFloor) return [`${path} crosses to its neighbour ${target}`];
  if (other !== "base" && target !== `${other}/index.ts`)
    return [`${path} reaches into ${target} instead of its index`];
  return [];
}

/** The packages that a module's files reach, however far down; type-only imports count too, which errs on the safe side. */
function heavy(module: string, sources: Sources): string[] {
  const seen = new Set<string>();
  const queue = [...sources.keys()].filter((path) => moduleOf(path) === module);
  const packages = new Set<string>();
  for (let path = queue.pop(); path !== undefined; path = queue.pop()) {
    if (seen.has(path)) continue;
    seen.add(path);
    const text = sources.get(path);
    if (text === undefined) packages.add(path);
    else queue.push(...importsOf(path, text));
  }
  return [...packages].map((name) => `${module} reaches the package ${name}`);
}

/** Files that import each other in a circle, as one sentence for each circle. */
export function circles(sources: Sources): string[] {
  const done = new Set<string>();
  const found: string[] = [];
  function visit(path: string, trail: readonly string[]): void {
    const at = trail.indexOf(path);
    if (at >= 0) found.push([...trail.slice(at), path].join(" → "));
    if (at >= 0 || done.has(path)) return;
    for (const target of importsOf(path, sources.get(path) ?? ""))
      if (sources.has(target)) visit(target, [...trail, path]);
    done.add(path);
  }
  for (const path of sources.keys()) visit(path, []);
  return found;
}
