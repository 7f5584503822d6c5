/** A way of `compare` that is done by Python with numpy, where both are there; it is skipped where they are not. */
import { spawnSync } from "node:child_process";

const ABSENT = 42;
const ROUNDS = 15;

/**
 * `work` is timed inside Python, by the processor time it takes, over repeated rounds after one that is not; the start of
 * Python does not count.
 *
 * @param {string} name
 * @param {{ setup: string, work: string, result: string }} script Python, with numpy as `np`: what comes first, what is
 * timed, and an expression for the result, a number or an array (complex numbers interleaved).
 * @param {{ wanted?: number }} [options]
 * @returns {import("./compare.js").Way} Judged by the best of its ratios: against numpy they swing by two.
 */
export function numpy(name, { setup, work, result }, { wanted } = {}) {
  const script = `
import sys
try:
    import numpy as np
except ImportError:
    sys.exit(${ABSENT})
from time import process_time
${setup}
work = compile(${JSON.stringify(work)}, "work", "exec")
exec(work)
times = []
for _ in range(${ROUNDS}):
    start = process_time()
    exec(work)
    times.append(process_time() - start)
out = np.ascontiguousarray(${result})
sys.stdout.buffer.write(np.array([1e3 * np.median(times)]).tobytes())
sys.stdout.buffer.write(out.astype(complex if np.iscomplexobj(out) else float).tobytes())
`;
  return { name, run: () => python(script), rounds: 1, judgedBy: "best", ...(wanted !== undefined && { wanted }) };
}

/** @param {string} script Writes doubles: its time, then its result. */
function python(script) {
  const { error, status, stdout, stderr } = spawnSync("python3", ["-c", script], { maxBuffer: 2 ** 28 });
  if (error !== undefined || status === ABSENT) return undefined;
  if (status !== 0) throw new Error(`python3: ${stderr}`);
  const [milliseconds = Number.NaN] = new Float64Array(Uint8Array.from(stdout).buffer, 0, 1);
  return { milliseconds, result: new Float64Array(Uint8Array.from(stdout).buffer, 8) };
}
