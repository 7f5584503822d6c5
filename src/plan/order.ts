import type { ChannelState, Timeline } from "../base/sequence.js";
import type { Check, Proves } from "./check.js";

/** Measuring before timing, and nothing is timed before it was shown to stay quiet where it should. */
const RANK: Readonly<Record<Proves, number>> = {
  pickup: 0,
  edge: 1,
  dropout: 2,
  "no-operation": 3,
  "operate-time": 4,
};

/**
 * The order in which the work is done: what is measured comes before what is timed, and within each kind the injections
 * that heat the relay least come first, so that a warm input spoils as few readings as can be. The checks of one kind that
 * heat alike keep the order of the sheet.
 *
 * @source common practice
 */
export const inOrder = (checks: readonly Check[]): Check[] =>
  checks
    .map((check) => ({ check, rank: RANK[check.proves], heat: heatOf(check.timeline) }))
    .sort((a, b) => a.rank - b.rank || a.heat - b.heat)
    .map(({ check }) => check);

/** ∫ i² dt of the hottest current channel, in A²s. */
function heatOf({ segments, wiring }: Timeline): number {
  const currents = Object.keys(wiring).filter((name) => wiring[name]?.quantity === "current");
  const heats = currents.map((name) =>
    segments.reduce((sum, { channels, duration }) => sum + squared(channels[name], duration), 0),
  );
  return Math.max(0, ...heats);
}

/** ∫ (a + b·t)² dt. */
function squared(state: ChannelState | undefined, duration: number): number {
  if (state === undefined) return 0;
  const from = state.rms;
  const to = from + (state.slope?.rms ?? 0) * duration;
  return (duration * (from * from + from * to + to * to)) / 3;
}
