import fc from "fast-check";
import { mostInjections, type PickupSearch, seekPickup } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { cases, casesWithin, drive, firstTurn, functionAt, methods, said, typed } from "./searches.js";

const over = (pickup: number) => functionAt({ side: "over", pickup, dropout: pickup });
const volts = { from: 1, to: 2, step: 0.25, hold: 0.5 } as const;
const inCoarse = (search: typeof volts, coarseStep: number) =>
  ({ ...search, method: "coarse-then-fine", coarseStep }) as const;

describe("seekPickup", () => {
  test("finds the two neighbouring levels between which a function with memory turns", () => {
    holds(
      fc.property(casesWithin, ({ search, side, out, pickup, threshold }) => {
        const { trials, result } = drive(search, functionAt(threshold));
        const turn = firstTurn(out, (level) => (side === "over" ? level >= pickup : level <= pickup));
        const [quiet, operated] = [typed(turn!.before), typed(turn!.at)];
        expect(result).toMatchObject({
          kind: "found",
          pickup: operated,
          quiet,
          low: Math.min(quiet, operated),
          high: Math.max(quiet, operated),
          injections: trials.length,
        });
      }),
      1000,
    );
  });

  test("takes no more trials than it said", () => {
    holds(
      fc.property(casesWithin, ({ search, threshold }) => {
        expect(drive(search, functionAt(threshold)).trials.length).toBeLessThanOrEqual(mostInjections(search));
      }),
      500,
    );
  });

  test("takes no more trials than it said, whatever it is answered", () => {
    holds(
      fc.property(cases, fc.infiniteStream(fc.boolean()), ({ search }, answers) => {
        const { trials } = drive(search, () => answers.next().value as boolean);
        expect(trials.length).toBeLessThanOrEqual(mostInjections(search));
      }),
      500,
    );
  });

  test("halves in at most ⌈log₂ levels⌉ + 2 trials", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.nat(), (steps, place) => {
        const search = { method: "halving", from: 0, to: steps, step: 1, hold: 1, confirm: 0 } as const;
        const { trials } = drive(search, over(1 + (place % steps)));
        expect(trials.length).toBeLessThanOrEqual(Math.ceil(Math.log2(steps + 1)) + 2);
      }),
    );
  });

  test("asks only for levels of its grid, held as long as asked, and starts from rest", () => {
    holds(
      fc.property(casesWithin, ({ search, out, beyond, threshold }) => {
        const grid = new Set([...out, ...beyond].map(typed));
        const { trials } = drive(search, functionAt(threshold));
        expect(trials.every(({ level, hold }) => grid.has(level) && hold === search.hold)).toBe(true);
        expect(trials[0]).toEqual({ level: search.from, from: "rest", hold: search.hold });
      }),
    );
  });

  test("an under function is the same search downward", () => {
    holds(
      fc.property(casesWithin, ({ search, side, threshold }) => {
        const turned = (level: number) => 0 - level;
        const { dropout } = search;
        const mirrored = {
          ...search,
          from: turned(search.from as number),
          to: turned(search.to as number),
          ...(typeof dropout === "object" && { dropout: { to: turned(dropout.to as number) } }),
        } as PickupSearch;
        const mirror = functionAt({
          side: side === "over" ? "under" : "over",
          pickup: turned(threshold.pickup),
          dropout: turned(threshold.dropout),
        });
        const here = drive(search, functionAt(threshold));
        const there = drive(mirrored, mirror);
        expect(there.trials).toEqual(here.trials.map((trial) => ({ ...trial, level: turned(trial.level) })));
        expect(there.result.kind).toBe(here.result.kind);
      }),
    );
  });

  test("levels of cycles at 60 Hz, which no decimal holds", () => {
    const cycle = fc.integer({ min: 1, max: 30 });
    holds(
      fc.property(fc.constantFrom(...methods), cycle, (method, at) => {
        const search = { method, from: 0, to: 0.5, step: 1 / 60, hold: 1 };
        const { result } = drive(
          (method === "coarse-then-fine" ? { ...search, coarseStep: 5 / 60 } : search) as PickupSearch,
          over(at / 60),
        );
        expect(result).toMatchObject({ pickup: at / 60, quiet: (at - 1) / 60 });
      }),
    );
  });

  test("a hundred thousand levels are walked through", () => {
    const search = { method: "linear", from: 0, to: 99.999, step: 0.001, hold: 0.1 } as const;
    const { result } = drive(search, over(99.999));
    expect(result).toMatchObject({ pickup: 99.999, quiet: 99.998, injections: 100_002 });
  });

  test.each([
    ["linear", { ...volts, method: "linear" }, "1 r, 1.25 p, 1.5 p, 1.75 p, 1.5 r, 1.75 r"],
    ["linear, not confirmed", { ...volts, method: "linear", confirm: 0 }, "1 r, 1.25 p, 1.5 p, 1.75 p"],
    ["linear, confirmed twice", { ...volts, method: "linear", confirm: 2 }, /p, 1.5 r, 1.75 r, 1.5 r, 1.75 r$/],
    ["halving", { ...volts, method: "halving" }, "1 r, 2 r, 1.5 r, 1.75 r, 1.5 r, 1.75 r"],
    ["coarse, then fine", inCoarse(volts, 0.5), "1 r, 1.5 p, 2 p, 1.5 r, 1.75 p, 1.5 r, 1.75 r"],
    ["a short last coarse step", inCoarse(volts, 0.75), "1 r, 1.75 p, 1 r, 1.25 p, 1.5 p, 1.75 p, 1.5 r, 1.75 r"],
    ["a coarse step beyond the end", inCoarse(volts, 9), "1 r, 2 p, 1 r, 1.25 p, 1.5 p, 1.75 p, 1.5 r, 1.75 r"],
  ])("%s", (_, search, expected) => {
    const { trials } = drive(search as PickupSearch, over(1.6));
    if (typeof expected === "string") expect(said(trials)).toBe(expected);
    else expect(said(trials)).toMatch(expected);
  });

  test("the last coarse step is a short one, and the fine ones start where it started", () => {
    const { trials, result } = drive({ ...inCoarse(volts, 0.75), confirm: 0 }, over(1.9));
    expect(said(trials)).toBe("1 r, 1.75 p, 2 p, 1.75 r, 2 p");
    expect(result).toMatchObject({ pickup: 2, quiet: 1.75 });
  });

  test("the shortest search has two levels", () => {
    const two = { from: 4, to: 5, step: 7, hold: 1, confirm: 0 } as const;
    expect(said(drive({ ...two, method: "linear" }, over(4.5)).trials)).toBe("4 r, 5 p");
    expect(said(drive({ ...two, method: "halving" }, over(4.5)).trials)).toBe("4 r, 5 r");
    const coarse = drive({ ...two, method: "coarse-then-fine", coarseStep: 14 }, over(4.5));
    expect(said(coarse.trials)).toBe("4 r, 5 p, 4 r, 5 p");
    expect(coarse.result).toMatchObject({ pickup: 5, quiet: 4, injections: 4 });
  });

  test("text and numbers of the same decimals make the same search", () => {
    const typedIn = { ...volts, from: "1.0", to: "2.00", step: "0.25", coarseStep: "0.50" };
    const asText = drive({ ...typedIn, method: "coarse-then-fine" }, over(1.6));
    expect(asText).toEqual(drive(inCoarse(volts, 0.5), over(1.6)));
  });

  test("a search can be left, and another be run beside it", () => {
    const [one, two] = [seekPickup({ ...volts, method: "linear" }), seekPickup({ ...volts, method: "linear" })];
    one.next();
    one.next(false);
    expect(two.next().value).toMatchObject({ level: 1, from: "rest" });
    expect(one.next(false).value).toMatchObject({ level: 1.5, from: "previous" });
  });
});

