/** Short circuits of the textbooks in per unit, and what they come to in amperes and kilovolts. */
import { fromPerUnit, lineToLine, magnitude, type Phasor, rect, shortCircuit } from "tripwright/phasor";
import { number } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { polarAs } from "./named.js";

const TYPES = { SLG: "line-to-ground", LL: "line-to-line", LLG: "double-line-to-ground" } as const;

const impedance = (inputs: Inputs, name: string): Phasor =>
  rect(part(inputs, `${name}_re`), part(inputs, `${name}_im`));

/** A part that an example does not mention is 0. */
const part = (inputs: Inputs, name: string): number => (name in inputs ? number(inputs, name) : 0);

export function shortCircuits(inputs: Inputs, id: string): Answers {
  // This example has no letter for its fault: two lines to ground, with the impedance in the ground return.
  const inGround = id === "saadat-10-5-llg";
  const zFault = impedance(inputs, "Zf");
  const { currents, voltages, groundCurrent } = shortCircuit({
    type: inGround ? "double-line-to-ground" : TYPES[inputs["fault"] as keyof typeof TYPES],
    voltage: rect(number(inputs, "E_pu"), 0),
    z1: impedance(inputs, "Z1"),
    z2: impedance(inputs, "Z2"),
    z0: impedance(inputs, "Z0"),
    ...(inGround ? { zGround: zFault } : { zFault, zGround: impedance(inputs, "Zg") }),
  });
  const { ab, bc, ca } = lineToLine(voltages);
  const all = {
    I0: currents.zero,
    I1: currents.positive,
    I2: currents.negative,
    Ia: currents.a,
    Ib: currents.b,
    Ic: currents.c,
    In: groundCurrent,
    If: groundCurrent,
    V0: voltages.zero,
    V1: voltages.positive,
    V2: voltages.negative,
    Va: voltages.a,
    Vb: voltages.b,
    Vc: voltages.c,
    Vab: ab,
    Vbc: bc,
    Vca: ca,
  };
  const polars = Object.entries(all).map(([name, p]) => polarAs(name, p));
  return Object.assign({}, ...polars, "base_MVA" in inputs ? inUnits(inputs, all) : {});
}

/** The base of the voltages is that of a phase, of which √3 make one of the lines. */
function inUnits(inputs: Inputs, all: { readonly [name: string]: Phasor }): Answers {
  const base = { power: number(inputs, "base_MVA") * 1e6, voltage: number(inputs, "base_kV_ll") * 1e3 };
  const phaseBase = { ...base, voltage: base.voltage / Math.sqrt(3) };
  return Object.fromEntries([
    ["base_current_A", fromPerUnit(1, { kind: "current", ...base })],
    ...["Ia", "Ib", "Ic", "In"].map((name) => [
      `${name}_A`,
      fromPerUnit(magnitude(all[name] as Phasor), { kind: "current", ...base }),
    ]),
    ...["Vab", "Vbc", "Vca"].map((name) => [
      `${name}_kV`,
      fromPerUnit(magnitude(all[name] as Phasor), { kind: "voltage", ...phaseBase }) / 1e3,
    ]),
  ]);
}
