import fc from "fast-check";
import {
  type ChannelState,
  checkInput,
  type InputRatings,
  render,
  type Segment,
  type Timeline,
} from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { hundredths, milliseconds } from "./phases.js";
import { allSegments, cut, D, evenSegments, held, sequence, state } from "./sources.js";

type Rating = NonNullable<InputRatings["current"]>;
const check = (timeline: Timeline, current: Rating) => checkInput(timeline, { current });
const reached = (timeline: Timeline, current: Rating, name = "shortTime") =>
  check(timeline, current).reached.find((one) => one.rating === name)!;
const once = (timeline: Timeline, current: Rating) => {
  const { exceedances } = check(timeline, current);
  expect(exceedances).toHaveLength(1);
  return exceedances[0]!;
};
/** Common for 5 A inputs: 4 × rated for ever, 100 × rated for 1 s; common practice. */
const shortTime = { value: 500, time: 1 } as const;

/**
 * What ∫ x² dt may hold beyond the squares: products of parts of different frequency, integrated by parts over cycles of
 * 50 Hz or more, each at most its size at both ends and its change over ω; and the half samples at the ends.
 */
function crossProducts(channels: readonly Partial<ChannelState>[], duration: number): number {
  let [alternating, direct] = [0, 0];
  for (const { rms = 0, slope, harmonics = [], offset = 0, decay } of channels) {
    alternating += Math.max(rms, rms + (slope?.rms ?? 0) * duration);
    for (const one of harmonics) alternating += one.rms;
    direct += Math.abs(offset) + Math.abs(decay?.initial ?? 0);
  }
  const omega = 100 * Math.PI;
  const crest = Math.SQRT2 * alternating + direct;
  return (4 * Math.SQRT2 * alternating * direct + 4 * alternating ** 2) / omega + crest ** 2 / 8000;
}

