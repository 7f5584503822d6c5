import fc from "fast-check";
import { operateTime } from "tripwright/curve";
import type { ElementSetting } from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import { type Piece, ramp, stateAt, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } } as const;
const earth = (pickup: number): ElementSetting => ({
  id: "50N",
  function: "50N",
  watches: "residual",
  pickup,
  law: { curve: { form: "definite", time: 0 } },
  measuringDelay: 0,
  contact: "trip",
  accuracy,
});
const degrees = (radians: number) => (radians * 180) / Math.PI;
const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Two currents on two phases: the residual is the length of their sum. */
const sum = (duration: number, a: object, b: object): Timeline =>
  ({
    wiring: { a: { quantity: "current", feeds: { ia: 1 } }, b: { quantity: "current", feeds: { ib: 1 } } },
    segments: [{ name: "moving", duration, channels: { a, b } }],
  }) as Timeline;

describe("currents that turn against each other", () => {
  test("each beat starts the function where |3∠180° + 3∠φ| = 6·|sin(φ/2)| passes its setting, however narrow the top", () => {
    holds(
      fc.property(double(0.05, 40), double(0.3, 20), (halfWidth, slip) => {
        // Beyond the setting for so many degrees of φ/2 on both sides of 90°, 270°, …
        const pickup = 6 * Math.cos((halfWidth * Math.PI) / 180);
        const beats = sum(3 / slip, { rms: 3, frequency: 50, angle: 180 }, { rms: 3, frequency: 50 + slip });
        const starts = rehearse([earth(pickup)], beats).log.filter(({ step }) => step === "started");
        expect(starts).toHaveLength(3);
        for (const [i, { at }] of starts.entries()) {
          expect(Math.abs(at * 180 * slip - (90 - halfWidth + 180 * i))).toBeLessThan(1e-7);
        }
      }),
      40,
    );
  });

  test("a whole number of beats in quarters of a state is not taken for standing still", () => {
    const beats = sum(1, { rms: 3, frequency: 50, angle: 180 }, { rms: 3, frequency: 54 });
    expect(rehearse([earth(4)], beats).log.filter(({ step }) => step === "started")).toHaveLength(4);
  });

  test("a frequency that moves: φ = 180°·s·t²", () => {
    holds(
      fc.property(double(0.2, 5), double(1, 5.9), (rate, pickup) => {
        const moving = sum(2, { rms: 3, frequency: 50 }, { rms: 3, frequency: 50, slope: { frequency: rate } });
        const log = rehearse([earth(pickup)], moving).log.filter(({ step }) => step !== "operated");
        // |3 + 3∠φ| = 6·|cos(φ/2)| is back behind 95 % of the setting first where φ/2 = acos(0.95·pickup/6).
        const at = Math.sqrt((2 * degrees(Math.acos((0.95 * pickup) / 6))) / (180 * rate));
        expect(log[0]).toMatchObject({ at: 0, step: "started" });
        if (at < 2) expect(log[1]?.at).toBeCloseTo(at, 9);
        else expect(log).toHaveLength(1);
      }),
      20,
    );
  });

  test("a channel turns on where it is off, so that both meet at the angle that the source puts out", () => {
    const slips = fc.array(fc.option(double(49, 51)), { minLength: 1, maxLength: 4 });
    holds(
      fc.property(slips, double(0.3, 3), (frequencies, lasts) => {
        const timeline: Timeline = {
          wiring: { a: { quantity: "current", feeds: { ia: 1 } }, b: { quantity: "current", feeds: { ib: 1 } } },
          segments: [...frequencies, 50].map((frequency, i) => ({
            name: `state ${i}`,
            duration: lasts,
            channels: {
              a: { rms: 3, frequency: 50 },
              ...(frequency !== null && { b: { rms: i < frequencies.length ? 0.001 : 3, frequency } }),
            },
          })),
        };
        const end = lasts * frequencies.length;
        const { a, b } = stateAt(timeline, end + lasts / 2).channels;
        const residual = 6 * Math.abs(Math.cos((((a!.phase - b!.phase) / 2) * Math.PI) / 180));
        const startsAtEnd = (pickup: number) =>
          rehearse([earth(pickup)], timeline).log.some(
            ({ step, at }) => step === "started" && Math.abs(at - end) < 1e-9,
          );
        // Where it is above what stood before, the residual itself says where the function starts.
        if (residual < 3.1) return;
        expect([startsAtEnd(residual - 1e-6), startsAtEnd(residual + 1e-6)]).toEqual([true, false]);
      }),
      60,
    );
  });

  test("voltages of another frequency do not make a current turn", () => {
    const timeline: Timeline = {
      wiring: { i: { quantity: "current", feeds: { ia: 1 } }, v: { quantity: "voltage", feeds: { va: 1 } } },
      segments: [
        { name: "apart", duration: 1e6, channels: { i: { rms: 5, frequency: 50 }, v: { rms: 60, frequency: 60 } } },
      ],
    };
    expect(rehearse([earth(4)], timeline).log).toHaveLength(2);
  });

  test("a current that slips past its polarising voltage operates a directional function while it is in its sector", () => {
    const forward = {
      ...earth(4),
      id: "67P",
      function: "67",
      watches: "phase",
      polarising: "self",
      characteristicAngle: 0,
      operates: "forward",
      rotation: "ABC",
      law: { curve: { form: "definite", time: 0.3 } },
      measuringDelay: 0.04,
    } as ElementSetting;
    const timeline: Timeline = {
      wiring: { i: { quantity: "current", feeds: { ia: 1 } }, v: { quantity: "voltage", feeds: { va: 1 } } },
      segments: [
        {
          name: "slip",
          duration: 1,
          channels: { v: { rms: 60, frequency: 50 }, i: { rms: 8, frequency: 51, angle: -120 } },
        },
      ],
    };
    // A turn a second: in at −90° after 30/360 s, out at +90° after 210/360 s.
    const log = rehearse([forward], timeline).log.map(({ step, at }) => `${step} ${at.toFixed(6)}`);
    expect(log).toEqual(["started 0.123333", "operated 0.383333", "released 0.623333"]);
  });

  test("more turns than anybody looks at are refused with their number", () => {
    const turned = (degrees: number) => sum(degrees / 3600, { rms: 3, frequency: 50 }, { rms: 3, frequency: 60 });
    expect(problemsOf(() => rehearse([earth(4)], turned(3.6e9)))).toMatchObject([
      { code: "too-many", path: "timeline.segments[0].duration", received: "1800000000" },
    ]);
    expect(problemsOf(() => rehearse([earth(4)], turned(20_001)))).toMatchObject([{ received: "10001" }]);
    // In step at the beginning, and again as each of 55 whole turns comes to its end.
    expect(rehearse([earth(4)], turned(19_999)).log.filter(({ step }) => step === "started")).toHaveLength(56);
  });

  /** Three equal voltages to neutral, of which the second turns against the others. */
  const second = (rms: number, frequency: number, duration: number): Timeline => ({
    wiring: {
      a: { quantity: "voltage", feeds: { va: 1 } },
      b: { quantity: "voltage", feeds: { vb: 1 } },
      c: { quantity: "voltage", feeds: { vc: 1 } },
    },
    segments: [
      {
        name: "apart",
        duration,
        channels: {
          a: { rms, frequency: 50 },
          b: { rms, frequency, angle: -120 },
          c: { rms, frequency: 50, angle: 120 },
        },
      },
    ],
  });

  test("the frequency of equal voltages is that of the first, however often they turn", () => {
    const underfrequency = {
      ...earth(49),
      id: "81U",
      function: "81U",
      watches: "frequency",
      law: { curve: { form: "definite", time: 0, side: "under" } },
    } as unknown as ElementSetting;
    expect(rehearse([underfrequency], second(63.97, 1, 1.1)).log).toEqual([]);
  });

  test.each(["any", "all"] as const)(
    "voltages that stand on the setting of %s phase do not pass it by rounding",
    (phases) => {
      const overvoltage = {
        ...earth(63.5),
        id: "59",
        function: "59",
        watches: "line-to-neutral",
        phases,
      } as ElementSetting;
      expect(rehearse([overvoltage], second(63.5, 1, 1.1)).log).toEqual([]);
      expect(rehearse([overvoltage], second(63.501, 1, 1.1)).log).toHaveLength(2);
    },
  );

  test("currents that turn do not make a voltage turn", () => {
    const overvoltage = {
      ...earth(60),
      id: "59",
      function: "59",
      watches: "line-to-neutral",
      phases: "any",
    } as ElementSetting;
    const two: Timeline = {
      wiring: {
        a: { quantity: "current", feeds: { ia: 1 } },
        b: { quantity: "current", feeds: { ib: 1 } },
        v: { quantity: "voltage", feeds: { va: 1 } },
      },
      segments: [
        {
          name: "apart",
          duration: 1e6,
          channels: { a: { rms: 3, frequency: 50 }, b: { rms: 3, frequency: 60 }, v: { rms: 63.5, frequency: 50 } },
        },
      ],
    };
    expect(rehearse([overvoltage], two).log).toHaveLength(2);
  });
});

