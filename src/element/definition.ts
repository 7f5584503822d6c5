import type { Answer } from "../base/answer.js";
import type { ChannelStates, Lever, Wiring } from "../base/sequence.js";
import type { RelayInputs } from "./inputs.js";
import type { ElementSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** What a function makes of its inputs. */
export interface Observation {
  /** The watched quantity, in the unit of the setting. */
  readonly quantity: number;
  /** How far the quantity lies beyond the start, in its own unit; positive = operating side. */
  readonly margin: number;
  /** The quantity over the setting. */
  readonly multiple: number;
  /** The function is blocked, whatever the quantity. */
  readonly blocked: boolean;
}

/** How to make a wanted value of the watched quantity with the source at hand. */
export interface Pose {
  /** The channel states at level 0. */
  readonly base: ChannelStates;
  /** What one unit of the level adds to which channel. */
  readonly lever: Lever;
  readonly wiring: Wiring;
}

/** A distance as a ratio of the setting or as a difference in its unit. */
export type Distance = { readonly ratio: number } | { readonly difference: number };

/** How a function is checked in practice; defaults, all of them. */
export interface Practice {
  /** How far before the setting a pickup sweep begins, and how far behind it ends. */
  readonly around: Distance;
  /** How far beyond the setting a definite time is measured. */
  readonly beyond: Distance;
  /** At which multiples an inverse time is measured. */
  readonly multiples: readonly number[];
  /** Response of the function in cycles where the sheet does not say. */
  readonly measuringCycles: number;
}

/**
 * A protective function as code, the same for every relay that has it. The law between its two halves: `read` of the
 * inputs that `pose` makes at level x gives the quantity x.
 */
export interface Definition<S extends ElementSetting = ElementSetting> {
  readonly function: S["function"];
  /** In words, such as "phase time overcurrent". */
  readonly title: string;
  readonly unit: "A" | "V" | "Hz";
  readonly side: "over" | "under";
  readonly source: string;
  readonly practice: Practice;
  /** Raises an `InputError` for fields of the function's own that are not good. */
  readonly check: (setting: S) => void;
  /** What the function makes of its inputs. */
  readonly read: (inputs: RelayInputs, setting: S) => Observation;
  /** How to make a wanted value with the source at hand; none, where that source cannot. */
  readonly pose: (setting: S, setup: Setup) => Answer<Pose, string>;
  /** The level of a healthy system: no current, rated voltage, rated frequency. */
  readonly healthyLevel: (setting: S, setup: Setup) => number;
}

/**
 * The observation of a quantity by a function that starts above (over) or below (under) startRatio × pickup. The margin
 * comes from the multiple, on which the time law decides, so that both agree at the start to the last bit.
 */
export function observe(
  quantity: number,
  setting: ElementSetting,
  side: "over" | "under",
  blocked = false,
): Observation {
  const multiple = quantity / setting.pickup;
  const beyond = (multiple - (setting.law.startRatio ?? 1)) * setting.pickup;
  return { quantity, margin: (side === "over" ? beyond : -beyond) + 0, multiple, blocked };
}
