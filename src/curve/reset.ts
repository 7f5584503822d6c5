/** How a function returns to rest. */
import { above, atLeast, fail, nameIn, options } from "../base/check.js";
import { product } from "../base/double-double.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting, Reset, ThermalCurve } from "./curve.js";
import { type ReadySetting, readySetting } from "./ready.js";

/** A reset that the generic functions can use: a disk always has its constant. */
export type ReadyReset =
  | { readonly form: "instantaneous" }
  | { readonly form: "definite"; readonly time: Seconds }
  | { readonly form: "disk"; readonly time: Seconds }
  | { readonly form: "cooling"; readonly release: number };

/** Where a function resets, and how. */
export interface Release {
  /** The multiple below (under functions: above) which it resets. */
  readonly dropout: number;
  readonly reset: ReadyReset;
}

const NEEDED = { instantaneous: [], definite: ["time"], disk: ["time"], cooling: ["release"] } as const;

/** Checks how a setting resets; without a word about it, a disk where the curve has its constant, else at once (a thermal image cools by itself). */
export function readyRelease(setting: CurveSetting, ready: ReadySetting): Release {
  const { dropoutRatio = 1 } = setting;
  above(dropoutRatio, 0, "dropoutRatio", "a ratio to the start");
  if (ready.side === "over" ? dropoutRatio > 1 : dropoutRatio < 1) {
    const expected = ready.side === "over" ? "a ratio to the start up to 1" : "a ratio to the start of 1 or more";
    fail("out-of-range", "dropoutRatio", expected, dropoutRatio);
  }
  const dropout = ready.startRatio * dropoutRatio;
  const own = ready.curve.form === "inverse" ? ready.curve.reset : undefined;
  const given: Reset | undefined = setting.reset ?? (own === undefined ? undefined : { form: "disk" });
  return {
    dropout,
    reset: given === undefined ? { form: "instantaneous" } : within("reset", () => readyReset(given, own, ready)),
  };
}

/** Whether it goes back at a multiple. A function that starts at nothing (M² · t = k, a table) does so at nothing. */
export const isReleased = ({ side }: ReadySetting, { dropout }: Release, multiple: number): boolean =>
  side === "over" ? multiple < dropout || multiple === 0 : multiple > dropout;

function readyReset(given: Reset, own: Seconds | undefined, { side, curve }: ReadySetting): ReadyReset {
  options(given, ["form", "time", "release"]);
  nameIn(given.form, NEEDED, "form");
  const cools = curve.form === "thermal";
  if ((given.form === "cooling") !== cools) {
    const expected = cools ? "cooling, as the curve is thermal" : "no cooling but on a thermal curve";
    fail("not-applicable", "form", expected, given.form);
  }
  switch (given.form) {
    case "instantaneous":
      return { form: "instantaneous" };
    case "definite":
      return { form: "definite", time: atLeast(given.time, 0, "time", "a reset time", "s") };
    case "disk": {
      if (side === "under") fail("not-applicable", "form", "no disk on an under function", given.form);
      const time = given.time ?? own;
      if (time === undefined) fail("missing", "time", "a reset time in s, as the curve has none", time);
      return { form: "disk", time: above(time as Seconds, 0, "time", "a reset time", "s") };
    }
    case "cooling": {
      const release = above(given.release, 0, "release", "a share of the thermal level at which it operates");
      if (release >= 1) fail("out-of-range", "release", "a share of the thermal level below 1", release);
      return { form: "cooling", release };
    }
  }
}

/**
 * The time from full travel (a thermal curve: from the level at which it operates) back to rest, at a constant multiple.
 *
 *     disk:     t = multiplier · t_r/(1 − M²)
 *     definite: the time;    instantaneous: 0
 *     cooling:  t = multiplier · coolingTau · ln((1 − M²)/(release − M²))
 *
 * @param multiple - The quantity over its setting, 0 or more.
 * @returns Seconds; `Infinity` where the function does not reset: at or above (under functions: below) its dropout, and
 * where a thermal image stays above its release. An energy or table curve without a start of its own resets at M = 0.
 * @throws A {@link InputError} for a disk whose constant neither the curve nor the setting has, for a thermal curve
 * without `cooling`, and for settings outside their domain.
 * Accuracy: within 4 units in the last place.
 * @source IEEE C37.112-2018 (t_r; written there as t_r/(M² − 1), negative); IEC 60255-151:2009 4.4.2;
 * IEC 60255-149:2013 (cooling)
 *
 * @example
 * import { resetTime } from "tripwright/curve";
 * resetTime({ curve: "ieee-very-inverse", multiplier: 0.5 }, 0); // → 10.8
 * resetTime({ curve: "iec-inverse", reset: { form: "definite", time: 0.5 } }, 0.9); // → 0.5
 * resetTime({ curve: "ieee-very-inverse" }, 1.2); // → Infinity
 * resetTime({ curve: "iec-inverse", reset: { form: "disk" } }, 0); // throws InputError
 */
export function resetTime(setting: CurveSetting, multiple: number): Seconds {
  const ready = readySetting(setting);
  const release = readyRelease(setting, ready);
  const { reset } = release;
  atLeast(multiple, 0, "multiple", "a multiple of the setting");
  if (!isReleased(ready, release, multiple)) return Number.POSITIVE_INFINITY;
  if (ready.curve.form === "thermal" && reset.form !== "cooling") {
    fail("missing", "reset", '{ form: "cooling", release }, as the curve is thermal', setting.reset);
  }
  switch (reset.form) {
    case "instantaneous":
      return 0;
    case "definite":
      return reset.time + 0;
    case "disk":
      return multiple < 1
        ? (ready.multiplier * reset.time) / ((1 - multiple) * (1 + multiple))
        : Number.POSITIVE_INFINITY;
    case "cooling":
      return coolingTime(ready, multiple, reset.release);
  }
}

function coolingTime({ curve, multiplier }: ReadySetting, multiple: number, release: number): Seconds {
  const { tau, coolingTau = tau } = curve as ThermalCurve;
  // M² in two doubles, so that what is left of the release keeps its digits where M² is close to it.
  const [level, rest] = product(multiple, multiple);
  const left = release - level - rest;
  return left > 0 ? multiplier * coolingTau * Math.log1p((1 - release) / left) : Number.POSITIVE_INFINITY;
}
