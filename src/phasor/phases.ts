import { nameIn, object } from "../base/check.js";
import type { Phasor } from "./phasor.js";

/** One value for each phase. */
export interface Phases<T = Phasor> {
  readonly a: T;
  readonly b: T;
  readonly c: T;
}

/** One value between each two phases: the voltage `ab` is that of phase a less that of phase b. */
export interface PhasePairs<T = Phasor> {
  readonly ab: T;
  readonly bc: T;
  readonly ca: T;
}

/** The order in which the phases reach their crests. */
export type Rotation = "ABC" | "ACB";

export const PHASES = ["a", "b", "c"] as const;
export const PAIRS = ["ab", "bc", "ca"] as const;

const SENSES = { ABC: 1, ACB: -1 } as const;

/** 1 where b lags a, −1 where it leads. */
export const senseOf = (rotation: Rotation): 1 | -1 => SENSES[nameIn(rotation, SENSES, "rotation")];

/** The three values of an object by their names, each checked. */
export function three<K extends string, T>(
  given: { readonly [name in K]: T },
  names: readonly [K, K, K],
  check: (value: T, path: string) => T,
): [T, T, T] {
  object(given, "", `an object with ${names}`);
  return names.map((name) => check(given[name], name)) as [T, T, T];
}
