/** How the library is asked for probabilities and risks of conformity. */
import { acceptanceRisks, conformanceProbability, coverageFactor, guardBand } from "tripwright/grading";
import { number } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

const UNIT = { standardUncertainty: 1 };

export function conformance(inputs: Inputs): Answers {
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
