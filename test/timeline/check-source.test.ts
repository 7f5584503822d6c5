import fc from "fast-check";
import {
  type ChannelState,
  checkSource,
  render,
  type Segment,
  type SourceLimits,
  type Timeline,
  totalTime,
} from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { decimal } from "../../src/base/exact.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { hundredths, milliseconds } from "./phases.js";
import { allSegments, cut, D, evenSegments, held, sequence, squareAt, state, wiring } from "./sources.js";

const beyond = (timeline: Timeline, current: SourceLimits["current"] & {}) =>
  checkSource(timeline, { current }).exceedances;
const once = (timeline: Timeline, current: SourceLimits["current"] & {}) => {
  const all = beyond(timeline, current);
  expect(all).toHaveLength(1);
  return all[0]!;
};

describe("an rms limit", () => {
  test("is not exceeded by what is just at it, and is by the next double", () => {
    holds(
      fc.property(hundredths(1, 100), (limit) => {
        expect(beyond(held([1, limit]), { rms: limit })).toEqual([]);
        expect(beyond(held([1, limit * (1 + 2 ** -52)]), { rms: limit })).toHaveLength(1);
      }),
    );
  });

  test("by hand: 40 A against 32 A, from 2 s on, for 1.5 s", () => {
    expect(beyond(held([2, 1], [1.5, 40]), { rms: 32 })).toEqual([
      {
        limit: "rms",
        channel: "i",
        segment: "state",
        index: 1,
        at: 2,
        lasts: 1.5,
        amount: 40,
        allowed: 32,
        unit: "A",
      },
    ]);
  });

  test("is passed by a ramp at the instant that the decimals say", () => {
    const given = fc.record({
      before: milliseconds(1, 5000),
      from: hundredths(0, 20),
      rate: fc.integer({ min: 1, max: 500 }).map((n) => n / 10),
      limit: hundredths(20, 40),
      further: milliseconds(1, 5000),
    });
    holds(
      fc.property(given, ({ before, from, rate, limit, further }) => {
        fc.pre(limit > from);
        const since = new D(limit).minus(from).div(rate);
        const duration = since.plus(further).toNumber();
        const ramp = state(duration, { rms: from, slope: { rms: rate } });
        const one = once(sequence(state(before, { rms: 0 }), ramp), { rms: limit });
        expect(ulps(one.at, since.plus(before).toNumber())).toBeLessThanOrEqual(0);
        // A double of 16 digits may stand for a fraction, such as 25083/5300 s, and is read as that.
        const end = new D(from).plus(new D(rate).times(decimal(duration, "duration").toString()));
        expect(one.amount).toBe(end.toNumber());
      }),
    );
  });

  test("is left by a ramp downward, and not exceeded by one that ends on it", () => {
    const down = sequence(state(4, { rms: 40, slope: { rms: -5 } }));
    expect(once(down, { rms: 25 })).toMatchObject({ at: 0, lasts: 3, amount: 40 });
    // 20/3 A/s is no decimal, and 20 A are reached all the same; neither is 0.7 · 3/0.9.
    expect(beyond(sequence(state(3, { rms: 0, slope: { rms: 20 / 3 } })), { rms: 20 })).toEqual([]);
    holds(
      fc.property(hundredths(1, 50), hundredths(0, 1), milliseconds(1, 9000), (limit, from, duration) => {
        const rate = (limit - from) / duration;
        expect(beyond(sequence(state(duration, { rms: from, slope: { rms: rate } })), { rms: limit })).toEqual([]);
      }),
    );
  });

  test.each([
    // √(3² + 4²), √(3² + 4²) and √(2² + 1² + 2²): by hand.
    ["a harmonic", { rms: 3, harmonics: [{ order: 5, rms: 4 }] }, 5],
    ["an offset", { rms: 3, offset: -4 }, 5],
    ["all of them", { rms: 2, offset: 1, harmonics: [{ order: 2, rms: 2, angle: 77 }] }, 3],
    // The crest of a cosine that stands still is a direct value of √2 · rms.
    ["a frequency of 0 at its crest", { rms: Math.SQRT2, frequency: 0 }, 2],
    ["a frequency of 0 off its crest", { rms: Math.SQRT2, frequency: 0, angle: 60 }, 1],
    // −50 turns a second against 50 Hz: 10 · √2 · cos 45° stands still.
    ["an angle that turns back as fast as the frequency", { rms: 10, angle: 45, slope: { angle: -18_000 } }, 10],
    ["nothing, a quarter turn from the crest", { rms: 10, frequency: 0, angle: 90, offset: 1 }, 1],
  ])("counts %s", (_what, i: Partial<ChannelState>, rms) => {
    expect(once(sequence(state(1, i)), { rms: 0.5 }).amount).toBeCloseTo(rms, 14);
    expect(beyond(sequence(state(1, i)), { rms })).toEqual([]);
  });

  test("a current asymmetrical at full offset begins at √3 times its rms value", () => {
    // √(1 + 2 · exp(−2t/tau)): IEEE C37.010, asymmetrical rms current; at the beginning √3.
    const fault = sequence(state(1, { rms: 10, decay: { initial: 10 * Math.SQRT2, tau: 0.1 } }));
    const { amount, at: from, lasts } = once(fault, { rms: 12 });
    expect(ulps(amount, 10 * Math.sqrt(3))).toBeLessThanOrEqual(2);
    expect(from).toBe(0);
    // 200 · exp(−20 t) = 44
    expect(ulps(lasts, Math.log(200 / 44) / 20)).toBeLessThanOrEqual(4);
  });

  test("is exceeded exactly where the definition says, along ramps and decays", () => {
    holds(
      fc.property(allSegments, hundredths(5, 40), (segments, limit) => {
        const found = beyond(sequence(...segments), { rms: limit });
        let start = new D(0);
        let highest = new D(0);
        for (const segment of segments) {
          for (let n = 0; n <= 40; n++) {
            const t = new D(segment.duration).times(n).div(40);
            const square = squareAt(segment, t);
            highest = highest.gt(square) ? highest : square;
            const off = square.sqrt().div(limit).minus(1).toNumber();
            if (Math.abs(off) < 1e-9 || n === 0 || n === 40) continue;
            const now = start.plus(t).toNumber();
            const isFound = found.some(({ at, lasts }) => at <= now && now <= at + lasts);
            expect(isFound, `${now} s`).toBe(off > 0);
          }
          start = start.plus(segment.duration);
        }
        const worst = Math.max(0, ...found.map(({ amount }) => amount));
        if (worst > 0)
          expect(worst).toBeGreaterThanOrEqual(
            highest
              .sqrt()
              .times(1 - 1e-15)
              .toNumber(),
          );
      }),
      15,
    );
  });

  test("finds a hump within a state: a falling a.c. component and a growing d.c. component", () => {
    // (20 − 10 t)² + (20 − 30 · exp(−8 t))² is highest near 0.22 s; no end of the state shows it.
    const hump = state(2, { rms: 20, slope: { rms: -10 }, offset: 20, decay: { initial: -30, tau: 0.125 } });
    let highest = new D(0);
    for (let n = 0; n <= 800; n++) {
      const square = squareAt(hump, n / 400);
      highest = highest.gt(square) ? highest : square;
    }
    const { amount, at: from, lasts } = once(sequence(hump), { rms: 23.5 });
    expect(Math.abs(amount - highest.sqrt().toNumber())).toBeLessThan(1e-3);
    expect(amount).toBeGreaterThanOrEqual(highest.sqrt().toNumber());
    expect(squareAt(hump, from).sqrt().minus(23.5).abs().toNumber()).toBeLessThan(1e-13);
    expect(
      squareAt(hump, from + lasts)
        .sqrt()
        .minus(23.5)
        .abs()
        .toNumber(),
    ).toBeLessThan(1e-13);
    expect(from).toBeGreaterThan(0);
  });

  test("each of two humps in one state has a worst value of its own", () => {
    // (9 − 4 t)² + (12 · exp(−10 t) − 10)²: 9² + 2² = 85 at the beginning, under 79.6 near 0.02 s, above 110 near 0.4 s.
    const humps = state(2, { rms: 9, slope: { rms: -4 }, offset: -10, decay: { initial: 12, tau: 0.1 } });
    let highest = new D(0);
    for (let n = 0; n <= 2000; n++) highest = D.max(highest, squareAt(humps, n / 1000));
    const [first, second, ...further] = beyond(sequence(humps), { rms: Math.sqrt(80) });
    expect(further).toEqual([]);
    expect(ulps(first!.amount, Math.sqrt(85))).toBeLessThanOrEqual(1);
    expect(first!.at + first!.lasts).toBeLessThan(0.02);
    expect(Math.abs(second!.amount - highest.sqrt().toNumber())).toBeLessThan(1e-4);
    expect(second!.at).toBeGreaterThan(0.02);
  });
});

