/**
 * Ratios of this library to plain alternatives: all of them, or those of the modules named behind `npm run bench --`.
 * Needs a build (`npm run bench` makes one).
 */

/** One file a module; importing it runs it. @type {Record<string, () => Promise<unknown>>} */
const FILES = {
  curve: () => import("./curve.js"),
  explain: () => import("./explain.js"),
  grading: () => import("./grading.js"),
  phasor: () => import("./phasor.js"),
  plan: () => import("./plan.js"),
  sinusoid: () => import("./sinusoid.js"),
  start: () => import("./start.js"),
  timeline: () => import("./timeline.js"),
};

const asked = process.argv.slice(2);
const unknown = asked.find((name) => !Object.hasOwn(FILES, name));
if (unknown !== undefined) throw new Error(`${unknown} is none of ${Object.keys(FILES).join(", ")}`);
for (const name of asked.length > 0 ? asked : Object.keys(FILES)) {
  console.log(`\n${name}`);
  await FILES[name]?.();
}
