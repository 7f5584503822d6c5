/** Numbers in the sentences of an explanation: at most four digits, since no estimate knows more. */
import { written } from "../base/written.js";

export const inWords = (x: number, unit = "1"): string => written(String(Number(x.toPrecision(4))), unit);

/** An angle within one turn, as the relay would show it. */
export const signed = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);
