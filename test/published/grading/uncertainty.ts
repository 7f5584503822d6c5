/** How the library is asked for uncertainties. */
import {
  combineUncertainty,
  coverageFactor,
  type Evaluation,
  estimatesOf,
  propagate,
  standardUncertainty,
} from "tripwright/grading";
import { number, numbers, text } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

/** Table G.2 heads its columns with the probabilities of one, two and three standard deviations, rounded. */
const SIGMAS: { readonly [heading: string]: number } = {
  "0.6827": 0.6826894921370859,
  "0.9545": 0.9544997361036416,
  "0.9973": 0.9973002039367398,
};
const coverageOf = (heading: string): number => SIGMAS[heading] ?? Number(heading);

export function coverageFactors(inputs: Inputs): Answers {
  const given = inputs["nu"];
  if (!Array.isArray(inputs["coverage"])) {
    const coverage = number(inputs, "coverage");
    if (given === undefined) return { k: coverageFactor({ coverage }) };
    const whole = Math.floor(number(inputs, "nu"));
    return {
      t_at_real_nu: coverageFactor({ coverage, degreesOfFreedom: number(inputs, "nu") }),
      nu_truncated: whole,
      t_at_truncated_nu: coverageFactor({ coverage, degreesOfFreedom: whole }),
    };
  }
  const known = given === "infinity" ? {} : { degreesOfFreedom: number(inputs, "nu") };
  const headings = inputs["coverage"] as readonly string[];
  return Object.fromEntries(
    headings.map((heading) => [`t_${heading}`, coverageFactor({ coverage: coverageOf(heading), ...known })]),
  );
}

export function typeB(inputs: Inputs, id: string): Answers {
  const u = (evaluation: Evaluation): number => standardUncertainty(evaluation);
  const halfWidth = "half_width" in inputs ? number(inputs, "half_width") : 0;
  switch (id) {
    case "gum-4.3.3":
      return { u_ug: u({ expanded: number(inputs, "U_ug"), coverageFactor: number(inputs, "k") }) };
    case "gum-4.3.4":
      return { u_uohm: u({ expanded: number(inputs, "U_uohm"), coverage: number(inputs, "coverage") }) };
    case "gum-4.3.5":
    case "gum-4.3.6":
      return { u: u({ expanded: halfWidth, coverage: number(inputs, "coverage") }) };
    case "gum-4.3.7-dvm":
      return voltmeter(inputs);
    case "divisor-rectangular":
      return { u: u({ halfWidth, distribution: "rectangular" }) };
    case "divisor-triangular":
      return { u: u({ halfWidth, distribution: "triangular" }) };
    case "divisor-normal_k2":
      return { u: u({ expanded: halfWidth, coverageFactor: 2 }) };
    case "divisor-trapezoid":
      return { u: u({ halfWidth, distribution: { flat: number(inputs, "beta") } }) };
    case "resolution-digit":
      return { u: u({ resolution: number(inputs, "resolution") }) };
    default:
      return {
        u_if_rectangular: u({ halfWidth, distribution: "rectangular" }),
        u_if_normal_k2: u({ expanded: halfWidth, coverageFactor: 2 }),
        u_if_normal_k1_96: u({ expanded: halfWidth, coverage: 0.95 }),
        u_if_normal_k2_576: u({ expanded: halfWidth, coverage: 0.99 }),
        u_if_k3: u({ expanded: halfWidth, coverageFactor: 3 }),
      };
  }
}

function voltmeter(inputs: Inputs): Answers {
  const reading = number(inputs, "spec_reading") * number(inputs, "reading_V");
  const halfWidth = (reading + number(inputs, "spec_range") * number(inputs, "range_V")) * 1e6;
  const specified = { name: "specification", halfWidth, distribution: "rectangular" } as const;
  const { standard, contributions } = combineUncertainty({
    contributions: [specified, { name: "readings", standard: number(inputs, "type_a_u_uV") }],
  });
  return { half_width_uV: halfWidth, u_b_uV: contributions[0]?.standard ?? Number.NaN, u_c_uV: standard };
}

