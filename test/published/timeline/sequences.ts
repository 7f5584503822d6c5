/** Test sequences of one channel, built by hand. */
import { type ChannelState, type Piece, ramp, type Timeline } from "tripwright/timeline";

const WIRING = { i: { quantity: "current", feeds: { ia: 1 } } } as const;

/** One channel through states of given duration. */
export function states(...list: readonly { readonly duration: number; readonly state: ChannelState }[]): Timeline {
  const segments = list.map(({ duration, state }, i) => ({ name: `state ${i}`, duration, channels: { i: state } }));
  return { wiring: WIRING, segments };
}

export const alongLevels = (pieces: readonly Piece[]): Timeline =>
  ramp({ base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } }, pieces, wiring: WIRING });