describe("a short-time rating", () => {
  test("is just used up by its value for its time, in whatever pieces", () => {
    const pieces = fc.array(
      fc.tuple(
        milliseconds(1, 900),
        fc.integer({ min: 1, max: 6000 }).map((n) => n / 10),
      ),
      {
        minLength: 1,
        maxLength: 8,
      },
    );
    holds(
      fc.property(pieces, (list) => {
        const energy = list.reduce((sum, [t, rms]) => sum.plus(new D(rms).pow(2).times(t)), new D(0));
        // The time for which 100 A stand for the same energy: a decimal of nine digits at most.
        const rating = { shortTime: { value: 100, time: energy.div(10_000).toFixed() } };
        const { exceedances, reached: all } = check(held(...list), rating);
        expect(exceedances).toEqual([]);
        expect(all[0]!.share).toBe(1);
        const less = { shortTime: { value: 100, time: energy.div(10_000).minus("1e-12").toFixed() } };
        expect(check(held(...list), less).exceedances).toHaveLength(1);
      }),
      100,
    );
  });

  test("by hand: 300 A for 4 s after 5 A of pre-fault, against 500 A for 1 s", () => {
    const timeline = held([2, 5], [4, 300]);
    const one = once(timeline, { continuous: 20, shortTime });
    // 90,000 A² use up 250,000 A²s in 2.777… s; in 4 s they make 360,000 A²s.
    expect(one).toMatchObject({
      input: "ia",
      rating: "shortTime",
      index: 1,
      amount: 360_000,
      allowed: 250_000,
      unit: "A²s",
      share: 1.44,
    });
    expect(one.at).toBe(2 + 25 / 9);
    expect(one.lasts).toBe(4 - 25 / 9);
    // Without a continuous rating all heat counts: 25 A² for 2 s more.
    expect(reached(timeline, { shortTime }).amount).toBe(360_050);
  });

  test("counts nothing at or below the continuous rating, however long", () => {
    const rating = { continuous: 20, shortTime };
    expect(reached(held([10_800, 20]), rating)).toMatchObject({ amount: 0, share: 0 });
    expect(reached(held([10_800, 20.01], [1, 20]), rating).amount).toBe(new D("20.01").pow(2).times(10_800).toNumber());
    // A ramp counts from where it passes it: ∫ (10 t)² dt from 2 s to 3 s = 1900/3.
    expect(
      ulps(reached(sequence(state(3, { rms: 0, slope: { rms: 10 } })), rating).amount, 1900 / 3),
    ).toBeLessThanOrEqual(0);
  });

  test("is passed where the heat since the continuous rating says, along a ramp that begins below it", () => {
    // ∫ (10 t)² dt from 2 s to 2.5 s = 100/3 · (15.625 − 8) = 254.1666…, which is 20² for 0.635416… s.
    const rating = { continuous: 20, shortTime: { value: 20, time: new D("15.625").minus(8).div(12).toFixed() } };
    expect(ulps(once(sequence(state(3, { rms: 0, slope: { rms: 10 } })), rating).at, 2.5)).toBeLessThanOrEqual(1);
  });

  test("half the time of a quarter: twice the current is permitted a quarter of the time", () => {
    const levels = fc.tuple(hundredths(30, 400), hundredths(30, 400), milliseconds(1, 500));
    holds(
      fc.property(levels, ([first, second, duration]) => {
        const rating = { shortTime };
        const single = once(held([duration, first], [10_000, second]), rating).at;
        const double = once(held([duration / 4, 2 * first], [10_000, 2 * second]), rating).at;
        expect(ulps(double, single / 4)).toBeLessThanOrEqual(1);
      }),
      100,
    );
  });

  test("asks not for the order of states", () => {
    holds(
      fc.property(evenSegments, (segments) => {
        const amount = (list: readonly Segment[]) => reached(sequence(...list), { continuous: 15, shortTime })?.amount;
        const turned = amount([...segments].reverse());
        if (turned === undefined) expect(amount(segments)).toBeUndefined();
        else expect(ulps(turned, amount(segments)!)).toBeLessThanOrEqual(0);
      }),
      60,
    );
  });

  test("is ∫ (a + b · t)² dt along ramps, and is passed where that says", () => {
    const ramps = fc.record({
      rms: hundredths(0, 50),
      rate: hundredths(-20, 60).filter((x) => x !== 0),
      duration: milliseconds(1, 5000),
    });
    holds(
      fc.property(ramps, fc.integer({ min: 1, max: 99 }), ({ rms, rate, duration }, percent) => {
        fc.pre(rms + rate * duration >= 0);
        const energy = (t: number) => {
          const end = new D(rate).times(t).plus(rms);
          return end.pow(3).minus(new D(rms).pow(3)).div(new D(rate).times(3));
        };
        const timeline = sequence(state(duration, { rms, slope: { rms: rate } }));
        expect(ulps(reached(timeline, { shortTime }).amount, energy(duration).toNumber())).toBeLessThanOrEqual(1);
        const part = energy((duration * percent) / 100);
        fc.pre(part.gt(1e-6));
        const { at: from } = once(timeline, { shortTime: { value: 1, time: part.toFixed() } });
        expect(energy(from).div(part).minus(1).abs().toNumber()).toBeLessThan(1e-14);
      }),
      60,
    );
  });

  // m of the thermal equivalent current, IEC 60909-0: ∫ i² dt = I² · Tk · (m + n), n = 1 far from generators; the values
  // from a general power-system analysis library, with more digits by its formula.
  test.each([
    [1.5, 50, 0.5, 0.02885390081777927],
    [1.95, 60, 0.1, 1.1502656505672952],
    [1.2, 50, 3, 0.002071116448532039],
  ])("counts the heat of a decaying part: κ = %d at %d Hz for %d s", (kappa, frequency, time, m) => {
    const tau = -1 / (2 * frequency * Math.log(kappa - 1));
    const fault = state(time, { rms: 100, frequency, decay: { initial: 100 * Math.SQRT2, tau } });
    const { amount } = reached(sequence(fault), { shortTime });
    expect(Math.abs(amount / (10_000 * time) - 1 - m)).toBeLessThan(1e-13 * (1 + m));
  });

  test("is what samples squared add up to, with harmonics, offset, decay and ramp", () => {
    const given = fc.record({
      rms: hundredths(1, 100),
      slope: fc.record({ rms: hundredths(0, 20) }),
      offset: hundredths(-20, 20),
      angle: hundredths(-180, 180),
      decay: fc.record({ initial: hundredths(-100, 100), tau: milliseconds(200, 900) }),
      harmonics: fc.constantFrom(
        [{ order: 3, rms: 20 }],
        [
          { order: 2, rms: 10, angle: 30 },
          { order: 7, rms: 15 },
        ],
      ),
    });
    holds(
      fc.property(given, (i: Partial<ChannelState>) => {
        const timeline = sequence(state(2, i));
        const samples = render(timeline, { channel: "i", sampleRate: 4000 });
        const sum = samples.reduce((total, x) => total + x * x, 0) / 4000;
        const { amount } = reached(timeline, { shortTime });
        expect(Math.abs(amount - sum)).toBeLessThanOrEqual(crossProducts([i], 2));
      }),
      60,
    );
    const still = sequence(state(2, { rms: 10, offset: 3, harmonics: [{ order: 3, rms: 4 }] }));
    const samples = render(still, { channel: "i", sampleRate: 4000 });
    const sum = samples.reduce((total, x) => total + x * x, 0) / 4000;
    expect(Math.abs(reached(still, { shortTime }).amount - sum)).toBeLessThan(1e-9 * sum);
  });

  test("is passed at the instant at which the heat is there, with whatever decays", () => {
    const fault = state(3, { rms: 40, slope: { rms: 5 }, offset: 2, decay: { initial: 50, tau: 0.3 } });
    const { at: from } = once(sequence(fault), { shortTime: { value: 100, time: 0.5 } });
    // ∫ (40 + 5t)² + (2 + 50 · e)² dt with e = exp(−t/0.3), term by term.
    const e = new D(from).div("0.3").neg().exp();
    const alternating = new D(from).times(5).plus(40).pow(3).minus(64_000).div(15);
    const direct = new D(from)
      .times(4)
      .plus(new D(1).minus(e).times(60))
      .plus(new D(1).minus(e.pow(2)).times(375));
    expect(alternating.plus(direct).div(5000).minus(1).abs().toNumber()).toBeLessThan(1e-14);
  });
});