describe("a state cut in two", () => {
  const close = (a: number, b: number) => expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-11 * Math.max(1, Math.abs(b)));
  const limits = {
    rms: 21.17,
    peak: 31.3,
    power: 61,
    burden: 0.13,
    compliance: 2.9,
    duty: [{ above: 15.13, atMost: 0.317, restTime: 0.211 }],
    frequency: { minimum: 51, maximum: 60 },
    resolution: { rms: 0.3 },
  } as const;

  test("is the same state", () => {
    holds(
      fc.property(evenSegments, fc.double({ min: 0, max: 1, noNaN: true }), (segments, share) => {
        const [plain, halved] = [
          beyond(sequence(...segments), limits),
          beyond(sequence(...cut(segments, share)), limits),
        ];
        // Where a ramp is cut, its second half is a new ramp, and what moves has no place on the grid.
        expect(halved.map(({ limit }) => limit)).toEqual(plain.map(({ limit }) => limit));
        for (const [n, one] of plain.entries()) {
          close(halved[n]!.at, one.at);
          close(halved[n]!.lasts, one.lasts);
          close(halved[n]!.amount, one.amount);
        }
      }),
      40,
    );
  });
});

describe("a peak limit", () => {
  test("is the crest: √2 times the rms value, and what lies direct", () => {
    const at = (i: Partial<ChannelState>) => once(sequence(state(1, i)), { peak: 1 }).amount;
    expect(ulps(at({ rms: 10 }), 10 * Math.SQRT2)).toBeLessThanOrEqual(1);
    expect(ulps(at({ rms: 10, offset: -3 }), 10 * Math.SQRT2 + 3)).toBeLessThanOrEqual(1);
    expect(ulps(at({ rms: 10, harmonics: [{ order: 3, rms: 2 }] }), 12 * Math.SQRT2)).toBeLessThanOrEqual(1);
    expect(ulps(at({ rms: 10, decay: { initial: -14, tau: 0.1 } }), 10 * Math.SQRT2 + 14)).toBeLessThanOrEqual(1);
    expect(beyond(held([1, 10]), { peak: 10 * Math.SQRT2 })).toEqual([]);
  });

  test("no sample is above what is told, and a sine comes near it", () => {
    holds(
      fc.property(allSegments, (segments) => {
        const timeline = sequence(...segments);
        const all = beyond(timeline, { peak: 1e-3 });
        const samples = render(timeline, { channel: "i", sampleRate: 4000 });
        const highest = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
        const told = Math.max(1e-3, ...all.map(({ amount }) => amount));
        expect(highest).toBeLessThanOrEqual(told * (1 + 1e-12));
      }),
      30,
    );
    const sine = render(held([1, 10]), { channel: "i", sampleRate: 4000 });
    expect(Math.max(...sine)).toBeCloseTo(once(held([1, 10]), { peak: 1 }).amount, 9);
  });

  test("ends with the decay that it comes from", () => {
    const fault = sequence(state(1, { rms: 10, decay: { initial: -14, tau: 0.1 } }));
    const { at: from, lasts } = once(fault, { peak: 10 * Math.SQRT2 + 7 });
    expect(from).toBe(0);
    // 14 · exp(−10 t) = 7
    expect(ulps(lasts, Math.LN2 / 10)).toBeLessThanOrEqual(16);
  });
});

