import {
  type Band,
  band,
  conformanceProbability,
  type DecisionRule,
  type GradeOptions,
  grade,
  type Rounding,
  roundTo,
} from "tripwright/grading";
import { number, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { conformance, risks, worstRisks } from "./conformity.js";
import { instrumentErrors, magnitudes, quantizations, statedAccuracies } from "./instruments.js";
import { deviationUncertainties, groups, line, repeatedShots, sumsOfRectangles } from "./repeated.js";
import { budgets, coverageFactors, endGauge, propagation, resistanceAndReactance, typeB } from "./uncertainty.js";

type Mode = NonNullable<Rounding["mode"]>;

/** The four sources of the table ask in different words. */
function rounding(inputs: Inputs): Answers {
  if ("range" in inputs) return toRange(inputs);
  if ("limit" in inputs) return toLimit(inputs);
  if ("decimal_string" in inputs) return toDecimals(inputs);
  return {
    u_mohm_rounded_up: roundTo(number(inputs, "u_mohm"), { decimals: 0, mode: "ceiling" }),
    u_kHz_rounded: roundTo(number(inputs, "u_kHz"), { decimals: 0 }),
    // 27 mΩ ends at the third decimal of an ohm, and so does the estimate beside it.
    y_rounded: roundTo(number(inputs, "y_ohm"), { decimals: 3 }),
  };
}

function toRange(inputs: Inputs): Answers {
  const to = (mode: Mode): number => roundTo(text(inputs, "number"), { step: text(inputs, "range"), mode });
  return { rule_A_half_even: to("half-even"), rule_B_half_away: to("half-away") };
}

/** The rounding method compares the rounded value with the limit, the absolute method the value as observed. */
function toLimit(inputs: Inputs): Answers {
  const observed = text(inputs, "observed");
  const limit = number(inputs, "limit");
  const accepted: Band =
    text(inputs, "kind") === "max" ? { nominal: limit, high: limit } : { nominal: limit, low: limit };
  const rounded = roundTo(observed, { step: text(inputs, "round_to") });
  return {
    rounded_half_even: rounded,
    conforms_rounding_method: grade(rounded, accepted).verdict === "within",
    conforms_absolute_method: grade(observed, accepted).verdict === "within",
  };
}

function toDecimals(inputs: Inputs): Answers {
  const to = (mode: Mode): number =>
    roundTo(text(inputs, "decimal_string"), { decimals: number(inputs, "decimals"), mode });
  return { half_even_of_decimal: to("half-even"), half_away_of_decimal: to("half-away") };
}

function tolerance(inputs: Inputs): Answers {
  const accepted = band(number(inputs, "nominal"), { percent: number(inputs, "tolerance_percent") });
  const { errorPercent, used, verdict } = grade(number(inputs, "measured"), accepted);
  return {
    error_percent: errorPercent ?? Number.NaN,
    on_limit: used === 1,
    should_pass_inclusive: verdict === "within",
  };
}

const PROVED = { within: "conformity", outside: "non-conformity", undecided: "inconclusive" } as const;

/** The guideline tells the undecided apart by the side of the limit on which the reading lies. */
function decision(inputs: Inputs): Answers {
  const accepted = band(0, { absolute: number(inputs, "tolerance_plus_minus") });
  const expandedUncertainty = number(inputs, "U_k2");
  const judged = (options: GradeOptions) =>
    grade(number(inputs, "error"), accepted, { expandedUncertainty, ...options });
  const under = (rule: DecisionRule): string => {
    const { verdict, outsideBy } = judged({ rule });
    if (verdict === "undecided") return outsideBy === undefined ? "conditional pass" : "conditional fail";
    return verdict === "within" ? "pass" : "fail";
  };
  return {
    simple_acceptance: under("simple"),
    guard_band_w_eq_U: under("guarded"),
    non_binary_w_eq_U: under("three-way"),
    iso14253_prove_conformity: PROVED[judged({ rule: "three-way", guard: "iso-14253-1" }).verdict],
    p_conform: conformanceProbability(number(inputs, "error"), accepted, {
      standardUncertainty: expandedUncertainty / 2,
    }),
  };
}

export const grading: { readonly [table: string]: Ask } = {
  "grading/rounding": rounding,
  "grading/tolerance": tolerance,
  "grading/decision-rules": decision,
  "grading/coverage-factor": coverageFactors,
  "grading/standard-uncertainty": typeB,
  "grading/budgets": budgets,
  "grading/propagation": propagation,
  "grading/end-gauge": endGauge,
  "grading/resistance-and-reactance": resistanceAndReactance,
  "grading/conformance": conformance,
  "grading/risks": risks,
  "grading/worst-risks": worstRisks,
  "grading/stated-accuracy": statedAccuracies,
  "grading/quantization": quantizations,
  "grading/instrument-errors": instrumentErrors,
  "grading/magnitude-bias": magnitudes,
  "grading/deviation-uncertainty": deviationUncertainties,
  "grading/repeated-shots": repeatedShots,
  "grading/groups": groups,
  "grading/line": line,
  "grading/sums-of-rectangles": sumsOfRectangles,
};