describe("mostInjections", () => {
  test("is what the worst function takes", () => {
    const worst = fc.record({
      method: fc.constantFrom(...methods),
      steps: fc.integer({ min: 1, max: 40 }),
      coarseStep: fc.integer({ min: 2, max: 45 }),
      confirm: fc.integer({ min: 0, max: 2 }),
    });
    holds(
      fc.property(worst, ({ method, steps, coarseStep, confirm }) => {
        const coarse = method === "coarse-then-fine" && { coarseStep };
        const search = { method, from: 0, to: steps, step: 1, hold: 1, confirm, ...coarse } as PickupSearch;
        const taken = Array.from({ length: steps }, (_, i) => drive(search, over(i + 1)).trials.length);
        expect(Math.max(...taken)).toBe(mostInjections(search));
      }),
    );
  });

  test.each([
    ["linear", { method: "linear" }],
    ["halving", { method: "halving" }],
    ["coarse-then-fine", { method: "coarse-then-fine", coarseStep: 4 }],
  ] as const)("counts the way back, by %s", (_, how) => {
    const search = { from: 0, to: 12, step: 1, hold: 1, dropout: { to: -4 }, ...how } as PickupSearch;
    const taken = Array.from({ length: 12 }, (_, i) =>
      Array.from({ length: i + 5 }, (_, j) => {
        const worst = functionAt({ side: "over", pickup: i + 1, dropout: i + 1 - j });
        return drive(search, worst).trials.length;
      }),
    );
    expect(Math.max(...taken.flat())).toBe(mostInjections(search));
  });
});
