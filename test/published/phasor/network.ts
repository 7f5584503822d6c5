/** What the textbooks build from impedances. */
import {
  deltaToWyeImpedance,
  magnitude,
  type Phasor,
  polar,
  rect,
  shortCircuit,
  wyeToDeltaImpedance,
} from "tripwright/phasor";
import { number } from "../given.js";
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
