import fc from "fast-check";
import { advance, operateInstant, operateTime } from "tripwright/curve";
import {
  type Definition,
  definitionOf,
  dropoutLevel,
  type ElementSetting,
  inputsOf,
  operateTimeOf,
  standingAt,
  startLevel,
} from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import { faultSequence, type Piece, ramp, type Timeline, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { relay51, setups, usualSettings } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const definite = (change: object = {}): ElementSetting =>
  ({
    ...relay51,
    function: "50",
    id: "50P",
    law: { curve: { form: "definite", time: 0.3 } },
    ...change,
  }) as ElementSetting;

const base = { i: { rms: 0, frequency: 50 } };
const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const moved = (pieces: readonly Piece[]): Timeline => ramp({ base, lever: { i: { rms: 1 } }, pieces, wiring });
const stretch = (duration: number, from: number, to = from): Piece => ({ duration, from, to });
const closing = (events: ReturnType<typeof rehearse>["events"], contact: string) =>
  events.find((event) => event.contact === contact && event.to === "closed")?.at;

describe("a step from a healthy system", () => {
  test.each(usualSettings.map((setting, i) => [`${setting.function} ${setting.watches} ${i}`, setting] as const))(
    "%s operates after its time law, no earlier than its start shows",
    (_what, setting) => {
      const definition = definitionOf(setting.function) as unknown as Definition;
      for (const setup of setups.filter(({ frequency }) => frequency === 50)) {
        const bench = { ...setup, ratedCurrent: 5 };
        const posed = definition.pose(setting, bench);
        if (posed.kind === "none") continue;
        const level = startLevel(setting) * (definition.side === "over" ? 1.5 : 0.6);
        const timeline = faultSequence({
          before: posed.healthy ?? standingAt(posed, definition.healthyLevel(setting, bench)),
          fault: standingAt(posed, level),
          settleFor: 1,
          giveUpAfter: setting.function === "81R" ? 10 : 1000,
          endsOn: { contact: "trip", to: "closed" },
          wiring: posed.wiring,
        });
        const expected = operateTimeOf(setting, inputsOf(timeline.segments[1]!.channels, timeline.wiring));
        const { events, stateEnds } = rehearse([setting], timeline);
        expect(closing(events, "trip")! - 1).toBeCloseTo(Math.max(expected, setting.measuringDelay), 9);
        expect(stateEnds.at(-1)).toBe(closing(events, "trip"));
      }
    },
  );

  test("nothing happens on the quiet side, and nothing after the end", () => {
    holds(
      fc.property(
        fc.double({ min: 0.01, max: 0.999, noNaN: true }),
        fc.double({ min: 0.1, max: 5, noNaN: true }),
        (share, lasts) => {
          expect(rehearse([relay51], moved([stretch(lasts, 4 * share)])).events).toEqual([]);
          const { events } = rehearse([relay51], moved([stretch(lasts, 4 / share)]));
          for (const { at } of events) expect(at).toBeLessThanOrEqual(lasts);
        },
      ),
    );
  });
});

describe("ramps", () => {
  test("the start shows a measuring delay after the crossing: t = (start − from)/rate", () => {
    holds(
      fc.property(
        fc.double({ min: 0, max: 3.9, noNaN: true }),
        fc.double({ min: 4.5, max: 20, noNaN: true }),
        fc.double({ min: 0.5, max: 30, noNaN: true }),
        (from, to, lasts) => {
          const { log } = rehearse([relay51], moved([stretch(lasts, from, to), stretch(1, to)]));
          const crossing = ((4 - from) / (to - from)) * lasts;
          expect(log[0]?.step).toBe("started");
          expect(log[0]?.at).toBeCloseTo(crossing + 0.04, 10);
        },
      ),
    );
  });

  test("a falling current lets go where it passes the dropout", () => {
    const { log } = rehearse([definite()], moved([stretch(1, 8), stretch(2, 8, 0)]));
    // From 8 A to 3.8 A at 4 A/s, and 40 ms.
    expect(log.map(({ step }) => step)).toEqual(["started", "operated", "released"]);
    expect(log[2]?.at).toBeCloseTo(1 + 4.2 / 4 + 0.04, 12);
  });

  test("an inverse time along pieces is that of the integral", () => {
    const level = fc.double({ min: 4.5, max: 60, noNaN: true });
    holds(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0.1, max: 1, noNaN: true }), level, level), { minLength: 1, maxLength: 5 }),
        (parts) => {
          const pieces = parts.map(([duration, from, to]) => stretch(duration, from, to));
          const { operatedAt } = operateInstant(
            relay51.law,
            pieces.map(({ duration, from, to }) => ({ duration, from: from / 4, to: to / 4 })),
          );
          const end = pieces.reduce((sum, { duration }) => sum + duration, 0);
          const at = closing(rehearse([relay51], moved(pieces)).events, "trip");
          if (operatedAt === undefined || Math.max(operatedAt, 0.04) > end) expect(at).toBeUndefined();
          else expect(at).toBeCloseTo(Math.max(operatedAt, 0.04), 9);
        },
      ),
    );
  });

  test("two currents that turn against each other beat: the crossing is found inside the beat", () => {
    const two = { quantity: "current", feeds: { ia: 1 } } as const;
    // 3 A at 50 Hz on phase a, whose angle turns at 36 °/s against 3 A: |3 + 3∠36t| = 6·|cos(18°·t)| falls below 3.8 A.
    const timeline: Timeline = {
      wiring: { i1: two, i2: two },
      segments: [
        {
          name: "turning",
          duration: 5,
          channels: { i1: { rms: 3, frequency: 50 }, i2: { rms: 3, frequency: 50, slope: { angle: 36 } } },
        },
      ],
    };
    const { log } = rehearse([definite({ law: { curve: { form: "definite", time: 0 } } })], timeline);
    expect(log.at(-1)?.step).toBe("released");
    expect(log.at(-1)?.at).toBeCloseTo((Math.acos(3.8 / 6) * 180) / Math.PI / 18 + 0.04, 9);
  });

  test("channels of two frequencies on two inputs are phasors that turn: the residual of opposite currents swings", () => {
    const earth = {
      ...relay51,
      function: "50N",
      watches: "residual",
      id: "50N",
      pickup: 4,
      law: { curve: { form: "definite", time: 0 } },
    } as ElementSetting;
    const timeline: Timeline = {
      wiring: { ia: { quantity: "current", feeds: { ia: 1 } }, ib: { quantity: "current", feeds: { ib: 1 } } },
      segments: [
        {
          name: "slip",
          duration: 1,
          channels: { ia: { rms: 3, frequency: 50, angle: 180 }, ib: { rms: 3, frequency: 50.5 } },
        },
      ],
    };
    // |3∠180 + 3∠(180·t)| = 6·|sin(90°·t)|: beyond 4 A from t = asin(2/3)/90°.
    const { log } = rehearse([earth], timeline);
    expect(log[0]?.at).toBeCloseTo((Math.asin(4 / 6) * 180) / Math.PI / 90 + 0.04, 9);
  });
});

