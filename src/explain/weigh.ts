/** How well each way explains what was read of one element. */
import { coverageFactor } from "../grading/index.js";
import { CAUSES } from "./causes.js";
import { type Fitted, leastMisfit } from "./fit.js";
import { byCheck, misfitOf } from "./misfit.js";
import { offBy } from "./predict.js";
import { AS_WRITTEN, type Cause, type Situation, type Suspect, situationOf, type Way } from "./situation.js";
import type { Taken } from "./taken.js";

/** The share of cases in which something is claimed although nothing is wrong, over all ways together. */
const FALSE_CLAIMS = 0.05;

/** One way at its best. */
export interface Weighed {
  readonly cause: Cause;
  readonly way: Way;
  /** The estimate; of no meaning where nothing is free. */
  readonly x: number;
  /** Which values the readings leave open, where they do. */
  readonly open?: Fitted["open"];
  readonly situation: Situation;
  readonly misfit: number;
}

/** What came of weighing. */
export interface Weighing {
  readonly before: number;
  readonly threshold: number;
  readonly tried: number;
  /** Those that count, best first. */
  readonly counting: readonly Weighed[];
}

/**
 * By how much χ² has to fall for one of so many ways to count. A free number lowers χ² by more than 3.84 in one case of
 * twenty where nothing is wrong; with n ways the quantile is taken at 0.05/n (Bonferroni). A way without a free number
 * has to lower it by as much: that it was picked is its freedom.
 *
 *     threshold = z²,   P(|Z| > z) = 0.05/n,   3.84 for n = 1
 *
 * @source JCGM 101 and common statistical practice (likelihood ratio of normal errors, S. S. Wilks 1938)
 */
export const thresholdFor = (tried: number): number => quantile(FALSE_CLAIMS / tried);

/** What a normal deviation, squared, exceeds with a probability. */
const quantile = (probability: number): number => coverageFactor({ coverage: 1 - probability }) ** 2;

/** Added to the misfit of a way with a free number when ways are ranked: by chance alone it gains 3.84 or more once in 20. */
const PRICE_OF_FREEDOM = 3.84;

/**
 * Weighs every way against all readings of the stage. A way counts only where χ² falls by the threshold, of all readings
 * together and of those of the element: what explains another element alone explains nothing here. Nor does it gain by
 * coming nearer to what another element read without explaining it: that has a cause of its own.
 */
export function weigh(suspect: Suspect, taken: readonly Taken[]): Weighing {
  const ways = CAUSES.flatMap((cause) => cause.ways(suspect).map((way) => ({ cause, way })));
  const tried = ways.length;
  const threshold = thresholdFor(tried);
  const all = byCheck(taken);
  const own = all.filter((group) => group[0]?.setting.id === suspect.setting.id);
  const [before, ownBefore] = [misfitOf(all, AS_WRITTEN), misfitOf(own, AS_WRITTEN)];
  const others = otherElements(all, suspect);
  const counting = ways
    .map(({ cause, way }): Weighed => {
      const at = (x: number) => situationOf(cause, way, x, suspect);
      const ofOthers = (situation: Situation) =>
        cause.touches === "element" ? before - ownBefore : sumOf(others.map((other) => misfitLeft(other, situation)));
      const misfitAt = (x: number) => misfitOf(own, at(x)) + ofOthers(at(x));
      const fitted = way.free === undefined ? { x: 0, misfit: misfitAt(0) } : leastMisfit(misfitAt, way.free);
      return { cause, way, situation: at(fitted.x), ...fitted };
    })
    .filter(({ misfit }) => before - misfit >= threshold)
    .filter(({ situation }) => ownBefore - misfitOf(own, situation) >= threshold)
    .sort((a, b) => priced(a) - priced(b));
  return { before, threshold, tried, counting };
}

/** Another element of the relay, by check, with the misfit that it has as things are written. */
interface OtherElement {
  readonly groups: readonly (readonly Taken[])[];
  readonly before: number;
}

function otherElements(all: readonly (readonly Taken[])[], { setting: { id: own } }: Suspect): OtherElement[] {
  const ids = new Set(all.map(([first]) => first?.setting.id).filter((id) => id !== own));
  return [...ids].map((id) => {
    const groups = all.filter(([first]) => first?.setting.id === id);
    return { groups, before: misfitOf(groups, AS_WRITTEN) };
  });
}

/** What a situation leaves of the misfit of another element: no less than there was where it does not explain it. */
function misfitLeft({ groups, before }: OtherElement, situation: Situation): number {
  const after = misfitOf(groups, situation);
  return after < before && !leavesNothing(groups.flat(), situation) ? before : after;
}

const sumOf = (terms: readonly number[]): number => terms.reduce((sum, term) => sum + term, 0);

const priced = ({ misfit, way }: Weighed): number => misfit + (way.free === undefined ? 0 : PRICE_OF_FREEDOM);

/** The share of true causes that are taken for a part of the truth only. */
const FALSE_DOUBTS = 0.001;

/** Whether a situation leaves none of the readings further off than chance allows, over all of them together. */
export function leavesNothing(own: readonly Taken[], situation: Situation): boolean {
  const most = Math.sqrt(quantile(FALSE_DOUBTS / Math.max(1, own.length)));
  return own.every((taken) => Math.abs(offBy(taken, situation)) <= most);
}