describe("currents that rise and fall", () => {
  test("a sum that dips to nothing and comes back lets go and starts again", () => {
    holds(
      fc.property(double(0.02, 0.98), (share) => {
        // |10·(1 − t) − 10·share| on one residual: zero where t = 1 − share, a dip narrower than the parts of a state.
        const dip = sum(
          1,
          { rms: 10, frequency: 50, slope: { rms: -10 } },
          { rms: 10 * share, frequency: 50, angle: 180 },
        );
        const log = rehearse([earth(0.01)], dip).log.filter(({ step }) => step !== "operated");
        expect(log.map(({ step }) => step)).toEqual(["started", "released", "started"]);
        expect(log[1]?.at).toBeCloseTo(1 - share - 0.00095, 9);
        expect(log[2]?.at).toBeCloseTo(1 - share + 0.001, 9);
      }),
      60,
    );
  });
});

describe("time laws along what moves", () => {
  const relay = (change: object): ElementSetting =>
    ({
      ...earth(4),
      id: "51N",
      function: "51N",
      law: { curve: "iec-very-inverse", multiplier: 0.5 },
      ...change,
    }) as never;
  const tripOf = (element: ElementSetting, timeline: Timeline) =>
    rehearse([element], timeline).events.find(({ to }) => to === "closed")?.at;

  test("an inverse time along a beat is that of the integral over |12 + 7∠φ|", () => {
    holds(
      fc.property(double(0.1, 3), fc.constantFrom("iec-inverse", "ieee-extremely-inverse"), (slip, curve) => {
        const law = { curve, multiplier: 0.5 } as const;
        const beating = sum(8, { rms: 12, frequency: 50 }, { rms: 7, frequency: 50 + slip });
        const at = tripOf(relay({ law }), beating) as number;
        // Midpoints, 5,000 of them.
        const travel = Array.from({ length: 5_000 }, (_, i) => {
          const turned = 2 * Math.PI * slip * ((i + 0.5) / 5_000) * at;
          const current = Math.hypot(12 + 7 * Math.cos(turned), 7 * Math.sin(turned));
          return at / 5_000 / operateTime(law, current / 4);
        }).reduce((a, b) => a + b);
        expect(Math.abs(travel - 1)).toBeLessThan(1e-6);
      }),
      8,
    );
  });

  const climb = (duration: number, to: number): Timeline =>
    ramp({
      base: { i: { rms: 0, frequency: 50 } },
      lever: { i: { rms: 1 } },
      pieces: [{ duration, from: 0, to }] as Piece[],
      wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
    });

  test("a thermal image along a ramp: m²·(t² − 2·tau·t + 2·tau²·(1 − exp(−t/tau))) reaches 1", () => {
    holds(
      fc.property(double(1, 100), double(2, 10), (tau, steepness) => {
        const thermal = relay({
          id: "49",
          function: "49",
          watches: "phase",
          rotation: "ABC",
          law: { curve: { form: "thermal", tau }, reset: { form: "cooling", release: 0.9 } },
        });
        // From nothing to so many times the setting in one time constant.
        const at = tripOf(thermal, climb(tau, 4 * steepness)) as number;
        const t = at / tau;
        const image = steepness ** 2 * (t * t - 2 * t - 2 * Math.expm1(-t));
        expect(Math.abs(image - 1)).toBeLessThan(1e-5);
      }),
      20,
    );
  });

  test("frequency and volts per hertz along a falling frequency are where they should be", () => {
    const falling: Timeline = {
      wiring: { v: { quantity: "voltage", feeds: { va: 1 } } },
      segments: [
        { name: "falling", duration: 10, channels: { v: { rms: 60, frequency: 50, slope: { frequency: -1 } } } },
      ],
    };
    const common = { ...earth(1), startContact: "start" };
    const frequency = {
      ...common,
      id: "81U",
      function: "81U",
      watches: "frequency",
      pickup: 48.5,
      law: { curve: { form: "definite", time: 0.25, side: "under" } },
    } as unknown as ElementSetting;
    expect(tripOf(frequency, falling)).toBeCloseTo(1.5, 12);
    const flux = {
      ...common,
      id: "24",
      function: "24",
      watches: "line-to-neutral",
      ratedVoltage: 60,
      ratedFrequency: 50,
      pickup: 1.1,
      law: { curve: { form: "definite", time: 0 } },
    } as unknown as ElementSetting;
    // 50/(50 − t) = 1.1.
    expect(tripOf(flux, falling)).toBeCloseTo(50 - 50 / 1.1, 9);
  });
});
