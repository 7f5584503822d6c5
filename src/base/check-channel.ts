/** Checks of what a channel of a source puts out. */
import { fail, finite, object, options, whole } from "./check.js";
import { checkSinusoid } from "./check-waveform.js";
import type { ChannelState, Slope } from "./sequence.js";

const HIGHEST_ORDER = 1000;

/** Checks the state of a channel; its harmonics have whole orders from 2, each once. */
export function checkChannelState(state: ChannelState): void {
  const orders = new Set<number>();
  const { slope } = checkSinusoid(state, "a channel state such as { rms: 4, frequency: 50 }", (order) => {
    whole(order, [2, HIGHEST_ORDER], "order", "the order of a harmonic");
    if (orders.has(order)) fail("duplicate", "order", "each order once", order);
    orders.add(order);
  });
  if (slope !== undefined) checkSlope(slope, "slope", "a change per second");
}

/** The quantities of a channel that a slope or a lever moves, and a source in steps. */
export const MOVED = ["rms", "frequency", "angle"] as const;

/** Checks what a slope moves, and by how much. */
export function checkSlope(slope: Slope, path: string, what: string): void {
  object(slope, path, "how fast it moves { rms, frequency, angle }");
  options(slope, MOVED, path);
  for (const name of MOVED) if (slope[name] !== undefined) finite(slope[name], `${path}.${name}`, what);
}
