/** How far apart the explanations of an element would read at an injection. */
import { InputError } from "../base/input-error.js";
import type { RelaySettings } from "../plan/index.js";
import type { Explanation } from "../record/index.js";
import { type Predicted, predict } from "./predict.js";
import type { Situation } from "./situation.js";
import { allowedAt, sourceUncertainty, type Taken } from "./taken.js";

/** More than this much apart is no better. */
const ENOUGH = 6;

/** An explanation that leads, and the situation that it stands for. */
export interface Rival {
  readonly explanation: Explanation;
  readonly situation: Situation;
  /** A quarter and three quarters of the way through what the readings leave open of its estimate; itself where nothing is. */
  readonly beside: readonly [Situation, Situation];
}

/** What the rivals would read at an injection, and how far apart each pair is, in standard uncertainties. */
export interface Separation {
  readonly taken: Taken;
  readonly predicted: readonly Predicted[];
  readonly differences: readonly number[];
  readonly difference: number;
  readonly score: number;
}

/**
 * Rivals are set apart at their estimates; where those stand for a range, the score is the mean over three places of it, so
 * that an injection that tells over most of the range comes before one that tells over less.
 */
export function separationBy(taken: Taken, rivals: readonly Rival[], settings: RelaySettings): Separation {
  const middle = separationAt(taken, rivals, settings);
  const sides = ([0, 1] as const).map((side) => {
    const moved = rivals.map((rival): Rival => ({ ...rival, situation: rival.beside[side] }));
    const isSame = moved.every(({ situation }, i) => situation === rivals[i]?.situation);
    return isSame ? middle : separationAt(taken, moved, settings);
  });
  return { ...middle, score: [middle, ...sides].reduce((sum, { score }) => sum + score, 0) / (1 + sides.length) };
}

function separationAt(taken: Taken, rivals: readonly Rival[], settings: RelaySettings): Separation {
  const predicted = predictedBy(taken, rivals);
  const { key } = taken;
  const before =
    key.repeat === 1 ? undefined : predictedBy({ ...taken, key: { ...key, repeat: key.repeat - 1 } }, rivals);
  const differences = predicted.flatMap((one, i) =>
    predicted.slice(i + 1).map((other, k) => {
      const pair = [one, other] as const;
      if (before === undefined) return differenceBetween(pair, taken, settings);
      return newIn(pair, [before[i] as Predicted, before[i + 1 + k] as Predicted], taken);
    }),
  );
  const score = differences.reduce((sum, each) => sum + each * each, 0);
  return { taken, predicted, differences, difference: Math.max(0, ...differences), score };
}

/** Where an explanation has no answer, such as outside a drawn curve, the injection tells nothing. */
function predictedBy(taken: Taken, rivals: readonly Rival[]): Predicted[] {
  try {
    return rivals.map(({ situation }) => predict(taken, situation));
  } catch (error) {
    if (error instanceof InputError) return [];
    throw error;
  }
}

type Pair = readonly [Predicted, Predicted];

function differenceBetween([one, other]: Pair, { check, setting }: Taken, settings: RelaySettings): number {
  if (one === other) return 0;
  if (typeof one !== "number" || typeof other !== "number") return ENOUGH;
  const value = Math.max(one, other);
  const { relay, single } = allowedAt(value, check, { setting, measured: sourceUncertainty(value, check, settings) });
  return Math.min(ENOUGH, Math.abs(one - other) / Math.hypot(relay, single));
}

/** A repeat has the relay's own error once more: new is only what changes from the repeat before. */
function newIn([one, other]: Pair, [oneBefore, otherBefore]: Pair, { uncertainty: { single } }: Taken): number {
  if (typeof one !== "number" || typeof oneBefore !== "number") return 0;
  if (typeof other !== "number" || typeof otherBefore !== "number") return 0;
  return Math.min(ENOUGH, Math.abs(one - oneBefore - (other - otherBefore)) / (single * Math.SQRT2));
}
