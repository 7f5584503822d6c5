import type { Seconds } from "../base/units.js";

/** Where a function stands. Plain data; a function at rest is `{ elapsed: 0, travel: 0 }`. */
export interface TravelState {
  /** Seconds since the beginning. */
  readonly elapsed: Seconds;
  /** 0 at rest, 1 where it operates; a thermal curve: the level over that at which it operates. */
  readonly travel: number;
  /** Seconds since it last started; absent where it is not started or held. */
  readonly started?: Seconds;
  /** Seconds since it let go, with travel left: they end with the next start, not between dropout and start. */
  readonly released?: Seconds;
  /** The instant at which its contact operated, everything included that the setting adds. */
  readonly operatedAt?: Seconds;
}

/** A state on its way through many stretches, with what rounding took from its travel. */
export interface Underway extends TravelState {
  readonly lost?: number;
}
