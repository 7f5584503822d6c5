/**
 * Unit types. A plain number fits every one of them, a number that is declared in another unit does not, and an
 * editor's hover shows the unit. SI units and degrees everywhere; a share is a plain ratio unless its name says percent.
 */

/** A time in seconds. */
export type Seconds = number & { readonly unit?: "s" };
/** A frequency in hertz. */
export type Hertz = number & { readonly unit?: "Hz" };
/** A rate of change of frequency in hertz per second. */
export type HertzPerSecond = number & { readonly unit?: "Hz/s" };
/** An angle in degrees, positive = leading (counter-clockwise). */
export type Degrees = number & { readonly unit?: "°" };
/** A voltage in volts, rms unless the name says otherwise. */
export type Volts = number & { readonly unit?: "V" };
/** A current in amperes, rms unless the name says otherwise. */
export type Amperes = number & { readonly unit?: "A" };
/** An active power in watts. */
export type Watts = number & { readonly unit?: "W" };
/** An impedance, a resistance or a reactance in ohm. */
export type Ohms = number & { readonly unit?: "ohm" };
/** A number of cycles of the power system. */
export type Cycles = number & { readonly unit?: "cycles" };
/** A percentage: 5 means 5 %. */
export type Percent = number & { readonly unit?: "%" };
