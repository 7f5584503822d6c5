/** Bases and values in per unit; the kilovolts and megavolt-amperes of the rows in volts and volt-amperes. */
import { changeBase, fromPerUnit, type PerUnitBase, perUnit, toPrimary, toSecondary } from "tripwright/phasor";
import { number, text } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

const megaAndKilo = (power: number, voltage: number): PerUnitBase => ({ power: power * 1e6, voltage: voltage * 1e3 });
const of = (inputs: Inputs, power: string, voltage: string): PerUnitBase =>
  megaAndKilo(number(inputs, power), number(inputs, voltage));
const ohms = (base: PerUnitBase): number => fromPerUnit(1, { kind: "impedance", ...base });
const amperes = (base: PerUnitBase): number => fromPerUnit(1, { kind: "current", ...base });

export function perUnits(inputs: Inputs, id: string): Answers {
  if (id === "stev-11-4") return twoMotors(inputs);
  // A short-circuit power is the rated voltage times its current.
  if ("MVA_A" in inputs)
    return {
      I_A: amperes(of(inputs, "MVA_A", "kV_AB")),
      I_B: amperes(of(inputs, "MVA_B", "kV_AB")),
      I_C: amperes(of(inputs, "MVA_C", "kV_C")),
    };
  if ("kVA_old" in inputs) {
    const [from, to] = ["old", "new"].map((when) => ({
      power: number(inputs, `kVA_${when}`) * 1e3,
      voltage: number(inputs, `kV_${when}`) * 1e3,
    })) as [PerUnitBase, PerUnitBase];
    return { Z_pu_new: changeBase(number(inputs, "Z_pu_old"), { kind: "impedance", from, to }) };
  }
  const base = of(inputs, "S_MVA", "V_kV_ll");
  return { Zbase_ohm: ohms(base), Ibase_A: amperes(base), Vbase_ln_kV: (ohms(base) * amperes(base)) / 1e3 };
}

/** A generator, a line and two motors; the base voltage goes with the ratios of the transformers. */
function twoMotors(inputs: Inputs): Answers {
  const power = number(inputs, "G_MVA");
  const [low, high] = text(inputs, "T1_kV").split("/").map(Number) as [number, number];
  const [count, phase, second] = (text(inputs, "T2_kV").match(/[\d.]+/g) ?? []).map(Number) as [number, number, number];
  const lineVoltage = toPrimary(number(inputs, "G_kV"), {
    kind: "voltage",
    vt: { primary: high, secondary: low },
  });
  // Three single-phase units: wye on the line's side, delta on the motors'.
  const motorVoltage = toSecondary(lineVoltage, {
    kind: "voltage",
    vt: { primary: Math.sqrt(count) * phase, secondary: second },
  });
  const [generator, line, motor] = [number(inputs, "G_kV"), lineVoltage, motorVoltage].map((voltage) =>
    megaAndKilo(power, voltage),
  ) as [PerUnitBase, PerUnitBase, PerUnitBase];
  const onMotorBase = (rated: string) =>
    changeBase(number(inputs, "X0"), { kind: "impedance", from: of(inputs, rated, "M_kV"), to: motor });
  const neutral = 3 * number(inputs, "Xn_ohm");
  return {
    motor_base_kV: motorVoltage,
    X0_m1_pu: onMotorBase("M1_MVA"),
    X0_m2_pu: onMotorBase("M2_MVA"),
    Zbase_gen_ohm: ohms(generator),
    Zbase_motor_ohm: ohms(motor),
    three_Zn_gen_pu: perUnit(neutral, { kind: "impedance", ...generator }),
    three_Zn_motor_pu: perUnit(neutral, { kind: "impedance", ...motor }),
    X0_line_pu: perUnit(number(inputs, "line_ohm_per_km") * number(inputs, "line_km"), { kind: "impedance", ...line }),
  };
}
