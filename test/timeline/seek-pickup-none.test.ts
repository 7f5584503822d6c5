import fc from "fast-check";
import type { Trial } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { cases, drive, functionAt, methods, said, tenToTwenty, typed } from "./searches.js";

describe("seekPickup without a pickup", () => {
  test("a function that operates at the quiet end: one trial says so", () => {
    holds(
      fc.property(cases, fc.nat({ max: 1000 }), ({ search, side, out }, before) => {
        const pickup = typed((out[0] as number) - (side === "over" ? before : -before));
        const { result, trials } = drive(search, functionAt({ side, pickup, dropout: pickup }));
        expect(result).toEqual({ kind: "none", reason: "operated-at-rest" });
        expect(trials).toHaveLength(1);
      }),
    );
  });

  test("a function that does not operate at the other end either", () => {
    holds(
      fc.property(cases, fc.integer({ min: 1, max: 1000 }), ({ search, side, out }, behind) => {
        const pickup = typed((out.at(-1) as number) + (side === "over" ? behind : -behind));
        const { result, trials } = drive(search, functionAt({ side, pickup, dropout: pickup }));
        expect(result).toEqual({ kind: "none", reason: "never-operated" });
        expect(trials.at(-1)?.level).toBe(search.to);
      }),
    );
  });

  test("halving knows after two trials", () => {
    expect(drive(tenToTwenty("halving"), () => false).trials).toHaveLength(2);
  });

  test("a function that scatters by more than the step: a bracket within the scatter, or not repeatable", () => {
    const steps = fc.integer({ min: 1, max: 5 });
    const noise = fc.infiniteStream(fc.double({ min: -1, max: 1, noNaN: true }));
    const kinds = new Set<string>();
    holds(
      fc.property(
        fc.constantFrom(...methods),
        steps,
        fc.integer({ min: 20, max: 80 }),
        fc.constantFrom(0, 1),
        noise,
        (method, scatter, pickup, confirm, at) => {
          const whole = tenToTwenty(method, { from: 0, to: 100, dropout: true, confirm });
          const { result } = drive(whole, ({ level }) => level >= pickup + scatter * (at.next().value as number));
          kinds.add(result.kind === "found" ? "found" : result.reason);
          if (result.kind === "none") {
            expect(result.reason).toBe("not-repeatable");
          } else {
            expect(result.quiet).toBeLessThan(pickup + scatter);
            expect(result.pickup).toBeGreaterThanOrEqual(pickup - scatter);
            expect(result.high - result.low).toBe(1);
          }
        },
      ),
      300,
    );
    expect(kinds).toEqual(new Set(["found", "not-repeatable"]));
  });

  test.each([
    // The last trial of each list is answered against what was seen before.
    ["linear", "10 r, 11 p, 12 p, 13 p, 12 r"],
    ["linear", "10 r, 11 p, 12 p, 13 p, 12 r, 13 r"],
    ["halving", "10 r, 20 r, 15 r, 12 r, 13 r, 12 r"],
    ["halving", "10 r, 20 r, 15 r, 12 r, 13 r, 12 r, 13 r"],
    ["coarse-then-fine", "10 r, 14 p, 10 r"],
    ["coarse-then-fine", "10 r, 14 p, 10 r, 11 p, 12 p, 13 p, 12 r"],
    ["coarse-then-fine", "10 r, 14 p, 10 r, 11 p, 12 p, 13 p, 12 r, 13 r"],
  ] as const)("a level that gives two answers is not repeatable: %s, %s", (method, until) => {
    const respond = functionAt({ side: "over", pickup: 12.5, dropout: 11 });
    const asked: Trial[] = [];
    const { result } = drive(tenToTwenty(method), (trial) => {
      asked.push(trial);
      return respond(trial) !== (said(asked) === until);
    });
    expect(said(asked)).toBe(until);
    expect(result).toEqual({ kind: "none", reason: "not-repeatable" });
  });

  test("a coarse level at which it operated, and fine steps up to it at which it does not", () => {
    const asked: Trial[] = [];
    const { result } = drive(tenToTwenty("coarse-then-fine"), (trial) => asked.push(trial) === 2);
    expect(said(asked)).toBe("10 r, 14 p, 10 r, 11 p, 12 p, 13 p, 14 p");
    expect(result).toEqual({ kind: "none", reason: "not-repeatable" });
  });

  test("the last of several confirmations counts as much as the first", () => {
    const asked: Trial[] = [];
    const { result } = drive(tenToTwenty("halving", { confirm: 3 }), (trial) => {
      asked.push(trial);
      return trial.level >= 13 && asked.length < 11;
    });
    expect(said(asked)).toBe("10 r, 20 r, 15 r, 12 r, 13 r, 12 r, 13 r, 12 r, 13 r, 12 r, 13 r");
    expect(result).toEqual({ kind: "none", reason: "not-repeatable" });
  });
});
