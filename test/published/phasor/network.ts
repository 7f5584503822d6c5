/** What the textbooks build from impedances. */
import {
  angle,
  deltaToWyeImpedance,
  divide,
  magnitude,
  type Phasor,
  polar,
  rect,
  scale,
  shortCircuit,
  subtract,
  wyeToDeltaImpedance,
} from "tripwright/phasor";
import { complex, number, text } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { partsAs } from "./named.js";

export function deltaToWye(inputs: Inputs): Answers {
  const side = (name: string): Phasor => rect(number(inputs, `${name}_re`), number(inputs, `${name}_im`));
  const [ab, bc, ca] = [side("Zab"), side("Zbc"), side("Zca")];
  const wye = deltaToWyeImpedance({ ab, bc, ca });
  const back = wyeToDeltaImpedance(wye);
  return {
    ...partsAs("Za", wye.a),
    ...partsAs("Zb", wye.b),
    ...partsAs("Zc", wye.c),
    ...partsAs("inverse_Zab", back.ab),
    ...partsAs("inverse_Zbc", back.bc),
    ...partsAs("inverse_Zca", back.ca),
  };
}

/** Three-phase at full generation, phase to phase at the least, over nothing but reactances. */
export function faultCurrents(inputs: Inputs): Answers {
  const lineVoltage = number(inputs, "kV_ll") * 1000;
  const lines = number(inputs, "X_lines_to_bus_ohm");
  const voltage = polar(lineVoltage / Math.sqrt(3), 0);
  const behind = (name: string): Phasor => rect(0, number(inputs, `X_transformer_${name}_ohm`) + lines);
  return {
    I_3ph_max_A: magnitude(shortCircuit({ type: "three-phase", voltage, z1: behind("max") }).currents.a),
    I_ll_min_A: magnitude(shortCircuit({ type: "line-to-line", voltage, z1: behind("min") }).currents.b),
  };
}

export function earthReturnFactor(inputs: Inputs): Answers {
  const impedance = (name: string): Phasor => {
    if (`${name}_ohm_per_km` in inputs) return complex(inputs, `${name}_ohm_per_km`);
    const [size, degrees] = text(inputs, name).replace(" deg", "").split(" at ").map(Number);
    return polar(size as number, degrees as number);
  };
  const [z0, z1] = [impedance("Z0"), impedance("Z1")];
  const k0 = divide(subtract(z0, z1), scale(z1, 3));
  const [mag, deg] = [magnitude(k0), angle(k0)];
  return {
    "k0.re": k0.re,
    "k0.im": k0.im,
    "k0_polar.mag": mag,
    "k0_polar.deg": deg,
    "polar.mag": mag,
    "polar.deg": deg,
  };
}
