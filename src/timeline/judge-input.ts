/** How far one input is driven toward each part of its rating, and where beyond. */
import { type Decimal, decimal, larger } from "../base/exact.js";
import type { Channel } from "../base/sequence.js";
import { ZERO } from "./course.js";
import type { Driven } from "./driven-states.js";
import { adiabaticHeat, coolingHeat, type Heat } from "./heat.js";
import type { ReadRating } from "./input-rating.js";
import { crests, isTyped, meanSquare } from "./signal.js";
import { highestIn, joined, type Stage, stretchesAbove } from "./stretches.js";

/** A part of a rating; `heating` is that of an input with a time constant. */
export type RatingName = "continuous" | "shortTime" | "heating" | "peak";

/** One part of a rating and what was reached of it, in exact decimals. */
export interface Judged extends Heat {
  readonly rating: RatingName;
  readonly allowed: Decimal;
  readonly unit: InputUnit;
}

/** The unit of what is compared. */
export type InputUnit = `${"A" | "V"}${"" | "²" | "²s"}`;

/** Each part of a rating that is given. */
export function judgedInput(states: readonly Driven[], rating: ReadRating, quantity: Channel["quantity"]): Judged[] {
  const { continuous, shortTime, tau, peak } = rating;
  const unit = quantity === "current" ? "A" : "V";
  const stages = states.map((state) => ({ ...state, course: meanSquare(state.drives), typed: isTyped(state.drives) }));
  const judged: Judged[] = [];
  const allowedHeat = tau && mostHeat(rating, tau);
  if (continuous !== undefined) {
    const isTheJudge = shortTime === undefined && tau === undefined;
    const { reached, beyond } = heldSquare(stages, continuous.pow(2));
    const rms = beyond.map((stretch) => ({ ...stretch, worst: stretch.worst.sqrt() }));
    judged.push({
      rating: "continuous",
      reached: reached.sqrt(),
      beyond: isTheJudge ? rms : [],
      allowed: continuous,
      unit,
    });
  }
  if (tau !== undefined && allowedHeat !== undefined) {
    const heat = coolingHeat(stages, { rate: decimal(1, "").div(tau), limit: allowedHeat });
    judged.push({ rating: "heating", ...heat, allowed: allowedHeat, unit: `${unit}²` });
  } else if (shortTime !== undefined) {
    const limit = shortTime.value.pow(2).times(shortTime.time);
    const heat = adiabaticHeat(stages, { floor: continuous?.pow(2), limit });
    judged.push({ rating: "shortTime", ...heat, allowed: limit, unit: `${unit}²s` });
  }
  if (peak !== undefined) judged.push({ rating: "peak", ...highestPeak(states, peak), allowed: peak, unit });
  return judged;
}

/** What the short-time rating heats to from cold, or what the continuous one heats to in the end if that is more. */
function mostHeat({ continuous, shortTime }: ReadRating, tau: Decimal): Decimal | undefined {
  const steady = continuous?.pow(2);
  if (shortTime === undefined) return steady;
  const short = shortTime.value.pow(2).times(decimal(1, "").minus(shortTime.time.div(tau).neg().exp()));
  return steady === undefined ? short : larger(steady, short);
}

function heldSquare(stages: readonly Stage[], limit: Decimal): Heat {
  const reached = stages.map(highestIn).reduce(larger, ZERO);
  return { reached, beyond: joined(stages.flatMap((stage) => stretchesAbove(stage, limit))) };
}

function highestPeak(states: readonly Driven[], limit: Decimal): Heat {
  const stages = states.map((state) =>
    crests(state.drives, state.duration).map((course) => ({ ...state, course, typed: false })),
  );
  const reached = stages.flat().map(highestIn).reduce(larger, ZERO);
  const beyond = stages.flatMap((either) =>
    either.flatMap((stage) => stretchesAbove(stage, limit)).sort((a, b) => a.from.cmp(b.from)),
  );
  return { reached, beyond: joined(beyond) };
}
