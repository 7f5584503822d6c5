import { fail, options } from "../base/check.js";
import { type Decimal, toNumber } from "../base/exact.js";
import type { Segment, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkTimeline } from "./check-timeline.js";
import { drivenStates } from "./driven-states.js";
import { type InputRatings, type ReadRating, ratingInPlace, readRating } from "./input-rating.js";
import { type InputUnit, type Judged, judgedInput, type RatingName } from "./judge-input.js";
import { rulesOf, type Subject } from "./rules.js";
import { meanSquare } from "./signal.js";
import type { Stretch } from "./stretches.js";

/** How far an input was driven toward one of its ratings. */
export interface InputReached {
  readonly input: string;
  readonly rating: RatingName;
  /**
   * A or V for `continuous` (rms) and `peak`; A²s or V²s for `shortTime`; A² or V² for `heating`, which is the square of
   * the steady value that would heat as much.
   */
  readonly amount: number;
  readonly allowed: number;
  readonly unit: InputUnit;
  /** amount/allowed. That of `continuous` may be above 1 where the rest of the rating allows it for a short time. */
  readonly share: number;
}

/** Where an input is driven beyond its rating. */
export interface InputExceedance extends InputReached {
  /** The name of the state in which it begins, and its place in the timeline, from 0. */
  readonly segment: string;
  readonly index: number;
  /** When it begins, in seconds since the start of the timeline. */
  readonly at: Seconds;
  /** How long it lasts, through as many states as it takes; to the end where nothing cools. */
  readonly lasts: Seconds;
}

/** Whether the inputs of a relay stand a timeline. */
export interface InputCheck {
  /** In order of time; none where the inputs stand the timeline, as far as was checked. */
  readonly exceedances: readonly InputExceedance[];
  /** For every input that is driven, and each part of its rating. */
  readonly reached: readonly InputReached[];
  /**
   * What was not checked of the inputs that are driven because no rating was given: `inputs.ia.continuous`, `inputs.ia.shortTime`.
   * Peak ratings are seldom stated; a missing one is not told.
   */
  readonly notChecked: readonly string[];
}

/**
 * Whether the inputs of a relay stand a timeline, every state at its full duration: where one is driven beyond its rating,
 * and how far each is driven.
 *
 * An input sees Σ factor · channel. Parts of one frequency add as phasors, with the phases that they have by then; parts of
 * different frequency add in squares, as they do over a whole beat; offsets and decaying parts add, and their square at the
 * instant counts. With x² the mean square that follows,
 *
 *     short-time:   ∫ x² dt, over the time that |x| is above the continuous rating, ≤ value² · time; nothing cools
 *     with tau:     heat′ = (x² − heat)/tau from cold, heat ≤ value² · (1 − exp(−time/tau)), or continuous² if that is more
 *     continuous:   x ≤ continuous, where neither a short-time rating nor a time constant says more
 *     peak:         √2 · Σ rms over the frequencies + |d.c. component| ≤ peak, which bounds what they can add up to
 *
 * What is just at a rating does not exceed it. The source needs a check of its own ({@link checkSource}); heat takes longer
 * to leave than a test sequence shows, and a CT secondary must never be opened.
 *
 * @param ratings - In A, V and s, by quantity; `inputs` by name in place of those: one with a continuous or a short-time rating of its
 * own takes neither from its quantity, nor the time constant. Inputs that the timeline does not feed may be among them.
 * @throws A {@link InputError} for a timeline or a rating that is not valid, with the path of what is wrong, for an input
 * that is fed by voltages and currents, and for amounts beyond the range of a double.
 * Accuracy: the verdict on a current that stands still is exact, its amount and instant are rounded once; others 1e-12 of
 * the rating, their instants 2 units in the last place of the time in their state.
 * @source short-time rating as I²t: common practice; heating with one time constant: IEC 60255-149
 *
 * @example
 * import { checkInput, faultSequence } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { i: { rms: 5, frequency: 50 } },
 *   fault: { i: { rms: 300, frequency: 50 } },
 *   settleFor: 2,
 *   giveUpAfter: 4,
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const { exceedances, notChecked } = checkInput(timeline, {
 *   current: { continuous: 20, shortTime: { value: 500, time: 1 } },
 * });
 * const told = exceedances.map(({ input, at, share }) => `${input}: ${100 * share} %, too much from ${at.toFixed(3)} s on`);
 * told; // → ["ia: 144 %, too much from 4.778 s on"]
 * notChecked; // → []
 */
export function checkInput(timeline: Timeline, ratings: InputRatings): InputCheck {
  checkTimeline(timeline);
  const { current, voltage, inputs: single } = options(ratings, ["current", "voltage", "inputs"]);
  const ratingOf = rulesOf({ current, voltage, place: "inputs", single }, readRating, ratingInPlace);
  const inputs = fedInputs(timeline)
    .map((input) => ({ ...input, states: drivenStates(timeline, input.factors) }))
    .filter(({ states }) => states.some(({ drives }) => drives.some((drive) => meanSquare([drive]).length > 0)));
  const judged = inputs.flatMap(({ states, ...input }) =>
    judgedInput(states, ratingOf(input), input.quantity).map((one) => ({ input: input.name, ...one })),
  );
  const beyond = judged.flatMap((part) => part.beyond.map((stretch) => ({ part, stretch })));
  beyond.sort((a, b) => a.stretch.from.cmp(b.stretch.from));
  return {
    exceedances: beyond.map(({ part, stretch }) => exceedanceOf(part, stretch, timeline.segments)),
    reached: judged.map(reachedOf),
    notChecked: inputs.flatMap((input) => openRatings(ratingOf(input)).map((name) => `inputs.${input.name}.${name}`)),
  };
}

interface FedInput extends Subject {
  readonly factors: Map<string, number>;
}

/** The inputs that are fed, each with the factors of the channels that feed it. */
function fedInputs({ wiring }: Timeline): readonly FedInput[] {
  const inputs = new Map<string, FedInput>();
  for (const [channel, { quantity, feeds }] of Object.entries(wiring)) {
    for (const [name, factor] of Object.entries(feeds)) {
      const input = inputs.get(name) ?? { name, quantity, factors: new Map() };
      if (input.quantity !== quantity) {
        fail("conflict", `wiring.${channel}.feeds.${name}`, `an input of ${quantity} alone`, input.quantity);
      }
      inputs.set(name, input);
      input.factors.set(channel, factor);
    }
  }
  return [...inputs.values()];
}

const openRatings = (rating: ReadRating): readonly string[] =>
  (["continuous", "shortTime"] as const).filter((name) => rating[name] === undefined);

type Part = Omit<Judged, "beyond"> & { readonly input: string };

const number = (x: Decimal): number => toNumber(x, "");

const reachedOf = ({ input, rating, reached, allowed, unit }: Part): InputReached => ({
  input,
  rating,
  amount: number(reached),
  allowed: number(allowed),
  unit,
  share: number(reached.div(allowed)),
});

function exceedanceOf(part: Part, { index, from, to, worst }: Stretch, segments: readonly Segment[]): InputExceedance {
  return {
    ...reachedOf({ ...part, reached: worst }),
    segment: (segments[index] as Segment).name,
    index,
    at: number(from),
    lasts: number(to.minus(from)),
  };
}
