/** How the library is asked for probabilities and risks of conformity. */
import { acceptanceRisks, conformanceProbability, coverageFactor, guardBand } from "tripwright/grading";
import { number } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

const UNIT = { standardUncertainty: 1 };

export function conformance(inputs: Inputs): Answers {
  if ("p_exceed" in inputs) return provedBeyond(inputs);
  if ("conformance_probability" in inputs) {
    const answer = guardBand({ risk: 1 - number(inputs, "conformance_probability"), ...UNIT });
    return { z: answer.kind === "found" ? answer.width : Number.NaN };
  }
  if ("Cpk" in inputs || "sd" in inputs) return { risk: outside(inputs, ["mean", "LL", "UL", "sd"]) };
  if ("r" in inputs) {
    const limit = { nominal: 0, high: 0 };
    const reading = -number(inputs, "r") * number(inputs, "k");
    // Readings mirrored: outside a limit at 0 lies what is inside it from the other side.
    return { max_specific_risk: conformanceProbability(-reading, limit, UNIT) };
  }
  if ("u_V" in inputs) return oneLimit(number(inputs, "y_V"), number(inputs, "u_V"), { high: number(inputs, "TU_V") });
  if ("u_kPa" in inputs)
    return oneLimit(number(inputs, "y_kPa"), number(inputs, "u_kPa"), { low: number(inputs, "TL_kPa") });
  const pnc = outside(inputs, ["y", "TL", "TU", "u"]);
  const band = { nominal: 0, low: number(inputs, "TL"), high: number(inputs, "TU") };
  const pc = conformanceProbability(number(inputs, "y"), band, { standardUncertainty: number(inputs, "u") });
  return { pc, pnc };
}

/** The least reading that proves a limit to be passed, for an uncertainty that is fixed and for one that grows with it. */
function provedBeyond(inputs: Inputs): Answers {
  const [limit, relative] = [number(inputs, "limit_km_h"), number(inputs, "rel_u")];
  const proved = (reading: number): number => {
    const answer = guardBand({ risk: 1 - number(inputs, "p_exceed"), standardUncertainty: relative * reading });
    return answer.kind === "found" ? limit + answer.width : Number.NaN;
  };
  let [reading, before] = [limit, 0];
  for (let turn = 0; turn < 50 && reading !== before; turn++) [before, reading] = [reading, proved(reading)];
  return { reading_fixed_u: proved(limit), reading_u_at_reading: reading };
}

function outside(inputs: Inputs, [reading, low, high, u]: readonly [string, string, string, string]): number {
  const band = { nominal: 0, low: number(inputs, low), high: number(inputs, high) };
  return 1 - conformanceProbability(number(inputs, reading), band, { standardUncertainty: number(inputs, u) });
}

function oneLimit(y: number, u: number, limit: { readonly low?: number; readonly high?: number }): Answers {
  const distance = limit.high === undefined ? y - (limit.low as number) : limit.high - y;
  return { z: distance / u, pc: conformanceProbability(y, { nominal: 0, ...limit }, { standardUncertainty: u }) };
}

/** Four sources describe the same decision in their own units. */
export function risks(inputs: Inputs, id: string): Answers {
  if ("u0_ohm" in inputs) {
    const tolerance = number(inputs, "T_ohm");
    const found = symmetric({
      limit: tolerance,
      spread: number(inputs, "u0_ohm"),
      u: number(inputs, "um_ohm"),
      guard: tolerance - number(inputs, "acceptance_half_width_ohm"),
    });
    return { p_nonconforming_process: 1 - found.conforming, R_C: found.consumer, R_P: found.producer };
  }
  if ("u_test" in inputs) {
    const limit = number(inputs, "T");
    const found = symmetric({ limit, spread: number(inputs, "process_sigma"), u: number(inputs, "u_test"), guard: 0 });
    return { PFA: found.consumer, PFR: found.producer };
  }
  if (id.startsWith("deaver")) {
    const limit = number(inputs, "spec_limit_sigma");
    const guard = limit * (1 - number(inputs, "guard_factor"));
    const found = symmetric({ limit, spread: 1, u: 1 / number(inputs, "sigma_ratio"), guard });
    return { PFA: found.consumer, PFR: found.producer };
  }
  // The limit in standard deviations of the process, from the share that is in tolerance.
  const limit = coverageFactor({ coverage: number(inputs, "itp") });
  const found = symmetric({ limit, spread: 1, u: number(inputs, "sigma_test_over_process"), guard: 0 });
  return { pfa_percent: 100 * found.consumer, cpfa_percent: 100 * (found.consumerOfAccepted ?? Number.NaN) };
}

const symmetric = ({ limit, spread, u, guard }: { limit: number; spread: number; u: number; guard: number }) =>
  acceptanceRisks({
    band: { nominal: 0, low: -limit, high: limit },
    process: { mean: 0, standardDeviation: spread },
    standardUncertainty: u,
    guard,
  });

/** Tolerance ±1; the standard uncertainty is half the expanded one, which goes TUR times into the tolerance. */
export function worstRisks(inputs: Inputs): Answers {
  if ("max_pfa" in inputs) return { min_TUR_any_process: leastRatio(number(inputs, "max_pfa")) };
  const u = 0.5 / number(inputs, "TUR");
  const share = worstShare(u);
  const spread = spreadOf(share);
  const consumer = (guard: number): number => symmetric({ limit: 1, spread, u, guard }).consumer;
  const guard = falling((width) => consumer(width) - 0.02, [-u, u]);
  return {
    worst_itp_percent: 100 * share,
    max_pfa_percent: 100 * consumer(0),
    M_percent_of_U_at_that_itp: (100 * guard) / (2 * u),
  };
}

/** The spread of a process of which a share is in tolerance. */
const spreadOf = (share: number): number => 1 / coverageFactor({ coverage: share });

const riskAt = (share: number, u: number): number =>
  symmetric({ limit: 1, spread: spreadOf(share), u, guard: 0 }).consumer;

/** The share in tolerance with the greatest risk: where the risk, which rises and then falls, is level. */
function worstShare(u: number): number {
  // The risk is level there, and has twice as many digits as the share.
  const [apart, near] = [1e-3, 1e-6];
  return falling((share) => riskAt(share + apart, u) - riskAt(share - apart, u), [0.58, 0.68], near);
}

const leastRatio = (risk: number): number =>
  falling((ratio) => riskAt(worstShare(0.5 / ratio), 0.5 / ratio) - risk, [4.4, 4.6]);

/** Where a falling function is 0, by regula falsi as D. E. G. Dowell and P. Jarratt mend it. */
function falling(f: (x: number) => number, [low, high]: readonly [number, number], near = 1e-9): number {
  let [a, b, atA, atB] = [low, high, f(low), f(high)];
  for (let step = 0; step < 60; step++) {
    const x = b - (atB * (b - a)) / (atB - atA);
    const value = f(x);
    if (value === 0) return x;
    if (value * atB < 0) [a, atA] = [b, atB];
    else atA *= atB / (atB + value);
    if (Math.abs(x - b) < near) return x;
    [b, atB] = [x, value];
  }
  return b;
}