describe("a time constant", () => {
  const rating = { continuous: 20, tau: 60 } as const;

  test("permits a steady current tau · ln(I²/(I² − continuous²))", () => {
    holds(
      fc.property(hundredths(21, 500), hundredths(1, 900), (rms, tau) => {
        const expected = new D(rms).pow(2).div(new D(rms).pow(2).minus(400)).ln().times(tau).toNumber();
        const timeline = held([2 * expected, rms]);
        const { at: from, unit, rating: name } = once(timeline, { ...rating, tau });
        expect(ulps(from, expected)).toBeLessThanOrEqual(8);
        expect([name, unit]).toEqual(["heating", "A²"]);
      }),
      12,
    );
  });

  test("is not exceeded by the rating itself: for ever, or for its time from cold in any pieces", () => {
    expect(check(held([1e6, 20]), rating).exceedances).toEqual([]);
    expect(reached(held([1e6, 20]), rating, "heating").share).toBe(1);
    const short = { shortTime, tau: 60 };
    holds(
      fc.property(fc.array(fc.integer({ min: 1, max: 999 }), { maxLength: 4 }), (cuts) => {
        const ends = [...new Set(cuts), 1000].sort((a, b) => a - b);
        const pieces = ends.map((end, n) => [(end - (ends[n - 1] ?? 0)) / 1000, 500] as const);
        expect(check(held(...pieces), short).exceedances).toEqual([]);
        expect(check(held(...pieces, [0.001, 500]), short).exceedances).toHaveLength(1);
      }),
      15,
    );
  });

  test("cools at rest: heat · exp(−t/tau)", () => {
    const rest = hundredths(1, 200);
    holds(
      fc.property(rest, (pause) => {
        // 1600 A² · (1 − exp(−10/60)) heats to 245.6 A²; a second pulse adds the same to what is left.
        const pulse = new D(-10).div(60).exp();
        const once40 = new D(1600).times(new D(1).minus(pulse));
        const twice = once40.times(new D(-pause).div(60).exp()).times(pulse).plus(once40);
        const { amount } = reached(held([10, 40], [pause, 0], [10, 40]), rating, "heating");
        expect(ulps(amount, twice.toNumber())).toBeLessThanOrEqual(1);
        expect(check(held([10, 40], [pause, 0], [10, 40]), rating).exceedances).toHaveLength(twice.gt(400) ? 1 : 0);
      }),
      12,
    );
  });

  test("of a day is no cooling at all, and one of a moment is the current itself", () => {
    const timeline = sequence(state(2, { rms: 30, slope: { rms: 10 } }), state(1, { rms: 10 }));
    const slow = reached(timeline, { continuous: 20, tau: 1e9 }, "heating").amount;
    const energy = reached(timeline, { shortTime }).amount;
    expect(Math.abs((slow * 1e9) / energy - 1)).toBeLessThan(1e-8);
    expect(reached(timeline, { continuous: 20, tau: 1e-6 }, "heating").amount).toBeCloseTo(2500, 1);
  });

  test("follows ramps and decays as its equation does, step by step", () => {
    holds(
      fc.property(allSegments, milliseconds(50, 5000), (segments, tau) => {
        // Runge–Kutta on heat′ = (x² − heat)/tau.
        let [heat, highest] = [0, 0];
        for (const segment of segments) {
          const steps = 2000;
          const h = segment.duration / steps;
          const squares = Array.from({ length: 2 * steps + 1 }, (_, n) => squareDouble(segment, (n * h) / 2));
          for (let n = 0; n < steps; n++) {
            const slope = (half: number, y: number) => (squares[2 * n + half]! - y) / tau;
            const a = slope(0, heat);
            const b = slope(1, heat + (a * h) / 2);
            const c = slope(1, heat + (b * h) / 2);
            heat += (h * (a + 2 * b + 2 * c + slope(2, heat + h * c))) / 6;
            highest = Math.max(highest, heat);
          }
        }
        const told = reached(sequence(...segments), { continuous: 1, tau }, "heating");
        if (told === undefined) expect(highest).toBe(0);
        else expect(Math.abs(told.amount - highest)).toBeLessThanOrEqual(1e-4 * highest + 1e-9);
      }),
      6,
    );
  });

  test("tells each time that it is too hot", () => {
    const timeline = held([30, 40], [600, 0], [30, 40]);
    const { exceedances } = check(timeline, rating);
    const hot = 60 * Math.log(1600 / 1200);
    expect(exceedances.map(({ index }) => index)).toEqual([0, 2]);
    expect(ulps(exceedances[0]!.at, hot)).toBeLessThanOrEqual(4);
    // It cools from 1600 · (1 − exp(−1/2)) A² to 400 A² through the rest, and is beyond for as long.
    const cooling = 60 * Math.log(4 * (1 - Math.exp(-0.5)));
    expect(ulps(exceedances[0]!.lasts, 30 - hot + cooling)).toBeLessThanOrEqual(8);
    // The limit is that of the higher of both ratings: 500² · (1 − exp(−1/600)) is 416 A², more than 20².
    const higher = reached(timeline, { continuous: 20, shortTime, tau: 600 }, "heating").allowed;
    expect(ulps(higher, -250_000 * Math.expm1(-1 / 600))).toBeLessThanOrEqual(4);
    expect(reached(timeline, { continuous: 21, shortTime, tau: 600 }, "heating").allowed).toBe(441);
  });
});

