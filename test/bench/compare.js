/**
 * Compares ways to do the same work side by side in one process, and prints how much longer each takes than ours.
 *
 *     compare("operateTimes, alpha 1", [
 *       { name: "operateTimes", run: () => operateTimes(setting, multiples, out) },      // ours comes first
 *       { name: "loop of divisions", run: () => { …; return other; }, wanted: 3.3 },     // peer / ours to reach
 *       numpy("numpy", { setup: "m = …", work: "t = …", result: "t" }, { wanted: 1 }),
 *     ]);
 *
 * `run` does the work once and returns its result, a number or an array of numbers. Before anything is timed, results
 * are compared with ours place by place, and NaN is refused. Returning an array that is filled again each time costs
 * nothing and keeps the work from being optimised away; a number is read too.
 *
 * Times are processor time of this process, so that a neighbour on the machine takes nothing from a way but its caches.
 * Rounds are interleaved, so that a machine that slows down slows all ways; a series of rounds gives one ratio of
 * medians, and three series are run. A row shows the median of the three, the least and the greatest, and whether the
 * wanted ratio was reached. Ratios are what counts; absolute times swing. A ratio never fails anything.
 */

/** @typedef {number | ArrayLike<number>} Result */
/** @typedef {{ milliseconds: number, result: Result }} Timed What a way returns that has its own clock. */
/**
 * @typedef {object} Way
 * @property {string} name
 * @property {() => Result | Timed | undefined} run Nothing where it cannot be run here: its row then says so.
 * @property {number} [wanted] The ratio to reach: its time over ours.
 * @property {number} [rounds] In each series; fewer for what is slow or repeats its work itself.
 * @property {"median" | "best"} [judgedBy] Which of the three ratios must reach what is wanted; default the median.
 */

const SERIES = 3;
const ROUNDS = 9;

/**
 * @param {string} title
 * @param {readonly Way[]} ways Ours first.
 * @param {{ agreement?: number }} [options] The largest difference of results, relative to the largest of ours.
 */
export function compare(title, ways, { agreement = 1e-9 } = {}) {
  const able = waysThatAgree(title, ways, agreement);
  const series = Array.from({ length: SERIES }, () => mediansOf(able));
  const ours = series.map(([time]) => Number(time));
  console.log(`${title} (ours: ${ways[0]?.name}, ${median(ours).toFixed(3)} ms)`);
  for (const way of ways.slice(1)) {
    const place = able.indexOf(way);
    if (place < 0) console.log(`  skipped, not to be had here: ${way.name}`);
    else {
      const ratios = series.map((times, i) => Number(times[place]) / Number(ours[i]));
      console.log(`  ${row(way, ratios)}`);
    }
  }
}

/** @param {Way} way @param {number[]} ratios */
function row({ name, wanted, judgedBy = "median" }, ratios) {
  const [least = 0, , greatest = 0] = ratios.toSorted((a, b) => a - b);
  const ratio = judgedBy === "best" ? greatest : median(ratios);
  const shown = `${ratio.toFixed(2).padStart(7)} × ours (${judgedBy}; ${least.toFixed(2)} to ${greatest.toFixed(2)})  ${name}`;
  if (wanted === undefined) return shown;
  return `${shown}: wanted ≥ ${wanted}, ${ratio >= wanted ? "reached" : "NOT REACHED"}`;
}

/**
 * The ways that can be run here, each run once.
 *
 * @param {string} title @param {readonly Way[]} ways @param {number} agreement
 */
function waysThatAgree(title, ways, agreement) {
  /** @type {Float64Array | undefined} */
  let reference;
  return ways.filter(({ name, run }) => {
    const done = run();
    if (done === undefined) return false;
    const result = valuesOf(done);
    reference ??= result;
    const difference = largestDifference(result, reference);
    if (!(difference <= agreement)) throw new Error(`${title}: ${name} differs from ours by ${difference}`);
    return true;
  });
}

/** A copy, since ways may fill the same array. @param {Result | Timed} done */
function valuesOf(done) {
  const result = typeof done === "object" && "milliseconds" in done ? done.result : done;
  return typeof result === "number" ? Float64Array.of(result) : Float64Array.from(result);
}

/** Relative to the largest finite value; NaN where anything is NaN. @param {Float64Array} a @param {Float64Array} b */
function largestDifference(a, b) {
  if (a.length !== b.length) return Number.POSITIVE_INFINITY;
  let [difference, scale] = [0, 0];
  for (const [i, value] of a.entries()) {
    const other = Number(b[i]);
    if (Number.isFinite(other)) scale = Math.max(scale, Math.abs(other));
    if (value !== other) difference = Math.max(difference, Math.abs(value - other));
    else if (Number.isNaN(value)) return Number.NaN;
  }
  return difference === 0 ? 0 : difference / scale;
}

/** One series of interleaved rounds: the median time of each way, in milliseconds. @param {readonly Way[]} ways */
function mediansOf(ways) {
  const times = ways.map(() => /** @type {number[]} */ ([]));
  for (let round = 0; round < ROUNDS; round++) {
    for (const [i, { run, rounds = ROUNDS }] of ways.entries()) if (round < rounds) times[i]?.push(timeOf(run));
  }
  return times.map(median);
}

/** @param {Way["run"]} run */
function timeOf(run) {
  const start = process.cpuUsage();
  const done = run();
  const { user, system } = process.cpuUsage(start);
  return typeof done === "object" && "milliseconds" in done ? done.milliseconds : (user + system) / 1_000;
}

/** @param {readonly number[]} values */
function median(values) {
  const sorted = values.toSorted((a, b) => a - b);
  return Number(sorted[Math.floor(sorted.length / 2)]);
}
