/** Values as they are typed. */

/** A value as typed: a number in SI units, or text such as `"4 A"`, `"250 ms"`, `"12 cycles"`, `"0.8 × rated"`, `"80 % of nominal"`. */
export type Typed = number | string;

/** A published tolerance as typed. Absolute parts are values at the relay (secondary), as accuracies are published. */
export interface TypedTolerance {
  /** `5` or `"5 %"`. */
  readonly percent?: Typed | undefined;
  readonly absolute?: Typed | undefined;
  readonly combine?: "greater" | "sum" | undefined;
  /** `"high"` where only an upper limit is declared ("at most 40 ms"). */
  readonly side?: "both" | "low" | "high" | undefined;
}
