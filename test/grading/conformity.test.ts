import fc from "fast-check";
import { acceptanceRisks, conformanceProbability, grade, guardBand, uncertaintyRatio } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const band = { nominal: 0, low: -1, high: 1 };
const readings = fc.integer({ min: -300, max: 300 }).map((n) => n / 100);
const uncertainties = fc.integer({ min: 1, max: 100 }).map((n) => n / 100);

describe("the probability of conformance", () => {
  test("is the same on both sides, falls away from the middle, and is one half on a single limit", () => {
    holds(
      fc.property(readings, uncertainties, (reading, standardUncertainty) => {
        const known = { standardUncertainty };
        const p = conformanceProbability(reading, band, known);
        expect(conformanceProbability(-reading, band, known)).toBeCloseTo(p, 14);
        const farther = reading + Math.sign(reading) * 0.1;
        expect(conformanceProbability(farther, band, known)).toBeLessThanOrEqual(p);
        expect(conformanceProbability(1, { nominal: 0, high: 1 }, known)).toBe(0.5);
      }),
    );
  });

  test("of what is one-sided falls as the reading rises, with degrees of freedom more slowly in the tail", () => {
    holds(
      fc.property(readings, uncertainties, (reading, standardUncertainty) => {
        const limit = { nominal: 0, high: 1 };
        const at = (x: number) => conformanceProbability(x, limit, { standardUncertainty });
        expect(at(reading + 0.01)).toBeLessThanOrEqual(at(reading));
        fc.pre(reading > 1 + 2 * standardUncertainty);
        const few = conformanceProbability(reading, limit, { standardUncertainty, degreesOfFreedom: 4 });
        expect(few).toBeGreaterThan(at(reading));
      }),
    );
  });

  test("without uncertainty is the verdict itself", () => {
    holds(
      fc.property(readings, (reading) => {
        const p = conformanceProbability(reading, band, { standardUncertainty: 0 });
        expect(p).toBe(grade(reading, band).verdict === "within" ? 1 : 0);
      }),
    );
  });

  test("counts angles the short way round", () => {
    const about = { nominal: 179, low: 177, high: 181, period: 360 } as const;
    const known = { standardUncertainty: 1 };
    expect(conformanceProbability(-180, about, known)).toBe(conformanceProbability(180, about, known));
  });
});

describe("a guard band", () => {
  test("leaves the wanted risk at the limit of acceptance", () => {
    holds(
      fc.property(uncertainties, fc.integer({ min: 1, max: 400 }), (u, thousandths) => {
        const known = { standardUncertainty: u / 4 };
        const risk = thousandths / 1000;
        const answer = guardBand({ risk, ...known, band });
        if (answer.kind === "none") return;
        expect(1 - conformanceProbability(1 - answer.width, band, known)).toBeCloseTo(risk, 9);
        const single = guardBand({ risk, ...known });
        expect(answer.width).toBeGreaterThanOrEqual(single.kind === "found" ? single.width - 1e-12 : Number.NaN);
      }),
    );
  });

  test("does not exist where even the middle of the band is too risky", () => {
    expect(guardBand({ risk: 0.05, standardUncertainty: 1, band })).toEqual({ kind: "none", reason: "no-acceptance" });
  });

  test("is refused for a risk that is none", () => {
    expect(problemsOf(() => guardBand({ risk: 0, standardUncertainty: 1 }))).toMatchObject([{ path: "risk" }]);
    expect(problemsOf(() => guardBand({ risk: 1, standardUncertainty: 1 }))).toMatchObject([{ path: "risk" }]);
    expect(problemsOf(() => guardBand({ risk: 0.1, standardUncertainty: 0 }))).toMatchObject([
      { path: "standardUncertainty" },
    ]);
  });
});

describe("the risks of acceptance", () => {
  const process = { mean: 0.1, standardDeviation: 0.6 };

  test("add up: what is accepted is what is good and accepted, and what is bad and accepted", () => {
    holds(
      fc.property(uncertainties, fc.integer({ min: -30, max: 60 }), (u, hundredths) => {
        const guard = hundredths / 100;
        const risks = acceptanceRisks({ band, process, standardUncertainty: u, guard });
        const { consumer, producer, accepted, conforming } = risks;
        expect(conforming - producer + consumer).toBeCloseTo(accepted, 12);
        // A reading spreads by process and uncertainty together.
        const spread = Math.hypot(process.standardDeviation, u);
        const reading = { nominal: 0, low: -1 + guard, high: 1 - guard };
        expect(accepted).toBeCloseTo(
          conformanceProbability(process.mean, reading, { standardUncertainty: spread }),
          11,
        );
      }),
      60,
    );
  });

  test("move against each other with the guard", () => {
    const at = (guard: number) => acceptanceRisks({ band, process, standardUncertainty: 0.2, guard });
    const guards = [-0.2, -0.1, 0, 0.1, 0.2, 0.4].map(at);
    for (const [i, risks] of guards.slice(1).entries()) {
      expect(risks.consumer).toBeLessThan(guards[i]!.consumer);
      expect(risks.producer).toBeGreaterThan(guards[i]!.producer);
    }
  });

  test("vanish with the uncertainty, and nobody is accepted between limits that have crossed", () => {
    const sure = acceptanceRisks({ band, process, standardUncertainty: 0 });
    expect([sure.consumer, sure.producer]).toEqual([0, expect.closeTo(0, 12)]);
    const none = acceptanceRisks({ band, process, standardUncertainty: 0.1, guard: 1.5 });
    expect([none.accepted, none.consumerOfAccepted]).toEqual([0, undefined]);
  });

  test("agree with a simulation", () => {
    const count = 200_000;
    let state = 12_345;
    const uniform = () => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return (state + 0.5) / 2 ** 32;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    let [bad, lost] = [0, 0];
    for (let i = 0; i < count; i++) {
      const item = process.mean + process.standardDeviation * normal();
      const accepted = Math.abs(item + 0.2 * normal()) <= 0.9;
      if (accepted && Math.abs(item) > 1) bad++;
      if (!accepted && Math.abs(item) <= 1) lost++;
    }
    const risks = acceptanceRisks({ band, process, standardUncertainty: 0.2, guard: 0.1 });
    // Five standard deviations of a count.
    expect(Math.abs(bad / count - risks.consumer)).toBeLessThan(5 * Math.sqrt(risks.consumer / count));
    expect(Math.abs(lost / count - risks.producer)).toBeLessThan(5 * Math.sqrt(risks.producer / count));
  });

  test("are refused without a spread, and for angles", () => {
    const ask = (more: object) =>
      problemsOf(() => acceptanceRisks({ band, process, standardUncertainty: 0.1, ...more }));
    expect(ask({ process: { mean: 0, standardDeviation: 0 } })).toMatchObject([{ path: "process.standardDeviation" }]);
    expect(ask({ band: { ...band, period: 360 } })).toMatchObject([{ path: "band.period" }]);
    expect(ask({ guarded: 1 })).toMatchObject([{ code: "unknown-key" }]);
    expect(ask({ process: null })).toMatchObject([{ path: "process" }]);
  });
});

describe("the uncertainty ratio", () => {
  test("is four where the tolerance is four times the expanded uncertainty, one-sided too", () => {
    expect(uncertaintyRatio(band, { expandedUncertainty: 0.25 })).toBe(4);
    expect(uncertaintyRatio({ nominal: 0, high: 1 }, { expandedUncertainty: 0.25 })).toBe(4);
    expect(problemsOf(() => uncertaintyRatio({ nominal: 0 }, { expandedUncertainty: 1 }))).toMatchObject([
      { path: "high" },
    ]);
  });
});
