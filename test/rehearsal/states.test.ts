import fc from "fast-check";
import { operateTime, resetTime } from "tripwright/curve";
import type { ElementSetting } from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import { type Piece, ramp, type Timeline, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const relay = (change: object = {}): ElementSetting =>
  ({
    id: "50P",
    function: "50",
    watches: "phase",
    pickup: 4,
    law: { curve: { form: "definite", time: 0.3 } },
    measuringDelay: 0.04,
    contact: "trip",
    startContact: "start",
    accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
    ...change,
  }) as ElementSetting;
const stretch = (duration: number, from: number, to = from): Piece => ({ duration, from, to });
const onPhase = (pieces: readonly Piece[], feeds: object = { ia: 1 }): Timeline =>
  ramp({
    base: { i: { rms: 0, frequency: 50 } },
    lever: { i: { rms: 1 } },
    pieces,
    wiring: { i: { quantity: "current", feeds } } as never,
  });
const stepsOf = (elements: readonly ElementSetting[], timeline: Timeline) =>
  rehearse(elements, timeline).log.map(({ step, at }) => `${step} ${Number(at.toFixed(9))}`);

/** What contacts do, from slots of 10 ms in which a function is beyond its start or not: the words of the definitions. */
function contactsOf(started: readonly boolean[], { delay, time }: { delay: number; time: number }) {
  const changes: string[] = [];
  const lasts = (from: number, to: number, value: boolean) =>
    from >= 0 && started.slice(from, to).every((one) => one === value);
  let [start, trip] = [false, false];
  for (let at = 0; at <= started.length; at++) {
    if (start && lasts(at - delay, at, false)) {
      if (trip) changes.push(`trip open ${at}`);
      changes.push(`start open ${at}`);
      [start, trip] = [false, false];
    }
    if (!start && lasts(at - delay, at, true)) {
      changes.push(`start closed ${at}`);
      start = true;
    }
    if (start && !trip && lasts(at - Math.max(time, delay), at, true)) {
      changes.push(`trip closed ${at}`);
      trip = true;
    }
  }
  return changes.sort();
}

describe("against the definitions, slot by slot", () => {
  const level = fc.constantFrom(0, 3.7, 3.9, 4.1, 9);
  const levels = fc.array(fc.tuple(fc.integer({ min: 1, max: 12 }), level), { minLength: 1, maxLength: 12 });

  test("start and trip contacts of a definite time with hysteresis and a measuring delay", () => {
    holds(
      fc.property(levels, fc.integer({ min: 1, max: 8 }), fc.integer({ min: 1, max: 20 }), (parts, delay, time) => {
        let isStarted = false;
        const started = parts.flatMap(([slots, amperes]) => {
          // Starts above 4 A, lets go below 3.8 A.
          isStarted = isStarted ? amperes >= 3.8 : amperes > 4;
          return Array.from({ length: slots }, () => isStarted);
        });
        const law = { curve: { form: "definite", time: time / 100 } };
        const { events } = rehearse(
          [relay({ law, measuringDelay: delay / 100 })],
          onPhase(parts.map(([slots, amperes]) => stretch(slots / 100, amperes))),
        );
        expect(events.map(({ contact, to, at }) => `${contact} ${to} ${Number((at * 100).toFixed(6))}`).sort()).toEqual(
          contactsOf(started, { delay, time }),
        );
      }),
    );
  });
});

describe("how a law runs back", () => {
  test("a disk by what is left of the current: t_r/(1 − M²)", () => {
    const law = { curve: "ieee-very-inverse", multiplier: 1 } as const;
    const disk = relay({ id: "51P", function: "51", law, measuringDelay: 0 });
    holds(
      fc.property(fc.double({ min: 0, max: 3.7, noNaN: true }), (left) => {
        const trip = rehearse([disk], onPhase([stretch(0.9, 12), stretch(2, left), stretch(20, 12)])).events.find(
          ({ contact }) => contact === "trip",
        );
        const whole = operateTime(law, 3);
        const travel = Math.max(0, 0.9 / whole - 2 / resetTime(law, left / 4));
        expect(trip?.at).toBeCloseTo(2.9 + (1 - travel) * whole, 9);
      }),
    );
  });

  test("slowly between dropout and start, once it has let go", () => {
    const law = { curve: "ieee-very-inverse", multiplier: 1 } as const;
    const disk = relay({ id: "51P", function: "51", law, measuringDelay: 0 });
    const { events } = rehearse(
      [disk],
      onPhase([stretch(0.9, 12), stretch(0.1, 3.5), stretch(3, 3.9), stretch(9, 12)]),
    );
    const travel = 0.9 / operateTime(law, 3) - 0.1 / resetTime(law, 3.5 / 4) - 3 / resetTime(law, 3.9 / 4);
    expect(events.at(-1)?.at).toBeCloseTo(4 + (1 - travel) * operateTime(law, 3), 9);
  });

  test("not at all between dropout and start, while it has not let go", () => {
    const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
    const inverse = relay({ id: "51P", function: "51", law, measuringDelay: 0 });
    const { events } = rehearse([inverse], onPhase([stretch(1, 12), stretch(5, 3.9), stretch(1, 12)]));
    expect(events.find(({ contact }) => contact === "trip")?.at).toBeCloseTo(5 + operateTime(law, 3), 12);
  });

  test("an under function whose dropout is its start times from where it falls below", () => {
    const under = relay({
      id: "37",
      function: "37",
      phases: "any",
      dropout: { ratio: 1 },
      law: { curve: { form: "definite", time: 1, side: "under" } },
    });
    const all = { ia: 1, ib: 1, ic: 1 };
    expect(stepsOf([under], onPhase([stretch(5, 8), stretch(3, 1)], all))).toEqual(["started 5.04", "operated 6"]);
  });
});

describe("outside a drawn curve", () => {
  const points = [
    { multiple: 2, time: 8 },
    { multiple: 4, time: 2 },
  ];
  const drawn = relay({ id: "51P", function: "51", law: { curve: { form: "table", points } } });

  test("it starts and does not operate below its first point, where what it has travelled stays", () => {
    expect(stepsOf([drawn], onPhase([stretch(100, 5)]))).toEqual(["started 0.04"]);
    expect(stepsOf([drawn], onPhase([stretch(1, 16), stretch(10, 5), stretch(3, 16)]))).toEqual([
      "started 0.04",
      "operated 12",
    ]);
    // Below 3.8 A it lets go, and begins anew.
    expect(stepsOf([drawn], onPhase([stretch(1, 16), stretch(1, 3.7), stretch(3, 16)]))).toEqual([
      "started 0.04",
      "released 1.04",
      "started 2.04",
      "operated 4",
    ]);
  });

  test("it operates beyond its last point as at the last", () => {
    expect(stepsOf([drawn], onPhase([stretch(3, 40)]))).toEqual(["started 0.04", "operated 2"]);
    const low = relay({ id: "51P", function: "51", law: { curve: { form: "table", points }, ceilingMultiple: 2.5 } });
    const at = stepsOf([low], onPhase([stretch(9, 40)]))[1];
    // Straight on logarithmic axes from 8 s at 2 × to 2 s at 4 ×: t = 8 · (M/2)^−2
    expect(at).toBe(`operated ${8 / 1.25 ** 2}`);
  });
});

describe("blocking", () => {
  const blocked = relay({
    id: "37",
    function: "37",
    phases: "all",
    blockBelow: 1,
    law: { curve: { form: "definite", time: 1, side: "under" } },
  });
  const all = { ia: 1, ib: 1, ic: 1 };

  test("a function lets go where it is blocked, and times anew afterwards", () => {
    expect(
      stepsOf([blocked], onPhase([stretch(1, 8), stretch(0.9, 2), stretch(0.5, 0.5), stretch(2, 2)], all)),
    ).toEqual(["started 1.04", "released 1.94", "started 2.44", "operated 3.4"]);
  });

  test("what it has travelled is gone after it was blocked, also where it lets go at its start", () => {
    const law = { curve: "undervoltage-inverse", multiplier: 1 } as const;
    const dip = relay({
      id: "27",
      function: "27",
      watches: "line-to-neutral",
      phases: "any",
      pickup: 50,
      blockBelow: 10,
      dropout: { ratio: 1 },
      law,
    });
    const timeline = ramp({
      base: { v: { rms: 0, frequency: 50 } },
      lever: { v: { rms: 1 } },
      pieces: [stretch(1, 60), stretch(1, 25), stretch(1, 5), stretch(5, 25)],
      wiring: { v: { quantity: "voltage", feeds: { va: 1, vb: 1, vc: 1 } } },
    });
    expect(operateTime(law, 0.5)).toBeGreaterThan(1);
    expect(rehearse([dip], timeline).events.at(-1)).toMatchObject({ contact: "trip", to: "closed" });
    expect(rehearse([dip], timeline).events.at(-1)?.at).toBeCloseTo(3 + operateTime(law, 0.5), 9);
  });

  test("along a falling current it starts at the setting and is blocked where the feeder is dead", () => {
    // From 8 A to 0 A in 8 s: below 4 A from 4 s, operated at 5 s, blocked below 1 A from 7 s.
    expect(stepsOf([blocked], onPhase([stretch(8, 8, 0)], all))).toEqual([
      "started 4.04",
      "operated 5",
      "released 7.04",
    ]);
  });
});

describe("a thermal image", () => {
  const law = { curve: { form: "thermal", tau: 60, coolingTau: 90 } } as const;
  const thermal = (change: object = {}) =>
    relay({ id: "49", function: "49", rotation: "ABC", law: { ...law, ...change }, measuringDelay: 0.1 });
  const operated = operateTime(law, 2);

  test("lets go where it has cooled to its release", () => {
    const reset = { form: "cooling", release: 0.8 } as const;
    const log = stepsOf([thermal({ reset })], onPhase([stretch(operated, 8), stretch(100, 0)]));
    const cooled = operated + resetTime({ ...law, reset }, 0) + 0.1;
    expect(log).toEqual([
      "started 0.1",
      `operated ${Number(operated.toFixed(9))}`,
      `released ${Number(cooled.toFixed(9))}`,
    ]);
  });

  test("goes on heating after it has operated, so that it cools from higher", () => {
    const reset = { form: "cooling", release: 0.8 } as const;
    const log = rehearse(
      [thermal({ reset })],
      onPhase([stretch(2 * operated, 8), stretch(9, 12), stretch(200, 0)]),
    ).log;
    const first = 4 * -Math.expm1((-2 * operated) / 60);
    const level = 9 + (first - 9) * Math.exp(-9 / 60);
    expect(log.at(-1)?.step).toBe("released");
    expect(log.at(-1)?.at).toBeCloseTo(2 * operated + 9 + 90 * Math.log(level / 0.8) + 0.1, 9);
  });

  test("does not let go where the current that is left holds it above its release", () => {
    const log = (release: number) =>
      stepsOf(
        [thermal({ reset: { form: "cooling", release } })],
        // 0.8 of the setting leaves 0.64.
        onPhase([stretch(operated, 8), stretch(1e4, 3.2)]),
      );
    expect(log(0.6)).toHaveLength(2);
    expect(log(0.7)).toHaveLength(3);
  });

  test("remembers what it has carried", () => {
    // A load of 3 A for an hour leaves (3/4)²; from there ln((4 − 9/16)/(4 − 1)) of tau.
    const log = rehearse([thermal()], onPhase([stretch(3600, 3), stretch(60, 8)])).log;
    expect(log[1]?.step).toBe("operated");
    expect(log[1]?.at).toBeCloseTo(3600 + operateTime(law, 2, { preload: 0.75 }), 9);
  });
});

describe("contacts that are late or early", () => {
  const pickup = fc.double({ min: 2, max: 10, noNaN: true });
  const delay = fc.double({ min: -0.1, max: 0.2, noNaN: true });
  const lasts = fc.integer({ min: 1, max: 60 }).map((n) => n / 100);

  test("end the states that wait for them, as walking their events says; nothing happens before its cause", () => {
    holds(
      fc.property(
        fc.array(fc.tuple(lasts, fc.constantFrom(0, 1, 3, 9, 15), fc.boolean(), fc.boolean()), {
          minLength: 1,
          maxLength: 8,
        }),
        fc.tuple(pickup, pickup),
        fc.tuple(delay, delay),
        (states, [one, two], [first, second]) => {
          const timeline: Timeline = {
            wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
            segments: states.map(([duration, rms, waits, closes]) => ({
              name: `${rms} A`,
              duration,
              channels: { i: { rms, frequency: 50 } },
              ...(waits && { endsOn: { contact: "trip", to: closes ? "closed" : "open" } as const }),
            })),
          };
          const slow = relay({
            id: "51P",
            function: "51",
            pickup: two,
            law: { curve: "iec-extremely-inverse", multiplier: 0.05 },
          });
          const errors = { "50P": { delay: first }, "51P": { delay: second } };
          const { events, log, stateEnds } = rehearse([relay({ pickup: one }), slow], timeline, { errors });
          const walked = walk(timeline, events).states.map(({ endedAt }) => endedAt);
          expect(walked).toHaveLength(stateEnds.length);
          for (const [i, end] of stateEnds.entries()) expect(walked[i]).toBeCloseTo(end, 9);
          for (const [i, { at }] of log.entries()) expect(at).toBeGreaterThanOrEqual(log[i - 1]?.at ?? 0);
          for (const { at } of events) expect(at).toBeLessThanOrEqual((stateEnds.at(-1) as number) + 1e-9);
        },
      ),
    );
  });

  test("one that is early closes as the level rises, and ends the state that waited until then, not the next", () => {
    const timeline: Timeline = {
      wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
      segments: [9, 15].map((rms, i) => ({
        name: `${rms} A`,
        duration: i === 0 ? 0.06 : 0.43,
        channels: { i: { rms, frequency: 50 } },
        endsOn: { contact: "trip", to: "closed" } as const,
      })),
    };
    const slow = relay({
      id: "51P",
      function: "51",
      pickup: 2,
      law: { curve: "iec-extremely-inverse", multiplier: 0.05 },
    });
    // At 9 A it would take 0.21 s; at 15 A less than 0.1 s is left of it at once.
    const { events, stateEnds } = rehearse([slow], timeline, { errors: { "51P": { delay: -0.1 } } });
    expect(events.find(({ contact }) => contact === "trip")?.at).toBe(0.06);
    expect(stateEnds).toEqual([0.06, 0.49]);
    expect(walk(timeline, events).states.map(({ endedAt }) => endedAt)).toEqual(stateEnds);
  });

  test.each([
    ["whole", [stretch(5, 12)]],
    ["cut right before it closes", [stretch(0.26, 12), stretch(5, 12)]],
    ["cut right after it", [stretch(0.28, 12), stretch(5, 12)]],
  ])("an early one closes at the same instant, however the fault is cut: %s", (_how, pieces) => {
    const { events } = rehearse([relay()], onPhase(pieces), { errors: { "50P": { delay: -0.03 } } });
    expect(events[1]).toMatchObject({ contact: "trip", to: "closed" });
    expect(events[1]?.at).toBeCloseTo(0.27, 12);
  });

  test("an early one does not close before the fault that it sees", () => {
    const fast = relay({ id: "51P", function: "51", law: { curve: "iec-extremely-inverse", multiplier: 0.05 } });
    const { events } = rehearse([fast], onPhase([stretch(0.5, 4.4), stretch(1, 400)]), {
      errors: { "51P": { delay: -0.2 } },
    });
    expect(events.find(({ contact }) => contact === "trip")?.at).toBe(0.5);
  });

  test("a late one that has been let go meanwhile does not close", () => {
    const late = { errors: { "50P": { delay: 0.5 } } };
    expect(rehearse([relay()], onPhase([stretch(0.4, 12), stretch(1, 0)]), late).log.map(({ step }) => step)).toEqual([
      "started",
      "released",
    ]);
  });
});

test("one element takes a contact over from another without a gap", () => {
  // The over function lets go at 1.04 s, where the under function, which has been quiet, is through with its time.
  const over = relay({ law: { curve: { form: "definite", time: 0 } } });
  const under = relay({
    id: "37",
    function: "37",
    phases: "any",
    startContact: undefined,
    law: { curve: { form: "definite", time: 0.04, side: "under" } },
  });
  const { events } = rehearse([over, under], onPhase([stretch(1, 8), stretch(1, 1)], { ia: 1, ib: 1, ic: 1 }));
  expect(events.filter(({ contact }) => contact === "trip").map(({ to, element }) => `${element} ${to}`)).toEqual([
    "50P closed",
  ]);
});
