import { above, atLeast, fail, finite, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { type CombinedUncertainty, type Correlation, combineUncertainty } from "./combine-uncertainty.js";
import { derivative } from "./derivative.js";
import { secondOrderTerms } from "./second-order.js";

/** A measured quantity. */
export interface Estimate {
  readonly value: number;
  /** Its standard uncertainty, 0 or more. */
  readonly standard: number;
  readonly degreesOfFreedom?: number;
}

/** Measured quantities by name. */
export interface Estimates {
  readonly [name: string]: Estimate;
}

/** What else is known, and asked. */
export interface PropagateOptions {
  readonly correlations?: readonly Correlation[];
  /** As in `combineUncertainty`. */
  readonly coverage?: number;
  readonly coverageFactor?: number;
}

/** One result of a measurement function. */
export interface Propagated extends CombinedUncertainty {
  readonly value: number;
  /** ∂f/∂input, by the names of the inputs; absent for one of standard uncertainty 0, about which f is not asked. */
  readonly sensitivities: { readonly [name: string]: number };
  /**
   * The standard uncertainty with the second-order terms: much above `standard` where f bends within the uncertainties, so
   * that the first order alone says too little. Inputs taken as independent and normal. Absent where f is not
   * defined beside the values, or bends so much that the terms say nothing.
   */
  readonly secondOrder?: number;
}

/** Several results of one function, and how they go together. */
export interface PropagatedTogether<N extends string = string> {
  readonly results: { readonly [name in N]: Propagated };
  /** For each two results in the order of their names; absent where one of them has no uncertainty. */
  readonly correlations: readonly Correlation[];
}

/** The values of quantities, by their names. */
export type ValuesOf<E extends Estimates> = { readonly [name in keyof E]: number };

/**
 * The uncertainty of what is computed from measured quantities.
 *
 *     u² = Σ (fᵢ·uᵢ)² + 2 · Σ fᵢ·fⱼ·uᵢ·uⱼ·rᵢⱼ,   second order: + Σᵢⱼ [½·fᵢⱼ² + fᵢ·fᵢⱼⱼ]·uᵢ²·uⱼ²
 *
 * @param f - Any function of the values, by their names, that is smooth about them. It gives a number, or numbers by name:
 * then the answer holds each result and the correlations of each two.
 * @param inputs - Value and standard uncertainty of each quantity.
 * @returns See {@link Propagated}; for several results {@link PropagatedTogether}.
 * @throws A {@link InputError} for inputs that are not finite, where f gives no finite number, and as
 * `combineUncertainty` does.
 * Accuracy: sensitivities about 1e-11 of f/u for functions that are smooth over 16 u; second order 1e-6.
 * @source JCGM 100:2008 5.1.2 with its note, 5.2.2, H.2 (several results, formula H.9)
 *
 * @example
 * import { propagate } from "tripwright/grading";
 * const inputs = { volts: { value: 63.5, standard: 0.04 }, amperes: { value: 2.5, standard: 0.005 } };
 * const impedance = propagate(({ volts, amperes }) => volts / amperes, inputs);
 * impedance.value; // → 25.4
 * impedance.standard.toFixed(4); // → "0.0533"
 * impedance.sensitivities.amperes?.toFixed(2); // → "-10.16"
 */
export function propagate<E extends Estimates>(
  f: (values: ValuesOf<E>) => number,
  inputs: E,
  options?: PropagateOptions,
): Propagated;
export function propagate<E extends Estimates, N extends string>(
  f: (values: ValuesOf<E>) => { readonly [name in N]: number },
  inputs: E,
  options?: PropagateOptions,
): PropagatedTogether<N>;
export function propagate(
  f: (values: { readonly [name: string]: number }) => number | { readonly [name: string]: number },
  inputs: Estimates,
  given: PropagateOptions = {},
): Propagated | PropagatedTogether {
  const { correlations, ...coverage } = options(given, ["correlations", "coverage", "coverageFactor"]);
  if (typeof f !== "function") fail("wrong-type", "f", "a function of the values", f);
  const names = checkEstimates(inputs);
  const center = Object.fromEntries(names.map((name) => [name, (inputs[name] as Estimate).value]));
  const first = f(center);
  const one = (g: Model, path: string): Propagated =>
    single({ f: g, inputs, names, center, path }, { ...(correlations && { correlations }), ...coverage });
  if (typeof first !== "object" || first === null) return one((values) => f(values) as number, "f");
  const results = Object.fromEntries(
    Object.keys(first).map((name) => {
      const g: Model = (values) => (f(values) as { readonly [name: string]: number })[name] as number;
      return [name, one(g, `f.${name}`)] as const;
    }),
  );
  return { results, correlations: together(results, { inputs, names, correlations: correlations ?? [] }) };
}

type Model = (values: { readonly [name: string]: number }) => number;

/** One result of a measurement function, about the values of its inputs. */
interface Result {
  readonly f: Model;
  readonly inputs: Estimates;
  readonly names: readonly string[];
  readonly center: { readonly [name: string]: number };
  /** Where the result stands in what f gives. */
  readonly path: string;
}

function checkEstimates(inputs: Estimates): readonly string[] {
  object(inputs, "inputs", "quantities by name, each { value, standard }");
  const names = Object.keys(inputs);
  if (names.length === 0) fail("missing", "inputs", "one quantity or more", inputs);
  for (const name of names) {
    within(`inputs.${name}`, () => {
      const { value, standard, degreesOfFreedom } = options(inputs[name] as Estimate, [
        "value",
        "standard",
        "degreesOfFreedom",
      ]);
      finite(value, "value", "a value");
      atLeast(standard, 0, "standard", "a standard uncertainty");
      if (degreesOfFreedom !== undefined) above(degreesOfFreedom, 0, "degreesOfFreedom", "degrees of freedom");
    });
  }
  return names;
}

function single(result: Result, budget: PropagateOptions): Propagated {
  const { f, inputs, names, center, path } = result;
  const value = finite(f(center), path, "a result");
  const uncertain = names.filter((name) => (inputs[name] as Estimate).standard > 0);
  const sensitivities = Object.fromEntries(uncertain.map((name) => [name, slope(result, name)]));
  const contributions = names.map((name) => {
    const { standard, degreesOfFreedom } = inputs[name] as Estimate;
    return {
      name,
      standard,
      sensitivity: sensitivities[name] ?? 0,
      ...(degreesOfFreedom && { degreesOfFreedom }),
    };
  });
  const combined = combineUncertainty({ contributions, ...budget });
  const steps = names.map((name) => [name, (inputs[name] as Estimate).standard] as const);
  // In units of the uncertainty, so that no square leaves the range of a double.
  const unit = combined.standard || 1;
  const square = (combined.standard / unit) ** 2 + secondOrderTerms((values) => f(values) / unit, center, steps);
  return { value, ...combined, sensitivities, ...(square >= 0 && { secondOrder: unit * Math.sqrt(square) }) };
}

/** Steps of 16 standard uncertainties to begin with: smaller ones would only meet the rounding of f. */
function slope({ f, inputs, center, path }: Result, name: string): number {
  const { value, standard } = inputs[name] as Estimate;
  const moved = (step: number): number => f({ ...center, [name]: value + step });
  return finite(derivative(moved, 16 * standard), path, `a smooth function of ${name}`);
}

/** r = Σ fᵢ·gⱼ·uᵢ·uⱼ·rᵢⱼ / (u_f·u_g) of each two results. */
function together(
  results: { readonly [name: string]: Propagated },
  {
    inputs,
    names,
    correlations,
  }: { inputs: Estimates; names: readonly string[]; correlations: readonly Correlation[] },
): readonly Correlation[] {
  const all = Object.keys(results);
  const part = (result: string, name: string): number =>
    ((results[result] as Propagated).sensitivities[name] ?? 0) * (inputs[name] as Estimate).standard;
  return all.flatMap((a, i) =>
    all.slice(i + 1).flatMap((b): Correlation[] => {
      const size = (results[a] as Propagated).standard * (results[b] as Propagated).standard;
      if (size === 0) return [];
      const own = names.reduce((sum, name) => sum + part(a, name) * part(b, name), 0);
      const crossed = correlations.reduce((sum, { between: [x, y], coefficient }) => {
        return sum + coefficient * (part(a, x) * part(b, y) + part(a, y) * part(b, x));
      }, 0);
      return [{ between: [a, b], coefficient: Math.max(-1, Math.min(1, (own + crossed) / size)) }];
    }),
  );
}