describe("a burden", () => {
  const both: Timeline = sequence({
    name: "state",
    duration: 1,
    channels: { i: { rms: 20, frequency: 50 }, v: { rms: 120, frequency: 50 } },
  });

  test("takes I² · Z of a current and V²/Z of a voltage", () => {
    const limits = { current: { burden: 0.5, power: 150 }, voltage: { burden: 200, power: 50 } };
    expect(checkSource(both, limits).exceedances).toMatchObject([
      { limit: "power", channel: "i", amount: 200, allowed: 150, unit: "VA" },
      { limit: "power", channel: "v", amount: 72, allowed: 50, unit: "VA" },
    ]);
    const exact = { current: { burden: 0.5, power: 200 }, voltage: { burden: 200, power: 72 } };
    expect(checkSource(both, exact).exceedances).toEqual([]);
  });

  test("at its power limit by typed decimals, it is not beyond", () => {
    holds(
      fc.property(hundredths(1, 60), fc.integer({ min: 1, max: 999 }), (rms, milliohm) => {
        const power = new D(rms).pow(2).times(milliohm).div(1000);
        const limits = {
          burden: milliohm / 1000,
          power: power.toFixed(),
          compliance: new D(rms).times(milliohm).div(1000).toFixed(),
        };
        expect(beyond(held([1, rms]), limits)).toEqual([]);
        const less = { ...limits, power: power.minus("1e-9").toFixed() };
        expect(beyond(held([1, rms]), less).map(({ limit }) => limit)).toEqual(["power"]);
      }),
    );
  });

  test("takes I · Z of compliance", () => {
    expect(once(both, { burden: 0.5, compliance: 9 })).toMatchObject({
      limit: "compliance",
      amount: 10,
      allowed: 9,
      unit: "V",
    });
  });
});

