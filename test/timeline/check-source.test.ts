import fc from "fast-check";
import { checkInput, checkSource, type Piece, ramp, render, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const moved = (...pieces: Piece[]): Timeline =>
  ramp({ base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } }, pieces, wiring });
const at = (duration: number, from: number, to = from): Piece => ({ duration, from, to });
const told = (timeline: Timeline, limits: Parameters<typeof checkSource>[1]) =>
  checkSource(timeline, limits).exceedances.map(({ limit, at: when, amount, allowed }) => [
    limit,
    when,
    amount,
    allowed,
  ]);

describe("what a source cannot make", () => {
  test.each([
    ["a level on the limit is none", [at(1, 30)], { maximum: 30 }, []],
    ["a level above it", [at(2, 5), at(1, 31)], { maximum: 30 }, [["maximum", 2, 31, 30]]],
    ["a ramp that passes it, when it does", [at(4, 0, 40)], { maximum: 30 }, [["maximum", 3, 40, 30]]],
    ["power into the burden: 20² · 0.5 VA", [at(1, 20)], { burden: 0.5, power: 150 }, [["power", 0, 200, 150]]],
    ["compliance: 20 A · 0.5 Ω", [at(1, 20)], { burden: 0.5, compliance: 9 }, [["compliance", 0, 10, 9]]],
    ["a level between two steps", [at(1, 0.3), at(1, 0.25)], { resolution: 0.1 }, [["resolution", 1, 0.25, 0.3]]],
    [
      "a level that stands too long, through two states",
      [at(1, 5), at(4, 20), at(4, 25), at(1, 0)],
      { duty: [{ above: 10, atMost: 6 }] },
      [["duty", 7, 8, 6]],
    ],
    ["one with a pause between is none", [at(4, 20), at(1, 0), at(4, 25)], { duty: [{ above: 10, atMost: 6 }] }, []],
    [
      "a ramp counts from where it passes the mark",
      [at(10, 0, 20)],
      { duty: [{ above: 10, atMost: 4 }] },
      [["duty", 9, 5, 4]],
    ],
  ])("%s", (_what, pieces, current, expected) => {
    expect(told(moved(...pieces), { current })).toEqual(expected);
  });

  test("harmonics count to the rms value: 3-4-5", () => {
    const timeline: Timeline = {
      wiring,
      segments: [
        { name: "a", duration: 1, channels: { i: { rms: 3, frequency: 50, harmonics: [{ order: 5, rms: 4 }] } } },
      ],
    };
    expect(told(timeline, { current: { maximum: 4.9 } })).toEqual([["maximum", 0, 5, 4.9]]);
  });

  test("frequencies outside its range, and between its steps", () => {
    const swept = ramp({
      base: { i: { rms: 1, frequency: 0 } },
      lever: { i: { frequency: 1 } },
      pieces: [at(10, 50, 40)],
      wiring,
    });
    expect(told(swept, { frequency: { minimum: 45, maximum: 65 } })).toEqual([["frequency", 5, 40, 45]]);
    const still = ramp({
      base: { i: { rms: 1, frequency: 0 } },
      lever: { i: { frequency: 1 } },
      pieces: [at(1, 49.995)],
      wiring,
    });
    expect(told(still, { frequency: { resolution: 0.01 } })).toEqual([["resolution", 0, 49.995, 50]]);
  });

  test("what was not given is not checked, and said so", () => {
    expect(checkSource(moved(at(1, 1e6)), {})).toEqual({
      exceedances: [],
      notChecked: [
        "current.maximum",
        "current.resolution",
        "current.power",
        "current.compliance",
        "current.duty",
        "frequency",
      ],
    });
  });

  test.each([
    [{ current: { maximum: 0 } }, "limits.current.maximum"],
    [{ current: { power: 10 } }, "limits.current.burden"],
    [{ voltage: { duty: [{ above: 1, atMost: 0 }] } }, "limits.voltage.duty[0].atMost"],
    [{ frequency: { maximum: -1 } }, "limits.frequency.maximum"],
    [{ amperes: 3 }, "limits.amperes"],
    [undefined, "limits"],
  ])("%j is refused by name", (limits, path) => {
    expect(problemsOf(() => checkSource(moved(at(1, 1)), limits as never))).toMatchObject([{ path }]);
  });
});