export function budgets(inputs: Inputs): Answers {
  const components = (inputs["components"] as readonly Inputs[]).map((component) => ({
    name: text(component, "name"),
    standard: number(component, "value") / number(component, "divisor"),
    sensitivity: number(component, "sensitivity"),
    ...(component["nu"] !== "infinity" && { degreesOfFreedom: number(component, "nu") }),
  }));
  const combined = combineUncertainty({ contributions: components });
  return {
    u_c: combined.standard,
    ...(combined.degreesOfFreedom !== undefined && { nu_eff: combined.degreesOfFreedom }),
    k95: combined.coverageFactor,
    U95: combined.expanded,
    U_k2: combineUncertainty({ contributions: components, coverageFactor: 2 }).expanded,
    u: combined.contributions.map(({ standard }) => standard),
    variance_percent: combined.contributions.map(({ share = 0 }) => 100 * share),
  };
}

export function propagation(inputs: Inputs, id: string): Answers {
  if (id === "corr-sum") return seriesResistors(inputs);
  if (id === "jcgm101-9.3-mass") return mass(inputs);
  const { results } = propagate(
    ({ v, i, phi }) => ({
      P: v * i * Math.cos((phi * Math.PI) / 180),
      Z: v / i,
      R: (v / i) * Math.cos((phi * Math.PI) / 180),
    }),
    {
      v: { value: number(inputs, "V"), standard: number(inputs, "u_V") },
      i: { value: number(inputs, "I"), standard: number(inputs, "u_I") },
      phi: { value: number(inputs, "phi_deg"), standard: number(inputs, "u_phi_deg") },
    },
  );
  return Object.fromEntries(
    Object.entries(results).flatMap(([name, { value, standard }]) => [
      [name, value],
      [`u_${name}`, standard],
    ]),
  );
}

function seriesResistors(inputs: Inputs): Answers {
  const names = Array.from({ length: number(inputs, "n") }, (_, i) => `R${i + 1}`);
  const contributions = names.map((name) => ({ name, standard: number(inputs, "u_each_ohm") }));
  const correlations = names.flatMap((a, i) =>
    names.slice(i + 1).map((b) => ({ between: [a, b] as const, coefficient: 1 })),
  );
  return {
    u_series_correlated_ohm: combineUncertainty({ contributions, correlations }).standard,
    u_series_uncorrelated_ohm: combineUncertainty({ contributions }).standard,
  };
}

/** JCGM 101 9.3: a conventional mass of 100 g, taken at its nominal value; densities between limits, "R(1.10,1.30)". */
function mass(inputs: Inputs): Answers {
  const between = (name: string) => {
    const [low = 0, high = 0] = text(inputs, name).slice(2, -1).split(",").map(Number);
    const halfWidth = (high - low) / 2;
    return { value: (low + high) / 2, standard: standardUncertainty({ halfWidth, distribution: "rectangular" }) };
  };
  const { standard, secondOrder } = propagate(
    ({ reference, small, air, weight, standardWeight }) =>
      (reference + small) * (1 + (air - 1.2) * (1 / weight - 1 / standardWeight)),
    {
      reference: { value: 100_000, standard: number(inputs, "u_mR_mg") },
      small: { value: 0, standard: number(inputs, "u_dm_mg") },
      air: between("rho_a"),
      weight: between("rho_W"),
      standardWeight: between("rho_R"),
    },
  );
  return { u_first_order_mg: standard, u_second_order_mg: secondOrder ?? Number.NaN };
}

