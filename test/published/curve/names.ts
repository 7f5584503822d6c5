/** The names that the references use for the curves; the same two letters mean different curves in IEC and IEEE tables. */
import type { CurveName } from "tripwright/curve";
import { text } from "../given.js";
import type { Inputs } from "../table.js";

export const NAMES: { readonly [reference: string]: CurveName } = {
  IEC_A_SI: "iec-inverse",
  IEC_B_VI: "iec-very-inverse",
  IEC_C_EI: "iec-extremely-inverse",
  IEEE_D_MI: "ieee-moderately-inverse",
  IEEE_E_VI: "ieee-very-inverse",
  IEEE_F_EI: "ieee-extremely-inverse",
  TRADE_LTI: "long-time-inverse",
  TRADE_STI: "short-time-inverse",
};
export const LETTERS: { readonly [reference: string]: CurveName } = {
  "IEC 60255-151 curve A": "iec-inverse",
  "IEC 60255-151 curve B": "iec-very-inverse",
  "IEC 60255-151 curve C": "iec-extremely-inverse",
  "IEC 60255-151 curve D": "ieee-moderately-inverse",
  "IEC 60255-151 curve E": "ieee-very-inverse",
  "IEC 60255-151 curve F": "ieee-extremely-inverse",
};
export const IEC: { readonly [abbreviation: string]: CurveName } = {
  SI: "iec-inverse",
  VI: "iec-very-inverse",
  EI: "iec-extremely-inverse",
};
export const IEEE: { readonly [abbreviation: string]: CurveName } = {
  MI: "ieee-moderately-inverse",
  VI: "ieee-very-inverse",
  EI: "ieee-extremely-inverse",
};

export function curveIn(inputs: Inputs, names: { readonly [reference: string]: CurveName }): CurveName {
  const name = names[text(inputs, "curve")];
  if (name === undefined) throw new Error(`no curve is called ${text(inputs, "curve")} here`);
  return name;
}
