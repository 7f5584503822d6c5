import { above, atLeast, finite, object } from "./check.js";
import { readEach } from "./read-each.js";
import type { Sinusoid } from "./waveform.js";

/** Checks a sinusoid part by part; which orders its harmonics may have is for `checkOrder` to say. */
export function checkSinusoid<S extends Sinusoid>(sinusoid: S, what: string, checkOrder: (order: number) => void): S {
  const { rms, frequency, angle = 0, offset = 0, decay, harmonics = [] } = object(sinusoid, "", what);
  atLeast(rms, 0, "rms", "an rms value");
  atLeast(frequency, 0, "frequency", "a frequency", "Hz");
  finite(angle, "angle", "an angle in degrees");
  finite(offset, "offset", "an offset");
  if (decay !== undefined) {
    const { initial, tau } = object(decay, "decay", "a decaying part { initial, tau }");
    finite(initial, "decay.initial", "an initial value");
    above(tau, 0, "decay.tau", "a time constant", "s");
  }
  readEach(harmonics, "harmonics", "a list of harmonics { order, rms, angle }", (harmonic) => {
    const { order, rms, angle = 0 } = object(harmonic, "", "a harmonic { order, rms, angle }");
    checkOrder(order);
    atLeast(rms, 0, "rms", "an rms value");
    finite(angle, "angle", "an angle in degrees");
  });
  return sinusoid;
}