const squareDouble = ({ channels: { i } }: Segment, t: number): number => {
  if (i === undefined) return 0;
  const direct = (i.offset ?? 0) + (i.decay ? i.decay.initial * Math.exp(-t / i.decay.tau) : 0);
  const others = (i.harmonics ?? []).reduce((sum, { rms }) => sum + rms * rms, direct * direct);
  return (i.rms + (i.slope?.rms ?? 0) * t) ** 2 + others;
};

describe("a state cut in two", () => {
  test("is the same state", () => {
    const ratings: Rating[] = [
      { continuous: 15.13, shortTime: { value: 20, time: 1 }, peak: 31.3 },
      { continuous: 15.13, tau: 0.7 },
      { continuous: 15.13 },
    ];
    holds(
      fc.property(
        evenSegments,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom(...ratings),
        (segments, share, rating) => {
          const [plain, halved] = [
            check(sequence(...segments), rating),
            check(sequence(...cut(segments, share)), rating),
          ];
          for (const part of ["exceedances", "reached"] as const) {
            expect(halved[part].map(({ rating: name }) => name)).toEqual(plain[part].map(({ rating: name }) => name));
            for (const [n, one] of plain[part].entries()) {
              for (const name of ["at", "lasts", "amount", "share"]) {
                const [a, b] = [halved[part][n], one].map(
                  (it) => (it as unknown as Record<string, number>)[name] ?? 0,
                ) as [number, number];
                expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-11 * Math.max(1, Math.abs(b)));
              }
            }
          }
        },
      ),
      30,
    );
  });
});