describe("a duty", () => {
  const duty = [{ above: 20, atMost: 10, restTime: 60 }];

  test.each([
    ["at the level it does not count", held([100, 20]), []],
    ["for just its time it may", held([10, 25]), []],
    ["beyond its time it may not", held([5, 1], [12, 25]), [[15, 2, 12]]],
    ["through several states, each above", held([4, 25], [4, 40], [4, 21]), [[10, 2, 12]]],
    ["a pause that is too short is none", held([8, 25], [59, 20], [8, 25]), [[69, 6, 16]]],
    ["a rest begins it anew", held([8, 25], [60, 20], [8, 25]), []],
    [
      "both sides of a rest",
      held([11, 25], [60, 0], [12, 25]),
      [
        [10, 1, 11],
        [81, 2, 12],
      ],
    ],
    [
      "through ramps, from where they pass the level",
      sequence(state(8, { rms: 0, slope: { rms: 5 } }), state(8, { rms: 40, slope: { rms: -2 } })),
      [[14, 2, 12]],
    ],
  ])("%s", (_what, timeline, expected) => {
    expect(beyond(timeline, { duty }).map(({ at, lasts, amount }) => [at, lasts, amount])).toEqual(expected);
  });

  test("without a rest any pause will do, but the touch of a ramp is none", () => {
    const duties = [{ above: 20, atMost: 10 }];
    expect(beyond(held([8, 25], [0.001, 20], [8, 25]), { duty: duties })).toEqual([]);
    const touch = sequence(state(8, { rms: 28, slope: { rms: -1 } }), state(8, { rms: 20, slope: { rms: 1 } }));
    expect(once(touch, { duty: duties })).toMatchObject({ index: 1, at: 10, amount: 16, above: 20 });
  });

  test("millisecond by millisecond", () => {
    const levels = fc.array(fc.tuple(fc.integer({ min: 1, max: 30 }), fc.constantFrom(0, 20, 20.01, 30)), {
      minLength: 1,
      maxLength: 8,
    });
    const rule = fc.record({ atMost: fc.integer({ min: 1, max: 40 }), rest: fc.nat(30) });
    holds(
      fc.property(levels, rule, (list, { atMost, rest }) => {
        let [spent, pause, longest] = [0, 0, 0];
        const told: { at: number; amount: number }[] = [];
        let now = 0;
        for (const [length, rms] of list) {
          for (let n = 0; n < length; n++, now++) {
            if (rms <= 20) {
              pause++;
              continue;
            }
            if (pause > 0 && pause >= rest) spent = 0;
            pause = 0;
            spent++;
            if (spent === atMost + 1) told.push({ at: now / 1000, amount: 0 });
            if (spent > atMost) told.at(-1)!.amount = spent / 1000;
            longest = Math.max(longest, spent);
          }
        }
        const timeline = held(...list.map(([length, rms]) => [length / 1000, rms] as const));
        const found = beyond(timeline, { duty: [{ above: 20, atMost: atMost / 1000, restTime: rest / 1000 }] });
        expect(found.map(({ at, amount }) => ({ at, amount }))).toEqual(told);
        expect(found.length > 0).toBe(longest > atMost);
      }),
    );
  });
});

