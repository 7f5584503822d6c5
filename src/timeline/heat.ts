/** How a quantity heats what it flows through, in squares of its unit. */
import { type Decimal, isBelow, larger, smaller } from "../base/exact.js";
import { courseAt, polynomial, response, scaled, ZERO } from "./course.js";
import { signChanges } from "./sign-changes.js";
import { bound, joined, type Stage, type Stretch, stretchesAbove, turnsOf, withHair } from "./stretches.js";

/** The most heat that was reached, and where it was too much; the stages are mean squares. */
export interface Heat {
  readonly reached: Decimal;
  readonly beyond: readonly Stretch[];
}

/** What heats without cooling: ∫ square dt over the time that the square is above the floor; without a floor, over all. */
export function adiabaticHeat(
  stages: readonly Stage[],
  { floor, limit }: { readonly floor?: Decimal | undefined; readonly limit: Decimal },
): Heat {
  let [heat, typed] = [ZERO, true];
  let passed: Pick<Stretch, "index" | "from"> | undefined;
  for (const stage of stages) {
    const { index, start, duration, course } = stage;
    typed &&= stage.typed;
    const gained = response(course, { rate: ZERO, start: ZERO });
    const end = start.plus(duration);
    const counted = floor === undefined ? [{ from: start, to: end }] : stretchesAbove(stage, floor);
    for (const { from, to } of counted) {
      const left = limit.minus(heat).plus(courseAt(gained, from.minus(start)));
      heat = heat.plus(courseAt(gained, to.minus(start))).minus(courseAt(gained, from.minus(start)));
      if (passed !== undefined || !isBelow(typed ? limit : withHair(limit), heat)) continue;
      const instants = signChanges([...gained, ...polynomial(left.neg())], duration).map((t) => start.plus(t));
      const instant = instants.find((one) => isBelow(from, one)) ?? from;
      passed = { index, from: smaller(instant, to) };
    }
  }
  const last = stages.at(-1);
  // Nothing cools: what is too much stays so to the end.
  const to = last === undefined ? ZERO : last.start.plus(last.duration);
  return { reached: heat, beyond: passed === undefined ? [] : [{ ...passed, to, worst: heat }] };
}

/** What heats and cools with a time constant, from cold: heat′ = rate · (square − heat). */
export function coolingHeat(
  stages: readonly Stage[],
  { rate, limit }: { readonly rate: Decimal; readonly limit: Decimal },
): Heat {
  let [heat, reached, typed] = [ZERO, ZERO, true];
  const beyond: Stretch[] = [];
  for (const stage of stages) {
    typed &&= stage.typed;
    const course = response(scaled(stage.course, rate), { rate, start: heat });
    const heated = { ...stage, course, typed };
    const turns = turnsOf(heated);
    // The heat never leaves the range between its start and the squares that it strives for.
    if (larger(heat, bound(stage.course, stage.duration)).gt(limit)) {
      beyond.push(...stretchesAbove(heated, limit, turns));
    }
    heat = courseAt(course, stage.duration);
    reached = [heat, ...turns.map((t) => courseAt(course, t))].reduce(larger, reached);
  }
  return { reached, beyond: joined(beyond) };
}