describe("what an input does not stand", () => {
  const rating = { current: { continuous: 20, shortTime: { value: 100, time: 1 } } };
  const heat = (timeline: Timeline) => checkInput(timeline, rating);

  test("the rated current for the rated time is not exceeded, a thousandth more of either is", () => {
    expect(heat(moved(at(1, 100))).exceedances).toEqual([]);
    expect(heat(moved(at(1, 100))).reached).toEqual([{ input: "ia", continuous: 5, shortTime: 1 }]);
    expect(heat(moved(at(1.001, 100))).exceedances).toMatchObject([{ rating: "short-time", input: "ia" }]);
    expect(heat(moved(at(1.001, 100))).exceedances[0]?.at).toBeCloseTo(1, 9);
    expect(heat(moved(at(1, 100.1))).exceedances).toHaveLength(1);
  });

  test("pulses add up, pauses do not cool, and what is carried for ever does not count", () => {
    expect(heat(moved(at(0.6, 100), at(60, 0), at(0.5, 100))).exceedances[0]?.at).toBeCloseTo(61, 9);
    expect(heat(moved(at(1e6, 20))).exceedances).toEqual([]);
  });

  test("a ramp heats by ∫ (a + bt)² dt", () => {
    // From 20 A up to 80 A in 3 s: (80³ − 20³)/(3 · 20) A²s = 8,400.
    expect(heat(moved(at(3, 20, 80))).reached[0]?.shortTime).toBeCloseTo(0.84, 6);
  });

  test("the order of states does not matter, nor how they are cut", () => {
    const piece = fc
      .tuple(fc.double({ min: 0.1, max: 3, noNaN: true }), fc.double({ min: 0, max: 90, noNaN: true }))
      .map(([d, x]) => at(d, x));
    holds(
      fc.property(fc.array(piece, { minLength: 2, maxLength: 5 }), (pieces) => {
        const share = (list: readonly Piece[]) => heat(moved(...list)).reached[0]!.shortTime!;
        expect(share(pieces.toReversed())).toBeCloseTo(share(pieces), 9);
        expect(
          share(
            pieces.flatMap((one) => [
              { ...one, duration: one.duration / 2 },
              { ...one, duration: one.duration / 2 },
            ]),
          ),
        ).toBeCloseTo(share(pieces), 9);
      }),
    );
  });

  test("harmonics, offsets and decaying parts heat as their samples do", () => {
    const timeline: Timeline = {
      wiring,
      segments: [
        {
          name: "a",
          duration: 0.4,
          channels: {
            i: { rms: 30, frequency: 50, harmonics: [{ order: 3, rms: 12 }], decay: { initial: 40, tau: 0.05 } },
          },
        },
      ],
    };
    const samples = render(timeline, { channel: "i", sampleRate: 200_000 });
    const sampled = samples.reduce((sum, x) => sum + x * x, 0) / 200_000;
    const { reached } = checkInput(timeline, { current: { shortTime: { value: 100, time: 1 } } });
    // Over whole cycles the products of different frequencies cancel; those of the decaying part all but.
    expect(reached[0]!.shortTime! * 10_000).toBeCloseTo(sampled, -1);
    expect(Math.abs((reached[0]!.shortTime! * 10_000) / sampled - 1)).toBeLessThan(0.02);
  });

  test("two channels on one input add as phasors", () => {
    const two: Timeline = {
      wiring: { a: { quantity: "current", feeds: { ia: 1 } }, b: { quantity: "current", feeds: { ia: -1 } } },
      segments: [{ name: "x", duration: 1, channels: { a: { rms: 9, frequency: 50 }, b: { rms: 4, frequency: 50 } } }],
    };
    expect(checkInput(two, { current: { continuous: 10 } }).reached[0]?.continuous).toBeCloseTo(0.5, 12);
  });

  test("without a short-time rating the continuous one holds; an input may have its own", () => {
    const { exceedances } = checkInput(moved(at(2, 1), at(4, 0, 8)), {
      current: { continuous: 20 },
      inputs: { ia: { continuous: 2 } },
    });
    expect(exceedances).toMatchObject([{ rating: "continuous", index: 1, amount: 8, allowed: 2 }]);
    expect(exceedances[0]?.at).toBeCloseTo(3, 9);
  });

  test("what was not given is not checked, and said so loudly", () => {
    expect(checkInput(moved(at(1, 500)), {})).toEqual({
      exceedances: [],
      reached: [{ input: "ia" }],
      notChecked: ["ia continuous", "ia short-time"],
    });
  });

  test.each([
    [{ current: { continuous: 0 } }, "ratings.current.continuous"],
    [{ inputs: { ig: { shortTime: { value: 1 } } } }, "ratings.inputs.ig.shortTime.time"],
    [{ voltage: { burden: 1 } }, "ratings.voltage.burden"],
    [{ amperes: 1 }, "ratings.amperes"],
  ])("%j is refused by name", (ratings, path) => {
    expect(problemsOf(() => checkInput(moved(at(1, 1)), ratings as never))).toMatchObject([{ path }]);
  });
});