describe("a range of frequency", () => {
  const range = { frequency: { minimum: 45, maximum: 65 } };
  const at = (i: Partial<ChannelState>) => beyond(sequence(state(2, { rms: 1, ...i })), range);

  test("is left at either side, by ramps at the instant when they do", () => {
    expect(at({ frequency: 65 })).toEqual([]);
    expect(at({ frequency: 45 })).toEqual([]);
    expect(at({ frequency: 70 })).toMatchObject([{ at: 0, amount: 70, allowed: 65, unit: "Hz" }]);
    expect(at({ frequency: 46, slope: { frequency: -2 } })).toMatchObject([
      { at: 0.5, lasts: 1.5, amount: 42, allowed: 45 },
    ]);
    expect(at({ frequency: 60, slope: { frequency: 4 } })).toMatchObject([{ at: 1.25, lasts: 0.75, amount: 68 }]);
  });

  test("holds for harmonics, and for nothing that is not put out", () => {
    expect(
      at({
        frequency: 50,
        harmonics: [
          { order: 5, rms: 0.1 },
          { order: 3, rms: 1 },
        ],
      }),
    ).toMatchObject([{ amount: 250 }]);
    expect(at({ frequency: 30, rms: 0, harmonics: [{ order: 2, rms: 0.1 }] })).toEqual([]);
    expect(at({ frequency: 50, harmonics: [{ order: 5, rms: 0 }] })).toEqual([]);
    expect(at({ frequency: 0, rms: 0, offset: 3 })).toEqual([]);
    expect(at({ frequency: 0 })).toMatchObject([{ amount: 0, allowed: 45 }]);
  });
});

describe("a resolution", () => {
  test("makes what lies on its grid, by the decimals", () => {
    const steps = fc.constantFrom("0.01", "0.001", "0.025", "0.3");
    holds(
      fc.property(steps, fc.integer({ min: 1, max: 5000 }), (step, n) => {
        const rms = new D(step).times(n).toNumber();
        expect(beyond(held([1, rms]), { resolution: { rms: step } })).toEqual([]);
      }),
    );
  });

  test.each([
    ["rms", { rms: 1.004 }, 0.01, 1.004, 1, "A"],
    ["rms", { rms: 1.007 }, 0.01, 1.007, 1.01, "A"],
    ["frequency", { frequency: 50.0006 }, 0.001, 50.0006, 50.001, "Hz"],
    ["angle", { angle: -30.04 }, 0.1, -30.04, -30, "°"],
  ])("tells the nearest that it can make: %s %o", (name, i, step, amount, allowed, unit) => {
    const one = once(sequence(state(1, { rms: 1, ...i })), { resolution: { [name]: step } });
    expect(one).toMatchObject({ limit: `resolution.${name}`, at: 0, lasts: 1, amount, allowed, unit });
  });

  test("does not ask what moves, nor the frequency and angle of nothing", () => {
    const resolution = { rms: 0.1, frequency: 0.1, angle: 1 };
    expect(beyond(sequence(state(1, { rms: 1.04, slope: { rms: 1 } })), { resolution })).toEqual([]);
    expect(beyond(sequence(state(1, { rms: 0, frequency: 50.04, angle: 0.5 })), { resolution })).toEqual([]);
  });

  test("tells a value once for as long as it stands, and again when it comes back", () => {
    const told = beyond(held([1, 1.04], [2, 1.04], [1, 1], [1, 1.04]), { resolution: { rms: 0.1 } });
    expect(told.map(({ index, at, lasts }) => [index, at, lasts])).toEqual([
      [0, 0, 3],
      [3, 4, 1],
    ]);
  });
});

