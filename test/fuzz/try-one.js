/** One odd input at one function. */
import { oddArguments } from "./mutate.js";
import { oneOf, randomFor } from "./random.js";
import { brokenPromise, wrongError } from "./verdict.js";

/** In milliseconds of the processor: a busy machine is no finding. Who asks for many samples waits longer, so long for each. */
const SLOW = 1000;
const NANOSECONDS = 100;
const MOST_STEPS = 100;

/**
 * @param {import("./corpus.js").Target} target
 * @param {string} name Seed and number of the input.
 * @param {readonly unknown[]} pool
 * @returns {{ finding?: string, args: unknown[], milliseconds: number, accepted: boolean }}
 */
export function tryOne(target, name, pool) {
  const random = randomFor(name);
  const args = oddArguments(target.examples, random, pool);
  const start = process.cpuUsage();
  const { finding, accepted, samples } = outcome(target.call, args, random);
  const { user, system } = process.cpuUsage(start);
  const milliseconds = (user + system) / 1000;
  if (finding !== undefined) return { finding, args, milliseconds, accepted };
  if (milliseconds > SLOW + NANOSECONDS * 1e-6 * samples)
    return { finding: `takes more than a second`, args, milliseconds, accepted };
  return { args, milliseconds, accepted };
}

/** @param {import("./corpus.js").Fn} call @param {unknown[]} args @param {import("./random.js").Random} random */
function outcome(call, args, random) {
  try {
    const result = call(...args);
    const results = isGenerator(result) ? driven(result, random) : [result];
    const finding = results.map((one) => brokenPromise(one, args)).find((found) => found !== undefined);
    const samples = results.reduce(
      (/** @type {number} */ sum, one) => sum + (one instanceof Float64Array ? one.length : 0),
      0,
    );
    return { finding, accepted: true, samples };
  } catch (error) {
    return { finding: wrongError(error), accepted: false, samples: 0 };
  }
}

/** @param {unknown} value @returns {value is Generator<unknown, unknown, unknown>} */
const isGenerator = (value) =>
  typeof value === "object" && value !== null && "next" in value && typeof value.next === "function";

/** What a generator yields and returns, sent yes and no. @param {Generator<unknown, unknown, unknown>} generator @param {import("./random.js").Random} random */
function driven(generator, random) {
  const seen = [];
  let sent;
  for (let i = 0; i < MOST_STEPS; i++) {
    const { value, done } = generator.next(sent);
    seen.push(value);
    if (done) break;
    sent = random() < 0.98 ? random() < 0.5 : oneOf(random, [undefined, null, 1, "yes", Number.NaN]);
  }
  return seen;
}