/** JCGM 100 H.1: l = ls + d − ls·(δα·θ + αs·δθ). */
export function endGauge(inputs: Inputs): Answers {
  const rectangular = (name: string): number =>
    standardUncertainty({ halfWidth: number(inputs, name), distribution: "rectangular" });
  const difference = combineUncertainty({
    contributions: [
      {
        name: "repeated observations",
        standard: number(inputs, "s_pool_nm") / Math.sqrt(number(inputs, "n_d")),
        degreesOfFreedom: number(inputs, "nu_d0"),
      },
      {
        name: "random effects of the comparator",
        // ±10 nm, 95 %, from six repetitions: t of five degrees of freedom.
        ...{ expanded: number(inputs, "B_d1_nm"), coverage: 0.95 },
        degreesOfFreedom: number(inputs, "nu_d1"),
      },
      {
        name: "systematic effects of the comparator",
        ...{ expanded: number(inputs, "C_d2_nm"), coverageFactor: number(inputs, "k_d2") },
        degreesOfFreedom: number(inputs, "nu_d2"),
      },
    ],
  });
  const temperature = combineUncertainty({
    contributions: [
      { name: "mean", standard: number(inputs, "u_theta_bar") },
      { name: "cyclic", halfWidth: number(inputs, "hw_cyclic"), distribution: "arcsine" },
    ],
  });
  const gauge = propagate(
    ({ ls, d, da, t, a, dt }) => ls + d - ls * (da * t + a * dt),
    {
      ls: {
        value: number(inputs, "ls_nm"),
        standard: standardUncertainty({ expanded: number(inputs, "U_ls_nm"), coverageFactor: number(inputs, "k_ls") }),
        degreesOfFreedom: number(inputs, "nu_ls"),
      },
      d: {
        value: number(inputs, "d_nm"),
        standard: difference.standard,
        degreesOfFreedom: difference.degreesOfFreedom ?? Number.NaN,
      },
      da: { value: 0, standard: rectangular("hw_dalpha"), degreesOfFreedom: number(inputs, "nu_dalpha") },
      t: { value: number(inputs, "theta_bar"), standard: temperature.standard },
      a: { value: number(inputs, "alpha_s"), standard: rectangular("hw_alpha_s") },
      dt: { value: 0, standard: rectangular("hw_dtheta"), degreesOfFreedom: number(inputs, "nu_dtheta") },
    },
    { coverage: 0.99 },
  );
  const component = (name: string): number =>
    gauge.contributions.find((contribution) => contribution.name === name)?.standard ?? Number.NaN;
  return {
    u_d_nm: difference.standard,
    nu_d: difference.degreesOfFreedom ?? Number.NaN,
    u_theta: temperature.standard,
    comp_dalpha_nm: component("da"),
    comp_dtheta_nm: component("dt"),
    u_c_nm: gauge.standard,
    nu_eff: gauge.degreesOfFreedom ?? Number.NaN,
    t99_16: gauge.coverageFactor,
    U99_nm: gauge.expanded,
    u_c_second_order_nm: gauge.secondOrder ?? Number.NaN,
  };
}

/** JCGM 100 H.2, from the five sets of readings to the correlations of the results. */
export function resistanceAndReactance(inputs: Inputs): Answers {
  const readings = { V: numbers(inputs, "V_V"), I: numbers(inputs, "I_mA"), phi: numbers(inputs, "phi_rad") };
  const means = estimatesOf(readings);
  const { results, correlations } = propagate(
    (values) => {
      const [v, i, phi] = ["V", "I", "phi"].map((name) => values[name] as number) as [number, number, number];
      const ohms = (1000 * v) / i;
      return { R: ohms * Math.cos(phi), X: ohms * Math.sin(phi), Z: ohms };
    },
    means.inputs,
    { correlations: means.correlations, coverageFactor: 2 },
  );
  const coefficient = (list: typeof correlations, a: string, b: string): number =>
    list.find(({ between }) => between[0] === a && between[1] === b)?.coefficient ?? Number.NaN;
  const mean = (name: string) => means.inputs[name] ?? { value: Number.NaN, standard: Number.NaN };
  return {
    V_mean_V: mean("V").value,
    I_mean_mA: mean("I").value,
    phi_mean_rad: mean("phi").value,
    s_V_V: mean("V").standard,
    s_I_mA: mean("I").standard,
    s_phi_rad: mean("phi").standard,
    r_V_I: coefficient(means.correlations, "V", "I"),
    r_V_phi: coefficient(means.correlations, "V", "phi"),
    r_I_phi: coefficient(means.correlations, "I", "phi"),
    R_ohm: results.R.value,
    X_ohm: results.X.value,
    Z_ohm: results.Z.value,
    u_R_ohm: results.R.standard,
    u_X_ohm: results.X.standard,
    u_Z_ohm: results.Z.standard,
    rel_u_R: results.R.standard / results.R.value,
    rel_u_X: results.X.standard / results.X.value,
    rel_u_Z: results.Z.standard / results.Z.value,
    r_R_X: coefficient(correlations, "R", "X"),
    r_R_Z: coefficient(correlations, "R", "Z"),
    r_X_Z: coefficient(correlations, "X", "Z"),
  };
}
