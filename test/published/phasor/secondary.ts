/** Impedances carried across instrument transformers, and what the textbook examples build from them. */
import {
  add,
  angle,
  divide,
  magnitude,
  type Phasor,
  polar,
  rect,
  scale,
  type Transformers,
  toPrimary,
  toSecondary,
} from "tripwright/phasor";
import { complex, group, number, ratio, text } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { partsAs, sumOf } from "./named.js";

export function secondary(inputs: Inputs, id: string): Answers {
  if ("Zprim_ohm" in inputs) return ratios(inputs);
  if ("Z_primary_ohm" in inputs) return impedance(inputs);
  return id === "dist.stevenson.13_4" ? lineZones(inputs) : throughTransformer(inputs);
}

const carried = (z: Phasor, transformers: Transformers): Phasor =>
  rect(toSecondary(z.re, transformers), toSecondary(z.im, transformers));

function ratios(inputs: Inputs): Answers {
  const ct = { primary: number(inputs, "ct_primary_A"), secondary: number(inputs, "ct_secondary_A") };
  const vt = { primary: number(inputs, "vt_primary_V"), secondary: number(inputs, "vt_secondary_V") };
  return {
    ct_ratio: toPrimary(1, { kind: "current", ct }),
    vt_ratio: toPrimary(1, { kind: "voltage", vt }),
    Zsec_ohm: toSecondary(number(inputs, "Zprim_ohm"), { kind: "impedance", ct, vt }),
    Zprim_per_Zsec: toPrimary(1, { kind: "impedance", ct, vt }),
  };
}

function impedance(inputs: Inputs): Answers {
  const z = carried(complex(inputs, "Z_primary_ohm"), {
    kind: "impedance",
    ct: ratio(inputs, "CT"),
    vt: ratio(inputs, "VT"),
  });
  return {
    "Z_secondary_ohm.re": z.re,
    "Z_secondary_ohm.im": z.im,
    "polar.mag": magnitude(z),
    "polar.deg": angle(z),
  };
}

/** Zones of the example: 80 % of the first line, 120 % of it, and it with 120 % of the longer second line. */
function lineZones(inputs: Inputs): Answers {
  const phaseVoltage = (number(inputs, "kV") * 1000) / Math.sqrt(3);
  const load = (number(inputs, "MVA") * 1000) / (Math.sqrt(3) * number(inputs, "kV"));
  const lag = (Math.acos(number(inputs, "pf")) * 180) / Math.PI;
  const transformers = {
    kind: "impedance",
    ct: ratio(inputs, "CT"),
    vt: { primary: phaseVoltage, secondary: number(inputs, "V_sec_ln") },
  } as const;
  const line = (name: string): Phasor =>
    carried(scale(complex(inputs, "z_ohm_per_km"), number(group(inputs, "km"), name)), transformers);
  const zone3 = add(line("L12"), scale(line("L24"), 1.2));
  return {
    ...partsAs("Z12_sec", line("L12")),
    ...partsAs("Z24_sec", line("L24")),
    ...partsAs("Z_load", carried(divide(polar(phaseVoltage, 0), polar(load, -lag)), transformers)),
    ...partsAs("zone1", scale(line("L12"), 0.8)),
    ...partsAs("zone2", scale(line("L12"), 1.2)),
    ...partsAs("zone3", zone3),
  };
}

/** Line and transformer in ohms of the high side ("Z" of the example); the setting adds the low-side line, referred. */
function throughTransformer(inputs: Inputs): Answers {
  const numbers = text(inputs, "transformer")
    .match(/[\d.]+/g)
    ?.map(Number);
  const [power, high, low, percent] = numbers as [number, number, number, number];
  const transformer = rect(0, ((percent / 100) * high ** 2) / power);
  const near = add(complex(inputs, "Z_AB_ohm"), transformer);
  const whole = sumOf(near, scale(complex(inputs, "Z_BC_ohm_33kV"), (high / low) ** 2));
  const setting = carried(whole, { kind: "impedance", ct: ratio(inputs, "CT"), vt: ratio(inputs, "PT") });
  return { ...partsAs("Z", near), ...partsAs("setting", setting) };
}
