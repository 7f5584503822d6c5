/** What is the same wherever three phases are: their names, and √3 between a voltage of lines and one to neutral. */
export const PHASES = ["a", "b", "c"] as const;

export const SQRT3 = 1.7320508075688772;
