import { finite, object } from "../base/check.js";
import type { Phases, Phasor } from "../phasor/index.js";

/** A phasor that is one; what is wrong with it is told where it stands. */
export function phasorAt(value: Phasor, path: string): Phasor {
  const { re, im } = object(value, path, "a phasor { re, im }");
  return { re: finite(re, `${path}.re`, "a real part"), im: finite(im, `${path}.im`, "an imaginary part") };
}

/** One of three phases. */
export const phaseAt = (set: Phases, phase: keyof Phases, path: string): Phasor =>
  phasorAt(set[phase], `${path}.${phase}`);
