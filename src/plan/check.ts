/** What a plan consists of. Everything is plain data and survives JSON. */
import type { Band } from "../base/band.js";
import type { Problem } from "../base/problem.js";
import type { Timeline } from "../base/sequence.js";
import type { Hertz, Seconds } from "../base/units.js";
import type { FunctionNumber, LevelUnit } from "../element/index.js";

/** A unit in which something is injected or measured. */
export type Unit = LevelUnit | "s";

/** How a level is moved to find where a function starts. */
export interface Sweep {
  readonly from: number;
  readonly to: number;
  readonly step: number;
  /** How long each level is held. */
  readonly hold: Seconds;
  /** The level and time of rest between steps, where inputs would heat otherwise. */
  readonly rest?: { readonly level: number; readonly time: Seconds };
  /** How long the healthy system stands before the first level, in a state of its own, where it is no level of the sweep. */
  readonly preFault?: Seconds;
}

/** What a check is about. */
export type Proves = "pickup" | "edge" | "dropout" | "operate-time" | "no-operation";

/** What must happen: a reading within a band, or nothing at all for a while. */
export type Expected =
  | { readonly form: "band"; readonly unit: Unit; readonly band: Band }
  | { readonly form: "stays-quiet"; readonly held: Seconds };

/** A level at which a time can be measured with nothing blocked. */
export interface Alternative {
  readonly level: number;
  readonly multiple: number;
}

/** One thing to be proved: what to inject, what must happen, within which band, and why. */
export interface Check {
  /** Stable, such as `51P/time@5`, so that work can stop and go on another day. */
  readonly id: string;
  readonly element: string;
  readonly function: FunctionNumber;
  readonly proves: Proves;
  /** The name of the place on the boundary that is proved, such as `leading`; of an edge alone. */
  readonly edge?: string;
  /** The contact that is watched. */
  readonly contact: string;
  readonly timeline: Timeline;
  /** The unit of the levels that are injected. */
  readonly unit: LevelUnit;
  /** How the level moves, for a pickup or a dropout. */
  readonly sweep?: Sweep;
  /** The level that is injected, for an operate time or where nothing may happen. */
  readonly level?: number;
  /** How much a level is on the primary side: primary = level · this; absent where there is no transformer between. */
  readonly toPrimary?: number;
  /** The same of channels on the second side of a differential zone; absent where the element watches none. */
  readonly toPrimaryOfSecond?: number;
  /** What the channels of the source stand for, where that is not plain. */
  readonly injection?: string;
  readonly expect: Expected;
  /** The rule and the numbers from which the band came. */
  readonly because: { readonly rule: string; readonly numbers: { readonly [name: string]: number } };
  readonly cautions: readonly string[];
  /** Enabled elements that could operate during this check, to be blocked for it and restored after it. */
  readonly block: readonly string[];
  /** Where the same could be measured without blocking anything, where there is such a level. */
  readonly alternative?: Alternative;
}

/** A check that cannot be made, and why. */
export interface Impossible {
  readonly id: string;
  readonly element: string;
  readonly reason: string;
}

/** Everything that is to be proved of one relay. */
export interface Plan {
  /** Which relay it is, as the sheet says. */
  readonly about: { readonly substation: string; readonly feeder: string; readonly relay: string };
  /** Of the system; readings in cycles refer to it. */
  readonly frequency: Hertz;
  readonly checks: readonly Check[];
  readonly impossible: readonly Impossible[];
  /** Settings that make no sense together. */
  readonly findings: readonly Problem[];
  /** What to mind before and during the work. */
  readonly cautions: readonly string[];
  /** The time of all timelines together, when no contact ends a state early. */
  readonly totalTime: Seconds;
}