describe("limits", () => {
  const two: Timeline = {
    wiring: { ...wiring, i2: { quantity: "current", feeds: { ia: 1 } } },
    segments: [
      { name: "a", duration: 1, channels: { i: { rms: 30, frequency: 50 } } },
      { name: "b", duration: 1, channels: { i2: { rms: 30, frequency: 50 } } },
    ],
  };

  test("of a channel stand in place of those of its quantity, limit by limit", () => {
    const limits = { current: { rms: 20, peak: 60 }, channels: { i2: { rms: 40 }, other: { rms: 1 } } };
    const { exceedances, notChecked } = checkSource(two, limits);
    expect(exceedances.map(({ channel, limit }) => `${channel} ${limit}`)).toEqual(["i rms"]);
    expect(notChecked).not.toContain("current.peak");
  });

  test("that are not given are told: of a quantity that is used, of single channels, and burdens", () => {
    expect(checkSource(two, {}).notChecked).toEqual(
      [
        "rms",
        "peak",
        "power",
        "compliance",
        "duty",
        "frequency",
        "resolution.rms",
        "resolution.frequency",
        "resolution.angle",
      ].map((limit) => `current.${limit}`),
    );
    const { notChecked } = checkSource(two, {
      current: {
        peak: 60,
        power: 100,
        duty: [],
        frequency: { minimum: 40, maximum: 70 },
        resolution: { rms: 1, frequency: 1, angle: 1 },
      },
      channels: { i: { rms: 40 } },
    });
    expect([...notChecked].sort()).toEqual(["channels.i2.rms", "current.burden", "current.compliance"]);
  });

  test("all told in order of time, in what JSON carries", () => {
    const timeline = sequence(
      state(1, { rms: 30, frequency: 50 }),
      { name: "v", duration: 1, channels: { v: { rms: 200, frequency: 50 }, i: { rms: 1, frequency: 50 } } },
      state(1, { rms: 30, decay: { initial: 30, tau: 0.1 } }),
    );
    const checked = checkSource(timeline, { current: { rms: 20, peak: 50 }, voltage: { rms: 150 } });
    expect(checked.exceedances.map(({ at, limit, channel }) => [at, channel, limit])).toEqual([
      [0, "i", "rms"],
      [1, "v", "rms"],
      [2, "i", "rms"],
      [2, "i", "peak"],
    ]);
    expect(JSON.parse(JSON.stringify(checked))).toEqual(checked);
  });

  test("hold for 60 Hz cycles: eleven of them are eleven", () => {
    const timeline: Timeline = held([1 / 60, 1], [11 / 60, 30], [1 / 60, 1]);
    expect(beyond(timeline, { duty: [{ above: 20, atMost: 11 / 60 }] })).toEqual([]);
    expect(once(timeline, { rms: 20 })).toMatchObject({ at: 1 / 60, lasts: 11 / 60 });
    expect(totalTime(timeline)).toBe(13 / 60);
  });

  test("of a sweep of a thousand levels are told once", () => {
    const segments: Segment[] = Array.from({ length: 1000 }, (_, n) => state(0.1, { rms: n / 20 }));
    expect(beyond(sequence(...segments), { rms: 25, peak: 60, duty: [{ above: 20, atMost: 70 }] })).toMatchObject([
      { limit: "rms", index: 501, at: 50.1, amount: 49.95 },
      { limit: "peak", index: 849 },
    ]);
  });
});