describe("time and hysteresis", () => {
  test("a pulse that is shorter than the measuring delay is not seen, one that is longer is", () => {
    const pulse = (lasts: number) => rehearse([relay51], moved([stretch(1, 0), stretch(lasts, 40), stretch(1, 0)])).log;
    expect(pulse(0.039)).toEqual([]);
    expect(pulse(0.041).map(({ step }) => step)).toEqual(["started", "released"]);
  });

  test("between start and dropout it stays started, and a definite time runs on", () => {
    const { log } = rehearse([definite()], moved([stretch(0.1, 5), stretch(1, 3.9), stretch(1, 3.7)]));
    expect(log.map(({ step }) => step)).toEqual(["started", "operated", "released"]);
    expect(log[1]?.at).toBeCloseTo(0.3, 12);
    expect(log[2]?.at).toBeCloseTo(1.14, 12);
  });

  test("a definite time begins anew after it has let go", () => {
    const { log } = rehearse([definite()], moved([stretch(0.25, 5), stretch(0.1, 0), stretch(1, 5)]));
    expect(log.find(({ step }) => step === "operated")?.at).toBeCloseTo(0.35 + 0.3, 12);
  });

  test("a disk runs back by its own law, and starts from where it is", () => {
    const law = { curve: "ieee-very-inverse", multiplier: 1 } as const;
    const disk = { ...relay51, law, dropout: { ratio: 1 }, measuringDelay: 0 } as ElementSetting;
    const pieces = [stretch(1, 12), stretch(2, 0), stretch(20, 12)];
    let state: Parameters<typeof advance>[1] = { elapsed: 0, travel: 0 };
    for (const { duration, from } of pieces) state = advance(law, state, { multiple: from / 4, dt: duration });
    const fromRest = 3 + operateTime(law, 3);
    const at = closing(rehearse([disk], moved(pieces)).events, "trip")!;
    expect(at).toBeCloseTo(state.operatedAt!, 9);
    expect(at).toBeLessThan(fromRest);
  });

  test("a function that waits to be armed does not operate before it was", () => {
    const under = {
      ...relay51,
      id: "37",
      function: "37",
      phases: "all",
      pickup: 2,
      armAbove: 3,
      law: { curve: { form: "definite", time: 0.1, side: "under" } },
    } as unknown as ElementSetting;
    expect(rehearse([under], moved([stretch(1, 0)])).events).toEqual([]);
    expect(
      closing(rehearse([under], moved([stretch(1, 0), stretch(1, 4), stretch(1, 1)])).events, "trip"),
    ).toBeUndefined();
    const three = ramp({
      base,
      lever: { i: { rms: 1 } },
      pieces: [stretch(1, 0), stretch(1, 4), stretch(1, 1)],
      wiring: { i: { quantity: "current", feeds: { ia: 1, ib: 1, ic: 1 } } },
    });
    expect(closing(rehearse([under], three).events, "trip")).toBeCloseTo(2.1, 12);
  });
});

