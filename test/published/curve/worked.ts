import { operateTime } from "tripwright/curve";
import { toSecondary } from "tripwright/phasor";
import { group, number, ratio } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { curveIn, IEC } from "./names.js";

/** Worked examples that ask different things, by the ids of their rows. */
export const WORKED: { readonly [id: string]: (inputs: Inputs) => Answers } = {
  "ex.lect.7_1": (inputs) => {
    const multiple = secondary(inputs, "fault_A", "CT") / number(inputs, "plug_setting_A");
    const curve = curveIn(inputs, IEC);
    const time = operateTime({ curve, multiplier: number(inputs, "TMS") }, multiple);
    return { PSM: multiple, bracket: operateTime({ curve }, multiple), t_s: time, t_rounded_s: time };
  },
  // The row writes its multiple as fault current / CT ratio / plug setting.
  "ex.lect.10_8.R3": (inputs) => {
    const multiple = number(inputs, "PSM_from");
    const curve = curveIn(inputs, IEC);
    return {
      bracket: operateTime({ curve }, multiple),
      t_with_TMS_0_2_s: operateTime({ curve, multiplier: 0.2 }, multiple),
    };
  },
  "ex.psm.200_1": (inputs) => {
    const current = secondary(inputs, "fault_A", "CT");
    const pickup = (number(inputs, "current_setting_percent") / 100) * ratio(inputs, "CT").secondary;
    return { secondary_A: current, PSM: current / pickup };
  },
  "ex.numerade.two_relays": (inputs) => {
    const multipleOf = (name: string): number => {
      const relay = group(inputs, name);
      const ct = ratio(relay, "CT");
      return (
        toSecondary(number(inputs, "fault_A"), { kind: "current", ct }) / (number(relay, "pickup_pu") * ct.secondary)
      );
    };
    const setting = { curve: curveIn(inputs, IEC), multiplier: number(group(inputs, "A"), "TMS") };
    return {
      PSM_A: multipleOf("A"),
      PSM_B: multipleOf("B"),
      t_A_s: operateTime(setting, multipleOf("A")),
      t_A_s_if_held_above_20: operateTime({ ...setting, ceilingMultiple: 20 }, multipleOf("A")),
    };
  },
  "ex.stevenson.13_3": (inputs) => ({
    R3_R4_secondary_at_max_bus4_A: secondary(inputs, "fault_at_bus4_A", "R4_CT"),
  }),
  "ex.glover.10_4": (inputs) => {
    const carried = (breaker: string, current: number): number =>
      toSecondary(current, { kind: "current", ct: ratio(group(inputs, "CT"), breaker) });
    const tap = (breaker: string): number => number(group(inputs, "tap_A"), breaker);
    const load = (power: number): number => (power * 1000) / (Math.sqrt(3) * number(inputs, "kV"));
    // Each breaker carries its own load and that of everything behind it.
    const [b1, b2, b3] = ["B1", "B2", "B3"].map((breaker) => number(group(inputs, "MVA"), breaker)) as [
      number,
      number,
      number,
    ];
    return {
      I_sec_B3_A: carried("B3", load(b3)),
      I_sec_B2_A: carried("B2", load(b3 + b2)),
      I_sec_B1_A: carried("B1", load(b3 + b2 + b1)),
      multiple_B3_at_2000: carried("B3", 2000) / tap("B3"),
      multiple_B2_at_2000: carried("B2", 2000) / tap("B2"),
      multiple_B2_at_3000: carried("B2", 3000) / tap("B2"),
      multiple_B1_at_3000: carried("B1", 3000) / tap("B1"),
    };
  },
};

function secondary(inputs: Inputs, current: string, ct: string): number {
  return toSecondary(number(inputs, current), { kind: "current", ct: ratio(inputs, ct) });
}
