import type { Answer } from "../base/answer.js";
import type { ChannelStates, Lever, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { Point, Region } from "../characteristic/index.js";
import type { Curve } from "../curve/index.js";
import type { RelayInputs } from "./inputs.js";
import type { Distance, ElementSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** The unit of a setting; `"1"` is a plain ratio. */
export type LevelUnit = "A" | "V" | "Hz" | "Hz/s" | "°" | "W" | "ohm" | "1";

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
  /** The inputs arm a function that waits to be armed; always where it does not. */
  readonly arms: boolean;
}

/** How to make a wanted value of the watched quantity with the source at hand. */
export interface Pose {
  /** The channel states at level 0. */
  readonly base: ChannelStates;
  /** What one unit of the level adds to which channel. */
  readonly lever: Lever;
  readonly wiring: Wiring;
  /** What the source's channels stand for, in words, where that is not plain: `one phase: I1 = I2 = I0 = I/3`. */
  readonly note?: string;
  /** The channel states at a level, where no lever leads there: the voltages of a fault between two phases turn as they fall. */
  readonly statesAt?: (level: number) => ChannelStates;
  /** The channel states of the healthy system before, where that is no level of the pose. */
  readonly healthy?: ChannelStates;
}

/** How a function is checked in practice; defaults, all of them. */
export interface Practice {
  /** How far before the setting a pickup sweep begins, and how far behind it ends. */
  readonly around: Distance;
  /** How far beyond the setting a definite time is measured. */
  readonly beyond: Distance;
  /** Nearer to the setting, in this order, where a faster neighbour would operate there first. */
  readonly nearer?: readonly Distance[];
  /** Where just inside the boundary a definite time is measured once more. */
  readonly inside?: Distance;
  /** At which multiples a time that depends on the quantity is measured. */
  readonly multiples: readonly number[];
  /** Response of the function in cycles where the sheet does not say. */
  readonly measuringCycles: number;
  /** Where it lets go, where the sheet does not say. */
  readonly dropout: Distance;
  /** Each step begins from the healthy system: the level is not one that can be left standing. */
  readonly fromRest?: true;
}

/** Accuracies of limits that are not counted as the setting is. */
export type LimitAccuracy = "angle" | "voltage" | "frequency";

/** A place on the boundary of a function of several quantities, and the level along which it is crossed. */
export interface Edge {
  /** Names its check, such as `leading`. */
  readonly name: string;
  readonly unit: LevelUnit;
  /** Whether it operates above the place or below. */
  readonly side: "over" | "under";
  /** The level at which it starts. */
  readonly at: number;
  /** How far before that a sweep begins, and how far behind it ends. */
  readonly around: Distance;
  /** Which of the declared accuracies it is held against. */
  readonly heldTo: "pickup" | LimitAccuracy;
  readonly pose: Answer<Pose, string>;
  /**
   * What moves as far as the level does, in either direction, and in its unit. Without it the quantity of the function does, by
   * the same share.
   */
  readonly movesWith?: (inputs: RelayInputs) => number;
  /** How long a level has to stand where what it starts comes and goes by itself; else as long as the response takes. */
  readonly waits?: (level: number) => Seconds;
}

/** A level at which a function has to stay quiet because of what stands beside it, such as a current from behind. */
export interface Still {
  /** Names its check, such as `reverse`. */
  readonly name: string;
  readonly level: number;
  /** Why it has to stay quiet, in words. */
  readonly why: string;
  readonly pose: Answer<Pose, string>;
}

/** Settings that some functions have beside the common ones. */
export type OwnField =
  | "phases"
  | "blockBelow"
  | "armAbove"
  | "direction"
  | "negativeSequenceFactor"
  | "polarising"
  | "characteristicAngle"
  | "leading"
  | "lagging"
  | "operates"
  | "measures"
  | "minimumVoltage"
  | "voltageDifference"
  | "slip"
  | "liveAbove"
  | "deadBelow"
  | "deadClosing"
  | "closingTime"
  | "zone"
  | "earth"
  | "minimumCurrent"
  | "restraint"
  | "slopes"
  | "secondHarmonic";

/** What the system gives to the settings of a function: nothing that a person would type for each element. */
export type SystemField = "rotation" | "ratedVoltage" | "ratedFrequency" | "zone";

/** A setting that can be, and makes no sense. */
export interface Doubt {
  readonly field: string;
  readonly expected: string;
  readonly received: string;
}

/** A function of two quantities as it is drawn: the region in which it operates, and where its inputs lie. */
export interface Plane<S extends ElementSetting = ElementSetting> {
  readonly axes: { readonly [A in "x" | "y"]: { readonly quantity: string; readonly unit: string } };
  /** Both axes are of one kind, so that angles are angles. */
  readonly equal: boolean;
  /** Where it operates. */
  readonly region: (setting: S) => Region;
  /** Where the loop or phase lies that decides; nothing where none is measured. */
  readonly place: (inputs: RelayInputs, setting: S) => Point | undefined;
}

/**
 * A protective function as code, the same for every relay that has it. The law between its two halves: `read` of the
 * inputs that `pose` makes at level x gives the quantity x.
 */
export interface Definition<S extends ElementSetting = ElementSetting> {
  readonly function: S["function"];
  /** In words, such as "phase time overcurrent". */
  readonly title: string;
  readonly unit: LevelUnit;
  readonly side: "over" | "under";
  readonly source: string;
  /** What it may watch; where there is a choice, the settings say which. */
  readonly watches: readonly S["watches"][];
  /** Its own settings beside the common ones. */
  readonly fields: readonly OwnField[];
  readonly system: readonly SystemField[];
  /** The forms of time law that it may have. */
  readonly laws: readonly Curve["form"][];
  /** It may be without intended delay. */
  readonly instantaneous?: true;
  readonly practice: Practice;
  /** It sets voltages against currents, so that it matters how they turn; others hear currents alone (in A) or voltages alone. */
  readonly relates?: true;
  /** Its quantity may fall and rise again while a level moves evenly, even where nothing turns. */
  readonly bends?: true;
  /** Settings that do not go together. */
  readonly check?: (setting: S) => void;
  /** Settings that can be together, and make no sense. */
  readonly doubts?: (setting: S) => readonly Doubt[];
  /** Which accuracies its limits are held against beside that of the pickup. Default: none. */
  readonly heldTo?: (setting: S) => readonly LimitAccuracy[];
  /** Places on its boundary beside the pickup, where it depends on several quantities. */
  readonly edges?: (setting: S, setup: Setup) => readonly Edge[];
  /** The contact that it closes where the sheet does not say. Default `trip`. */
  readonly contact?: string;
  /** What to mind beside what is minded with every function. */
  readonly cautions?: readonly string[];
  /** Where it has to stay quiet beside the levels below its pickup. */
  readonly stills?: (setting: S, setup: Setup) => readonly Still[];
  /** What the function makes of its inputs. */
  readonly read: (inputs: RelayInputs, setting: S) => Observation;
  /** The plane in which it is drawn, where it sets two quantities against each other. */
  readonly plane?: Plane<S>;
  /** How to make a wanted value with the source at hand; none, where that source cannot. */
  readonly pose: (setting: S, setup: Setup) => Answer<Pose, string>;
  /** The level of a healthy system: rated voltage and frequency, and rated current where the function waits for the lack of it. */
  readonly healthyLevel: (setting: S, setup: Setup) => number;
}

/** What may block a function, and what arms it. */
interface Standing {
  readonly blocked?: boolean;
  readonly arms?: boolean;
}

/**
 * The observation of a quantity by a function that starts above (over) or below (under) startRatio × pickup. The margin
 * comes from the multiple, on which the time law decides, so that both agree at the start to the last bit.
 */
export function observe(
  quantity: number,
  setting: ElementSetting,
  side: "over" | "under",
  { blocked = false, arms = true }: Standing = {},
): Observation {
  const multiple = quantity / setting.pickup;
  const beyond = (multiple - (setting.law.startRatio ?? 1)) * setting.pickup;
  return { quantity, margin: (side === "over" ? beyond : -beyond) + 0, multiple, blocked, arms };
}