describe("contacts", () => {
  test("are closed while any element holds them", () => {
    const slow = definite({ id: "slow", pickup: 5, law: { curve: { form: "definite", time: 0.5 } } });
    const { events } = rehearse([definite(), slow], moved([stretch(1, 8), stretch(1, 4.2), stretch(1, 0)]));
    const trips = events.filter(({ contact }) => contact === "trip");
    expect(trips.map(({ to, element }) => `${element} ${to}`)).toEqual(["50P closed", "50P open"]);
    expect(trips[1]?.at).toBeCloseTo(2.04, 12);
  });

  test("end the state that waits for them; walking the events comes to the same", () => {
    const pickup = fc.double({ min: 2, max: 10, noNaN: true });
    holds(
      fc.property(pickup, pickup, fc.double({ min: 0.05, max: 2, noNaN: true }), (one, two, give) => {
        const elements = [{ ...relay51, pickup: one }, definite({ pickup: two })];
        const timeline = faultSequence({
          before: { i: { rms: 0.5, frequency: 50 } },
          fault: { i: { rms: 12, frequency: 50 } },
          settleFor: 0.5,
          giveUpAfter: give,
          endsOn: { contact: "trip", to: "closed" },
          afterwards: { channels: { i: { rms: 0, frequency: 50 } }, duration: 1 },
          wiring,
        });
        const { events, stateEnds } = rehearse(elements, timeline);
        const walked = walk(timeline, events);
        expect(walked.states).toHaveLength(stateEnds.length);
        for (const [i, { endedAt }] of walked.states.entries()) expect(endedAt).toBeCloseTo(stateEnds[i]!, 9);
      }),
    );
  });
});

describe("laws", () => {
  const levels = fc.array(
    fc.tuple(fc.double({ min: 0.05, max: 1, noNaN: true }), fc.double({ min: 0, max: 40, noNaN: true })),
    { minLength: 1, maxLength: 6 },
  );

  test("cutting states in two changes nothing", () => {
    holds(
      fc.property(levels, (parts) => {
        const whole = parts.map(([duration, level]) => stretch(duration, level));
        const halves = whole.flatMap((one) => [
          { ...one, duration: one.duration / 2 },
          { ...one, duration: one.duration / 2 },
        ]);
        for (const element of [relay51, definite()]) {
          const [a, b] = [whole, halves].map((pieces) => rehearse([element], moved(pieces)).log);
          expect(b!.map(({ step }) => step)).toEqual(a!.map(({ step }) => step));
          for (const [i, { at }] of a!.entries()) expect(b![i]?.at).toBeCloseTo(at, 9);
        }
      }),
    );
  });

  test("an element starts before it operates and lets go after it has started", () => {
    holds(
      fc.property(levels, (parts) => {
        const { log } = rehearse([relay51], moved(parts.map(([duration, level]) => stretch(duration, level))));
        let [started, last] = [false, 0];
        for (const { step, at } of log) {
          expect(step === "started").toBe(!started);
          started = step !== "released";
          expect(at).toBeGreaterThanOrEqual(last);
          last = at;
        }
      }),
    );
  });
});