describe("the continuous rating", () => {
  test("alone is a limit of rms, and is told beside the others", () => {
    expect(once(held([1, 5], [2, 21]), { continuous: 20 })).toMatchObject({
      rating: "continuous",
      at: 1,
      lasts: 2,
      amount: 21,
      allowed: 20,
      unit: "A",
      share: 1.05,
    });
    expect(check(held([9, 20]), { continuous: 20 }).exceedances).toEqual([]);
    const { exceedances, reached: all } = check(held([1, 100]), { continuous: 20, shortTime });
    expect(exceedances).toEqual([]);
    expect(all).toEqual([
      { input: "ia", rating: "continuous", amount: 100, allowed: 20, unit: "A", share: 5 },
      { input: "ia", rating: "shortTime", amount: 10_000, allowed: 250_000, unit: "A²s", share: 0.04 },
    ]);
  });

  test("of a voltage: twice 110 V for 10 s", () => {
    // 2 × rated for 10 s: common practice.
    const voltage = { continuous: 132, shortTime: { value: 220, time: 10 } };
    const at = (duration: number): Timeline =>
      sequence({ name: "high", duration, channels: { v: { rms: 220, frequency: 50 } } });
    expect(checkInput(at(10), { voltage }).exceedances).toEqual([]);
    expect(checkInput(at(10.001), { voltage }).exceedances).toMatchObject([{ input: "va", unit: "V²s", at: 10 }]);
  });
});

describe("the peak rating", () => {
  test("is that of the first crest: √2 · rms and the d.c. component", () => {
    const fault = sequence(state(1, { rms: 100, decay: { initial: -120, tau: 0.05 } }));
    const { amount, at: from } = once(fault, { peak: 200 });
    expect(ulps(amount, 100 * Math.SQRT2 + 120)).toBeLessThanOrEqual(1);
    expect(from).toBe(0);
    expect(check(held([1, 100]), { peak: 100 * Math.SQRT2 }).exceedances).toEqual([]);
  });
});

const scaledBy = (i: ChannelState, factor: number): ChannelState => ({
  ...i,
  rms: Math.abs(factor) * i.rms,
  slope: { rms: Math.abs(factor) * (i.slope?.rms ?? 0) },
  harmonics: (i.harmonics ?? []).map((one) => ({ ...one, rms: Math.abs(factor) * one.rms })),
});

/** ∫ of the square of both channels together and apart, and their highest value, from samples. */
function sampled(timeline: Timeline, [a, b]: readonly [number, number]) {
  const [one, two] = ["i1", "i2"].map((channel) => render(timeline, { channel, sampleRate: 4000 })) as [
    Float64Array,
    Float64Array,
  ];
  const both = one.map((x, n) => a * x + b * two[n]!);
  const energy = (x: Float64Array) => x.reduce((sum, value) => sum + value * value, 0) / 4000;
  return {
    sum: energy(both),
    apart: a * a * energy(one) + b * b * energy(two),
    crest: both.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
  };
}

