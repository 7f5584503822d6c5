/** Mean and deviation against the certified values of NIST (see nist/README.md). */
import { readFileSync } from "node:fs";
import { repeatability } from "tripwright/grading";
import { describe, expect, test } from "vitest";

interface CertifiedSet {
  readonly mean: number;
  readonly standardDeviation: number;
  readonly readings: readonly number[];
}

function readSet(name: string): CertifiedSet {
  const lines = readFileSync(new URL(`./nist/${name}.txt`, import.meta.url), "utf8").split("\n");
  const certified = (label: string): number =>
    Number(/(-?[\d.]+)(?: *\(exact\))?$/.exec(lines.find((line) => line.startsWith(label)) ?? "")?.[1]);
  const data = lines.slice(lines.map((line) => /^\s*-+$/.test(line)).lastIndexOf(true) + 1);
  return {
    mean: certified("Sample Mean"),
    standardDeviation: certified("Sample Standard Deviation"),
    readings: data.filter((line) => line.trim() !== "").map(Number),
  };
}

/** How many readings a set has, and to how many digits mean and deviation are asked. */
const SETS: { readonly [name: string]: readonly [count: number, mean: number, deviation: number] } = {
  Lew: [200, 15, 14],
  Lottery: [218, 14.5, 14],
  // The certified deviations have 15 digits; the readings as doubles have 13.1 and 13.8 digits of it.
  Mavro: [50, 15, 13],
  Michelso: [100, 15, 13.8],
  NumAcc1: [3, 15, 15],
  NumAcc2: [1001, 15, 15],
  // As doubles the readings themselves have 9.46 and 8.25 digits of the deviation: no algorithm has more.
  NumAcc3: [1001, 15, 9.4],
  NumAcc4: [1001, 15, 8.2],
};

/** −log10 of the relative error; 17 where there is none. */
const digits = (ours: number, certified: number): number =>
  ours === certified ? 17 : -Math.log10(Math.abs((ours - certified) / certified));

describe("repeated readings of NIST", () => {
  test.each(Object.keys(SETS))("%s: mean and deviation have the certified digits", (name) => {
    const { mean, standardDeviation, readings } = readSet(name);
    const [count, meanDigits, deviationDigits] = SETS[name] as (typeof SETS)[string];
    expect(readings).toHaveLength(count);
    const ours = repeatability(readings);
    expect(digits(ours.mean, mean)).toBeGreaterThanOrEqual(meanDigits);
    expect(digits(ours.standardDeviation ?? 0, standardDeviation)).toBeGreaterThanOrEqual(deviationDigits);
  });
});