describe("errors", () => {
  test("a pickup that is 2 % high starts 2 % later on a ramp", () => {
    const timeline = moved([stretch(10, 0, 10)]);
    const start = (pickup: number) =>
      rehearse([relay51], timeline, { errors: { "51P": { pickup } } }).log[0]!.at - 0.04;
    expect(start(1.02) / start(1)).toBeCloseTo(1.02, 12);
  });

  test("a time law may be slow, a contact late", () => {
    const trip = (error: object) =>
      closing(rehearse([relay51], moved([stretch(5, 12)]), { errors: { "51P": error } }).events, "trip");
    expect(trip({ time: 1.1 })).toBeCloseTo(1.1 * 1.35, 12);
    expect(trip({ delay: 0.03 })).toBeCloseTo(1.38, 12);
    expect(trip({ delay: -0.03 })).toBeCloseTo(1.32, 12);
  });

  test("a slow time law is slow in all its parts", () => {
    const parts = { ...relay51, law: { ...relay51.law, minimumTime: 2, addedTime: 0.5 } };
    const { events } = rehearse([parts], moved([stretch(5, 12)]), { errors: { "51P": { time: 1.1 } } });
    expect(closing(events, "trip")).toBeCloseTo(1.1 * 2.5, 12);
  });

  test("the pickup scatters as wide as it says", () => {
    const timeline = moved([stretch(10, 0, 10)]);
    const errors = { "51P": { scatter: { pickup: 0.01 } } };
    const starts = Array.from(
      { length: 500 },
      (_, seed) => (rehearse([relay51], timeline, { errors, seed }).log[0]!.at - 0.04) / 4 - 1,
    );
    const mean = starts.reduce((a, b) => a + b) / 500;
    const deviation = Math.sqrt(starts.reduce((a, b) => a + (b - mean) ** 2, 0) / 500);
    // Four standard errors of mean and deviation over 500 draws of 1 %.
    expect(Math.abs(mean)).toBeLessThan((4 * 0.01) / Math.sqrt(500));
    expect(Math.abs(deviation - 0.01)).toBeLessThan((4 * 0.01) / Math.sqrt(1000));
  });

  test("scatter is the same for the same seed, and as wide as it says", () => {
    const trip = (seed: number) =>
      closing(
        rehearse([relay51], moved([stretch(5, 12)]), { errors: { "51P": { scatter: { delay: 0.01 } } }, seed }).events,
        "trip",
      )!;
    expect(trip(7)).toBe(trip(7));
    const times = Array.from({ length: 2000 }, (_, seed) => trip(seed) - 1.35);
    const mean = times.reduce((a, b) => a + b) / times.length;
    const deviation = Math.sqrt(times.reduce((a, b) => a + (b - mean) ** 2, 0) / times.length);
    // Four standard errors of mean and deviation over 2,000 draws of 10 ms.
    expect(Math.abs(mean)).toBeLessThan((4 * 0.01) / Math.sqrt(2000));
    expect(Math.abs(deviation - 0.01)).toBeLessThan((4 * 0.01) / Math.sqrt(4000));
  });

  test.each([
    ["scatter without a seed", { errors: { "51P": { scatter: { delay: 0.01 } } } }, "seed"],
    ["an element that does not take part", { errors: { "59": {} } }, "errors.59"],
    ["a delay that scatters below 0", { errors: { "51P": { scatter: { delay: -1 } } } }, "errors.51P.scatter.delay"],
    ["a scatter of what is a ratio", { errors: { "51P": { scatter: { time: 1 } } } }, "errors.51P.scatter.time"],
    ["a pickup of 0", { errors: { "51P": { pickup: 0 } } }, "errors.51P.pickup"],
    ["an unknown error", { errors: { "51P": { gain: 2 } } }, "errors.51P.gain"],
    ["a seed that is none", { seed: 1.5 }, "seed"],
    ["an unknown option", { seeds: 1 }, "seeds"],
  ])("%s is refused by name", (_what, given, path) => {
    expect(problemsOf(() => rehearse([relay51], moved([stretch(1, 1)]), given as never))).toMatchObject([{ path }]);
  });

  test.each([
    ["no elements", [undefined, moved([stretch(1, 1)])], /^elements/],
    ["no timeline", [[relay51], undefined], /^timeline/],
    ["a bad element", [[{ ...relay51, pickup: -1 }], moved([stretch(1, 1)])], /^elements\[0\]\.pickup$/],
  ])("%s is refused by name", (_what, given, path) => {
    expect(problemsOf(() => rehearse(...(given as Parameters<typeof rehearse>)))[0]?.path).toMatch(path);
  });
});

test("where a function lets go is where the rehearsal lets go, for every function", () => {
  for (const setting of usualSettings) {
    const [start, dropout] = [startLevel(setting), dropoutLevel(setting)];
    expect(Math.sign(start - dropout)).toBe(definitionOf(setting.function).side === "over" ? 1 : -1);
  }
});
