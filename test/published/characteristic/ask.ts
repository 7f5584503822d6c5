import {
  advanceAngle,
  boundaryAlong,
  comparedOf,
  compensated,
  differentialPoint,
  differentialRegion,
  directionalProduct,
  directionalSector,
  distanceTo,
  earthFactor,
  earthFactorOfRatios,
  earthRatios,
  faultAt,
  mho,
  mostSlip,
  quadrilateral,
  type Region,
  type Restraint,
  voltagesApart,
} from "tripwright/characteristic";
import { angle, lineToLine, magnitude, type Phasor, polar, scale, threePhase } from "tripwright/phasor";
import { complex, number, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";

/** The far end of a zone; a ray that only touches it at the origin does not enter it. */
function reach(region: Region, inputs: Inputs): Answers {
  const far = boundaryAlong(region, { angle: number(inputs, "test_angle_deg") }).at(-1) ?? 0;
  return far > 0 ? { boundary_ohm: far, operates_anywhere: "true" } : { operates_anywhere: "false" };
}

function quadrilateralPoint(inputs: Inputs): Answers {
  const zone = {
    reactance: number(inputs, "reactive_reach_ohm"),
    resistance: number(inputs, "resistive_reach_ohm"),
    lineAngle: number(inputs, "line_angle_deg"),
    tilt: number(inputs, "reactance_line_tilt_deg"),
    blinderAngle: number(inputs, "right_blinder_angle_deg"),
    forward: { from: -15, to: 115 },
  };
  const test = number(inputs, "test_angle_deg");
  const reached = (change: object) => boundaryAlong(quadrilateral({ ...zone, ...change }), { angle: test }).at(-1) ?? 0;
  const boundary = reached({});
  // The line that limits is the one that moves the boundary when it moves.
  const isBlinder = Math.abs(reached({ resistance: 1.01 * zone.resistance }) - boundary) > 1e-9;
  return { boundary_ohm: boundary, limiting_line: isBlinder ? "right blinder" : "reactance" };
}

function earthFactors(inputs: Inputs): Answers {
  const impedance = (name: string): Phasor => {
    if (`${name}_ohm_per_km` in inputs) return complex(inputs, `${name}_ohm_per_km`);
    const [size, degrees] = text(inputs, name).replace(" deg", "").split(" at ").map(Number);
    return polar(size as number, degrees as number);
  };
  const line = { z0: impedance("Z0"), z1: impedance("Z1") };
  const k0 = earthFactor(line);
  const { resistance = Number.NaN, reactance = Number.NaN } = earthRatios(line);
  const again = earthFactorOfRatios({ resistance, reactance, lineAngle: angle(line.z1) });
  const [mag, deg] = [magnitude(k0), angle(k0)];
  return {
    "k0.re": k0.re,
    "k0.im": k0.im,
    "k0_polar.mag": mag,
    "k0_polar.deg": deg,
    "polar.mag": mag,
    "polar.deg": deg,
    RE_over_RL: resistance,
    XE_over_XL: reactance,
    "check_k0_from_scalars.re": again.re,
    "check_k0_from_scalars.im": again.im,
  };
}

function faultVoltages(inputs: Inputs): Answers {
  const impedance = polar(number(inputs, "Z_loop_ohm"), number(inputs, "angle_deg"));
  const held = { current: number(inputs, "I_A") };
  const k0 = { re: Number(text(inputs, "k0").replace(" (real)", "")), im: 0 };
  const fault = (loop: "abc" | "bc" | "a") => faultAt({ loop, impedance, k0, healthyVoltage: 63.5, held }).v;
  return {
    V_three_phase_fault_V: magnitude(fault("abc").b),
    V_phase_phase_loop_V: magnitude(lineToLine(fault("bc")).bc),
    V_single_phase_V: magnitude(fault("a").a),
  };
}

function differentialPoints(inputs: Inputs): Answers {
  const ratio = number(inputs, "CT_ratio");
  const currents = [polar(number(inputs, "I1_A") / ratio, 0), polar(number(inputs, "I2_A") / ratio, 180)];
  const point = differentialPoint(currents, text(inputs, "restraint") as Restraint);
  const [pickup, slope] = [number(inputs, "pickup_A"), number(inputs, "slope_percent") / 100];
  const regions = {
    slope_only: differentialRegion({ pickup, slopes: [{ slope, line: "through-origin" }] }),
    pickup_plus_slope: differentialRegion({ pickup, slopes: [{ slope, line: "from-knee", begins: 0 }] }),
  };
  const threshold = (region: Region) => boundaryAlong(region, { from: { x: point.x, y: 0 }, angle: 90 })[0] as number;
  const trips = (region: Region) => `${distanceTo(region, point) >= 0}`;
  return {
    I_operate_A: point.y,
    I_restrain_A: point.x,
    threshold_slope_only_A: threshold(regions.slope_only),
    threshold_pickup_plus_slope_A: threshold(regions.pickup_plus_slope),
    trip_slope_only: trips(regions.slope_only),
    trip_pickup_plus_slope: trips(regions.pickup_plus_slope),
    published_trip: trips(regions.slope_only),
  };
}

/** The row counts both currents into the zone and writes them as words: "3 at 0 deg". */
function restraints(inputs: Inputs): Answers {
  const current = (name: string): Phasor => {
    const [size, degrees] = text(inputs, name)
      .split(/ at | deg/)
      .map(Number);
    return polar(size as number, degrees as number);
  };
  const NAMES: { readonly [words: string]: Restraint } = {
    "sum of magnitudes": "sum",
    "maximum magnitude": "maximum",
    "magnitude of half difference": "difference",
  };
  const name = NAMES[text(inputs, "restraint")] as Restraint;
  const { x, y } = differentialPoint([current("I1_pu"), current("I2_pu")], name);
  return { I_diff_pu: y, I_restrain_pu: x, ratio_percent: (100 * y) / x };
}

function dualSlopes(inputs: Inputs): Answers {
  const threshold = (line: "from-knee" | "through-origin") => {
    const second = { slope: number(inputs, "slope2_percent") / 100, line, begins: number(inputs, "break2_pu") };
    const slopes = [{ slope: number(inputs, "slope1_percent") / 100, line: "through-origin" } as const, second];
    const region = differentialRegion({ pickup: number(inputs, "pickup_pu"), slopes });
    return boundaryAlong(region, { from: { x: number(inputs, "I_restrain_pu"), y: 0 }, angle: 90 })[0] as number;
  };
  return {
    threshold_pu_second_slope_from_knee: threshold("from-knee"),
    threshold_pu_second_slope_through_origin: threshold("through-origin"),
  };
}

/** The clock number whose compensation has the row's matrix: its first column is what a current in phase a gives. */
function compensations(inputs: Inputs): Answers {
  const matrix = (inputs["matrix_times_1_over_sqrt3"] as unknown as Inputs[]).map((row) =>
    Object.values(row).map(Number),
  );
  const zero = { re: 0, im: 0 };
  const column = (clock: number) =>
    Object.values(compensated({ a: { re: Math.sqrt(3), im: 0 }, b: zero, c: zero }, { clock })).map(({ re }) =>
      Math.round(re),
    );
  const clock = Array.from({ length: 12 }, (_, i) => i).find(
    (hours) => `${column(hours)}` === `${matrix.map((row) => row[0])}`,
  ) as number;
  const turned = (rotation: "ABC" | "ACB") => compensated(threePhase(1, 0, rotation), { clock }).a;
  const same = { re: 1, im: 0 };
  return {
    rotation_of_positive_sequence_deg: angle(turned("ABC")),
    rotation_of_negative_sequence_deg: angle(turned("ACB")),
    magnitude: magnitude(turned("ABC")),
    zero_sequence_gain: magnitude(compensated({ a: same, b: same, c: same }, { clock }).a),
  };
}

function directionalProducts(inputs: Inputs): Answers {
  const characteristicAngle = number(inputs, "MTA_deg");
  const ahead = number(inputs, "angle_of_current_relative_to_polarising_voltage_deg");
  const operating = polar(1, ahead);
  const { re } = directionalProduct({ operating, polarising: polar(1, 0) }, characteristicAngle);
  const forward = distanceTo(directionalSector({ characteristicAngle }), { x: operating.re, y: operating.im });
  return { normalised_torque: re, forward: `${forward > 0}` };
}

function quadrature(inputs: Inputs): Answers {
  const lag = number(inputs, "fault_current_lags_own_phase_voltage_deg");
  const compared = comparedOf({
    v: threePhase(1),
    i: threePhase(1, -lag),
    polarising: "quadrature",
    phase: "a",
  });
  const { operating, polarising } = compared;
  const product = directionalProduct({ operating, polarising: scale(polarising, 1 / Math.sqrt(3)) }, 45);
  return {
    current_angle_relative_to_Vbc_deg: angle(directionalProduct(compared, 0)),
    normalised_torque: product.re,
  };
}

/** A mho whose far end along the line is the end of the line. */
function mhoSetting(inputs: Inputs): Answers {
  const { re, im } = inputs["Z_line_sec_ohm"] as unknown as { re: string; im: string };
  const line = { re: Number(re), im: Number(im) };
  const set = number(inputs, "mho_characteristic_angle_deg");
  const atOne = boundaryAlong(mho({ reach: 1, angle: set }), { angle: angle(line) }).at(-1) as number;
  return { mho_diameter_ohm: magnitude(line) / atOne };
}

export const characteristic: { readonly [table: string]: Ask } = {
  "characteristic/mho-points": (inputs) =>
    reach(mho({ reach: number(inputs, "reach_ohm"), angle: number(inputs, "MTA_deg") }), inputs),
  "characteristic/offset-mho-points": (inputs) =>
    reach(
      mho({
        reach: number(inputs, "forward_ohm"),
        reverse: number(inputs, "reverse_ohm"),
        angle: number(inputs, "MTA_deg"),
      }),
      inputs,
    ),
  "characteristic/mho-settings": mhoSetting,
  "characteristic/quadrilateral-points": quadrilateralPoint,
  "characteristic/earth-factors": earthFactors,
  "characteristic/fault-voltages": faultVoltages,
  "characteristic/differential-points": differentialPoints,
  "characteristic/restraints": restraints,
  "characteristic/dual-slopes": dualSlopes,
  "characteristic/compensation": compensations,
  "characteristic/directional-products": directionalProducts,
  "characteristic/quadrature": quadrature,
  "characteristic/advance-angles": (inputs) => ({
    advance_angle_deg: advanceAngle({ slip: number(inputs, "slip_Hz"), closingTime: number(inputs, "breaker_time_s") }),
  }),
  "characteristic/timer-slips": (inputs) => ({
    max_slip_Hz: mostSlip({ window: number(inputs, "window_deg_plus_minus"), timer: number(inputs, "timer_s") }),
  }),
  "characteristic/difference-voltage": (inputs) => ({
    dV_pu: voltagesApart({
      incoming: polar(number(inputs, "V1_pu"), number(inputs, "angle_deg")),
      running: polar(number(inputs, "V2_pu"), 0),
    }).across,
  }),
};
