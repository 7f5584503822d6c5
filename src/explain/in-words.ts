/** Numbers in the sentences of an explanation: at most four digits, since no estimate knows more. */
import { signedAngle } from "../base/degrees.js";
import { plain, written } from "../base/written.js";
import type { RelaySettings } from "../plan/index.js";

export const inWords = (x: number, unit = "1"): string => written(plain(x, 4), unit);

/** An angle within one turn, as the relay would show it in four digits: 180° and never -180°, also of what is a hair beside it. */
export const signed = (degrees: number): number => signedAngle(Number(signedAngle(degrees).toPrecision(4)));

/** A level at the relay, and the same as the sheet has it: on a sheet in primary values the relay's own number is on no page. */
export interface LevelWords {
  /** `4.168 A`, or `4.168 A (500.2 A primary)`. */
  readonly atRelay: (level: number) => string;
  /** `where the sheet says 4 A`, or `where the sheet says 480 A primary`. */
  readonly onSheet: (level: number) => string;
}

/** How levels of an element are told. */
export function levelWords(unit: string, { writtenIn, toPrimary }: RelaySettings, id: string): LevelWords {
  const ratio = writtenIn === "primary" ? toPrimary[id] : undefined;
  const primary = (level: number, by: number) => `${inWords(level * by, unit)} primary`;
  if (ratio === undefined)
    return { atRelay: (x) => inWords(x, unit), onSheet: (x) => `where the sheet says ${inWords(x, unit)}` };
  return {
    atRelay: (x) => `${inWords(x, unit)} (${primary(x, ratio)})`,
    onSheet: (x) => `where the sheet says ${primary(x, ratio)}`,
  };
}