describe("what an input sees", () => {
  const feeding = (a: number, b: number): Timeline["wiring"] => ({
    i1: { quantity: "current", feeds: { ia: a, ib: 0 } },
    i2: { quantity: "current", feeds: { ia: b } },
  });
  const both = (i1: ChannelState, i2: ChannelState, factors: readonly [number, number] = [1, 1]): Timeline => ({
    wiring: feeding(...factors),
    segments: [{ name: "both", duration: 1, channels: { i1, i2 } }],
  });
  const at = (rms: number, angle = 0, frequency = 50): ChannelState => ({ rms, angle, frequency });
  const rms = (timeline: Timeline) => reached(timeline, { continuous: 20 }, "continuous").amount;

  test.each([
    ["in step they add", both(at(10), at(10)), 20],
    ["against one another they do not", both(at(10), at(10, 180)), 0],
    ["reversed by a factor", both(at(10), at(10), [1, -1]), 0],
    ["a third of a turn apart: √3 of the difference", both(at(10), at(10, -120), [1, -1]), 10 * Math.sqrt(3)],
    ["a quarter apart: 3-4-5", both(at(3), at(4, 90)), 5],
    ["of different frequency: in squares", both(at(3), at(4, 0, 51)), 5],
    ["by their factors", both(at(6), at(2), [0.5, 2]), 7],
    ["d.c. components add", both({ ...at(0), offset: 2 }, { ...at(0), offset: 3 }), 5],
    [
      "a harmonic and a fundamental of one frequency",
      both({ ...at(0), harmonics: [{ order: 2, rms: 3 }] }, at(4, 0, 100)),
      7,
    ],
  ])("%s", (_what, timeline, expected) => {
    expect(Math.abs(rms(timeline) - expected)).toBeLessThanOrEqual(4e-15 * 20);
    expect(checkInput(timeline, { current: { continuous: 20 } }).exceedances).toEqual([]);
  });

  test("is never told of an input that nothing drives", () => {
    expect(checkInput(both(at(1), at(1)), { current: { continuous: 20 } }).reached.map(({ input }) => input)).toEqual([
      "ia",
    ]);
    expect(checkInput(both(at(1), at(1)), {}).notChecked).toEqual(["inputs.ia.continuous", "inputs.ia.shortTime"]);
    expect(checkInput(both(at(0), at(0)), {})).toEqual({ exceedances: [], reached: [], notChecked: [] });
  });

  test("remembers what the frequency was: half a second at 51 Hz turns a channel by half a cycle", () => {
    const timeline = both(at(10), at(10));
    const before = { name: "before", duration: 0.5, channels: { i1: at(1), i2: at(1, 0, 51) } };
    const { amount } = reached(
      { ...timeline, segments: [...timeline.segments, before, ...timeline.segments] },
      { shortTime },
    );
    // 20² for a second, 1 + 1 for half a second, and then nothing.
    expect(amount).toBeCloseTo(401, 10);
  });

  test("turns even harmonics by whole cycles where it turns the fundamental by half a cycle", () => {
    const second = { ...at(0), harmonics: [{ order: 2, rms: 3 }] };
    const before = { name: "before", duration: 0.5, channels: { i1: at(1), i2: at(1, 0, 51) } };
    const timeline = { ...both(second, second), segments: [before, ...both(second, second).segments] };
    expect(reached(timeline, { continuous: 20 }, "continuous").amount).toBeCloseTo(6, 12);
  });

  test("takes an angle that moves for the frequency that it is: 360 degrees a second are 1 Hz", () => {
    const moving = { ...at(3), slope: { angle: 360 } };
    expect(rms(both(moving, at(4)))).toBe(5);
    expect(rms(both(moving, at(4, 0, 51)))).toBe(7);
  });

  const standing = fc.record({
    rms: hundredths(1, 20),
    frequency: fc.constantFrom(50, 60),
    angle: hundredths(-180, 180),
    harmonics: fc.constantFrom([{ order: 5, rms: 3, angle: 20 }], [{ order: 6, rms: 2 }]),
  });
  const factors = fc.tuple(fc.constantFrom(1, -1, 0.5), fc.constantFrom(1, -2, 0.25));

  test("is what the samples of both channels say together, over whole beats", () => {
    holds(
      fc.property(standing, standing, standing, factors, (first, i1, i2, [a, b]) => {
        const timeline = {
          wiring: feeding(a, b),
          segments: [
            { name: "before", duration: 0.3, channels: { i1: first } },
            { name: "both", duration: 1, channels: { i1, i2 } },
          ],
        };
        const { sum, apart, crest } = sampled(timeline, [a, b]);
        expect(Math.abs(reached(timeline, { shortTime }).amount - sum)).toBeLessThanOrEqual(1e-9 * apart);
        expect(crest).toBeLessThanOrEqual(reached(timeline, { peak: 100 }, "peak").amount * (1 + 1e-12));
      }),
      25,
    );
  });

  test("is what they say along ramps, but for what is left of a cycle", () => {
    const moving = fc.tuple(standing, hundredths(-1, 9)).map(([i, rms]) => ({ ...i, frequency: 50, slope: { rms } }));
    holds(
      fc.property(moving, moving, factors, (i1, i2, [a, b]) => {
        const timeline = { wiring: feeding(a, b), segments: [{ name: "both", duration: 1, channels: { i1, i2 } }] };
        const { sum, crest } = sampled(timeline, [a, b]);
        const rest = crossProducts([scaledBy(i1, a), scaledBy(i2, b)], 1);
        expect(Math.abs(reached(timeline, { shortTime }).amount - sum)).toBeLessThanOrEqual(rest);
        expect(crest).toBeLessThanOrEqual(reached(timeline, { peak: 100 }, "peak").amount * (1 + 1e-12));
      }),
      25,
    );
  });
});

