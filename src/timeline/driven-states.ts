/** What a channel or an input is driven by, state by state. */
import { type Decimal, decimal } from "../base/exact.js";
import type { Timeline } from "../base/sequence.js";
import { atStart, runOn, stateOf } from "./channel-phase.js";
import { ZERO } from "./course.js";
import type { Drive } from "./signal.js";

/** One state, and the channels that are on in it. */
export interface Driven {
  readonly index: number;
  readonly start: Decimal;
  readonly duration: Decimal;
  readonly drives: readonly Drive[];
}

/** The states of a timeline as some of its channels drive them, each channel by its factor. */
export function drivenStates({ segments }: Timeline, factors: ReadonlyMap<string, number>): readonly Driven[] {
  let running = [...factors].map(([name, factor]) => ({
    name,
    factor: decimal(factor, "factor"),
    at: atStart(segments, name),
  }));
  let start = ZERO;
  return segments.map((segment, index) => {
    const duration = decimal(segment.duration, "duration");
    const drives = running.flatMap(({ name, factor, at }) => {
      const state = stateOf(segment, name);
      return state === undefined || factor.isZero() ? [] : [{ state, factor, cycles: at.cycles }];
    });
    const driven = { index, start, duration, drives };
    running = running.map(({ at, ...same }) => ({ ...same, at: runOn(at, stateOf(segment, same.name), duration) }));
    start = start.plus(duration);
    return driven;
  });
}
