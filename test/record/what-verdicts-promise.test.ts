/** What a decision rule promises of a bad relay and of a good one, and what must not change a verdict. */
import fc from "fast-check";
import { type Plan, plan, readSheet, type Sheet } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { normalNoise } from "../support/normal-noise.js";
import { bandOf, inverse51, read, sheets, tanneryLane, undervoltage27, usual } from "../support/sheets.js";

const TRIALS = 2000;
const STANDARD = 0.004;
const EXPANDED = 2 * STANDARD;

/** The standard normal distribution function, as printed in tables. */
const PHI = { 2: 0.97725, 4: 0.999968, 6: 0.999999999 } as const;

/** The binomial margin: four standard deviations of the count, which chance alone passes once in 30,000 seeds, and one trial. */
const atLeast = (share: number): number => share * TRIALS - 4 * Math.sqrt(TRIALS * share * (1 - share)) - 1;

describe.each(["simple", "guarded", "three-way"] as const)("under the rule %s", (decisionRule) => {
  const sheet = read([inverse51, undervoltage27], { decisionRule });
  const planned = plan(sheet);

  /** How many of many noisy readings of a relay that is off by a factor come out how. */
  function outcomes(id: string, factor: number): Readonly<Record<"within" | "undecided" | "outside", number>> {
    const check = planned.checks.find((candidate) => candidate.id === id)!;
    const errors = { [check.element]: check.proves === "pickup" ? { pickup: factor } : { time: factor } };
    const truth = rehearsePlan(sheet, { checks: [check] }, { errors })[0]?.value as number;
    const noise = normalNoise(11n);
    const uncertainty = { standard: STANDARD, coverageFactor: 2 };
    const readings = Array.from({ length: TRIALS }, (_, i): Reading => {
      const value = truth + STANDARD * noise();
      return { check: id, stage: "as-found", repeat: i + 1, value, uncertainty };
    });
    const [verdict] = judge(sheet, planned, readings).verdicts.filter((candidate) => candidate.check === id);
    const counts = { within: 0, undecided: 0, outside: 0 };
    if (verdict?.status === "graded") for (const { grade } of verdict.readings) counts[grade.verdict]++;
    return counts;
  }

  // Beyond the limit by twice the expanded uncertainty U = 2u lies 4u away from it: a reading is
  // beyond the limit with Φ(4), beyond the limit less U with Φ(6), beyond the limit and U with Φ(2).
  const promised = { simple: PHI[4], guarded: PHI[6], "three-way": PHI[2] }[decisionRule];
  const ids = ["51P/time@3", "51P/time@7", "51P/pickup", "27/time"];
  const farOut = (id: string, side: "low" | "high", beyond: number) => {
    const band = bandOf(planned.checks.find((check) => check.id === id)!);
    return ((band[side] as number) + (side === "high" ? beyond : -beyond)) / band.nominal;
  };

  test.each(ids)("%s catches a relay beyond its tolerance and twice the expanded uncertainty", (id) => {
    for (const side of ["low", "high"] as const) {
      // A staircase reads up to a step higher than the pickup is: too low by so much less.
      const step = planned.checks.find((check) => check.id === id)?.sweep?.step ?? 0;
      const { outside, within } = outcomes(id, farOut(id, side, 2 * EXPANDED + (side === "low" ? step : 0)));
      expect(outside).toBeGreaterThanOrEqual(atLeast(promised));
      // Never taken for good where the rule has a guard; under the simple one hardly.
      expect(TRIALS - within).toBeGreaterThanOrEqual(atLeast(decisionRule === "simple" ? PHI[4] : PHI[6]));
    }
  });

  test.each(ids.filter((id) => !id.endsWith("pickup")))("%s passes one as far inside", (id) => {
    const passes = { simple: PHI[4], guarded: PHI[2], "three-way": PHI[2] }[decisionRule];
    for (const side of ["low", "high"] as const)
      expect(outcomes(id, farOut(id, side, -2 * EXPANDED)).within).toBeGreaterThanOrEqual(atLeast(passes));
  });
});

describe("verdicts are the same", () => {
  const hundredths = (low: number, high: number) => fc.integer({ min: low * 100, max: high * 100 });
  const scaled = (hundredth: number, ratio: number) => (hundredth * ratio) / 100;

  /** Settings in hundredths at the relay: 400/5 and 11 kV/110 V are whole ratios, so that both ways of typing are exact. */
  const settings = fc.record({
    phase: hundredths(1, 9),
    ground: hundredths(0.1, 2),
    under: hundredths(50, 95),
    blocked: hundredths(5, 30),
    residual: hundredths(5, 40),
    flow: hundredths(0.2, 3),
  });

  type Settings = typeof settings extends fc.Arbitrary<infer S> ? S : never;

  function sheetOf(at: Settings, values: "primary" | "secondary"): Sheet {
    const [ct, vt, groundCt] = values === "primary" ? [80, 100, 100] : [1, 1, 1];
    const elements = [
      { ...inverse51, pickup: `${scaled(at.phase, ct)} A` },
      { ...inverse51, id: "51G", function: "51G", pickup: `${scaled(at.ground, groundCt)} A`, startContact: "start G" },
      { ...undervoltage27, pickup: `${scaled(at.under, vt)} V`, blockBelow: `${scaled(at.blocked, vt)} V` },
      {
        id: "59N",
        function: "59N",
        watches: "3V0",
        pickup: `${scaled(at.residual, vt)} V`,
        delay: "1 s",
        accuracy: usual,
      },
      { id: "46", function: "46", watches: "I2", pickup: `${scaled(at.flow, ct)} A`, delay: "2 s", accuracy: usual },
    ];
    return readSheet(tanneryLane(elements, { values, groundCt: "100/1" }));
  }

  /** A reading somewhere in or around each band, on its limits too. */
  const readingsOf = ({ checks }: Plan, places: readonly number[]): Reading[] =>
    checks.map(({ id, expect: expected }, i) => {
      const key = { check: id, stage: "as-found", repeat: 1 } as const;
      if (expected.form === "stays-quiet") return { ...key, value: i % 2 === 0 ? "never" : "operated" };
      const { nominal, low = 0, high = 2 * nominal } = expected.band;
      return { ...key, value: [low, high, nominal, 0.999 * low, 1.001 * high][places[i % places.length]!]! };
    });
  const places = fc.array(fc.nat(4), { minLength: 7, maxLength: 7 });

  test("whether settings are typed on the primary or the secondary side", () => {
    holds(
      fc.property(settings, places, (at, chosen) => {
        const [primary, secondary] = [sheetOf(at, "primary"), sheetOf(at, "secondary")];
        const readings = readingsOf(plan(secondary), chosen);
        expect(judge(primary, plan(primary), readings).verdicts).toEqual(
          judge(secondary, plan(secondary), readings).verdicts,
        );
      }),
      10,
    );
  });

  test("after sheet, plan and readings were JSON for a while", () => {
    const there = <T>(x: T): T => JSON.parse(JSON.stringify(x));
    holds(
      fc.property(sheets, places, (sheet, chosen) => {
        const planned = plan(sheet);
        const readings = readingsOf(planned, chosen);
        const record = judge(sheet, planned, readings);
        expect(judge(there(sheet), there(planned), there(readings))).toEqual(record);
        expect(there(record)).toEqual(record);
      }),
      15,
    );
  });
});