describe("ratings", () => {
  const two: Timeline = {
    wiring: { i: { quantity: "current", feeds: { ia: 1, in: 0.1 } }, v: { quantity: "voltage", feeds: { va: 1 } } },
    segments: [{ name: "a", duration: 1, channels: { i: { rms: 30, frequency: 50 }, v: { rms: 100, frequency: 50 } } }],
  };

  test("of an input stand in place of those of its quantity, one by one", () => {
    const rating = {
      current: { continuous: 40, peak: 100 },
      inputs: { in: { continuous: 1 }, other: { continuous: 1 } },
    };
    const { exceedances, reached: all, notChecked } = checkInput(two, rating);
    expect(exceedances).toMatchObject([{ input: "in", rating: "continuous", amount: 3, allowed: 1, share: 3 }]);
    expect(all.map(({ input, rating: name }) => `${input} ${name}`)).toEqual([
      "ia continuous",
      "ia peak",
      "in continuous",
      "in peak",
    ]);
    expect(notChecked).toEqual([
      "inputs.ia.shortTime",
      "inputs.in.shortTime",
      "inputs.va.continuous",
      "inputs.va.shortTime",
    ]);
    const { notChecked: others } = checkInput(two, { ...rating, inputs: { in: { shortTime } } });
    expect(others).toEqual([
      "inputs.ia.shortTime",
      "inputs.in.continuous",
      "inputs.va.continuous",
      "inputs.va.shortTime",
    ]);
  });

  test("of a sensitive input owe nothing to what the others stand", () => {
    const sensitive = {
      wiring: { i: { quantity: "current", feeds: { in: 1 } } },
      segments: [{ name: "fault", duration: 60, channels: { i: { rms: 15, frequency: 50 } } }],
    } as const;
    const current = { continuous: 20, shortTime: { value: 500, time: 1 }, tau: 600 };
    const told = (own: object) => checkInput(sensitive, { current, inputs: { in: own } });
    // 15² · 60 = 13,500 A²s of 10² · 1.
    const short = told({ shortTime: { value: 10, time: 1 } });
    expect(short.exceedances).toMatchObject([{ input: "in", rating: "shortTime", amount: 13_500, share: 135 }]);
    expect(short.notChecked).toEqual(["inputs.in.continuous"]);
    const steady = told({ continuous: 2 });
    expect(steady.exceedances).toMatchObject([{ input: "in", rating: "continuous", amount: 15, share: 7.5 }]);
    expect(steady.notChecked).toEqual(["inputs.in.shortTime"]);
    // A peak or a time constant of its own says nothing against the others.
    expect(told({ tau: 300 }).notChecked).toEqual([]);
    expect(told({ peak: 30 }).reached.map(({ rating }) => rating)).toEqual(["continuous", "heating", "peak"]);
  });

  test("all told in what JSON carries, in order of time", () => {
    const timeline = sequence(
      state(1, { rms: 5, decay: { initial: 12, tau: 0.1 } }),
      ...held([1, 30], [1, 5], [1, 30]).segments,
    );
    const checked = check(timeline, { continuous: 20, peak: 15 });
    expect(checked.exceedances.map(({ at, rating: name }) => [at, name])).toEqual([
      [0, "peak"],
      [1, "continuous"],
      [1, "peak"],
      [3, "continuous"],
      [3, "peak"],
    ]);
    expect(JSON.parse(JSON.stringify(checked))).toEqual(checked);
  });
});
