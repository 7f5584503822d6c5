/** The names under which the rows give and ask for phasors: a_mag and a_deg, Z_re and Z_im. */
import { add, angle, magnitude, type Phasor, polar } from "tripwright/phasor";
import { number } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";

export const polarIn = (inputs: Inputs, name: string): Phasor =>
  polar(number(inputs, `${name}_mag`), number(inputs, `${name}_deg`));

export const polarAs = (name: string, p: Phasor): Answers => ({
  [`${name}_mag`]: magnitude(p),
  [`${name}_deg`]: angle(p),
});

export const partsAs = (name: string, { re, im }: Phasor): Answers => ({ [`${name}_re`]: re, [`${name}_im`]: im });

export const sumOf = (...phasors: readonly Phasor[]): Phasor => phasors.reduce(add);
