/** Profiles: what is drawn is what `stateAt` and `walk` say. */
import fc from "fast-check";
import { type ProfileFigureOptions, profileFigure } from "tripwright/figure";
import { faultSequence, linearRamp, ramp, staircase, stateAt, type Timeline, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { axisOf, checkData, drawn, layersOf, rowsOf, viewsOf } from "./drawn.js";

const wiring = {
  i: { quantity: "current", feeds: { ia: 1 } },
  va: { quantity: "voltage", feeds: { va: 1 } },
  vb: { quantity: "voltage", feeds: { vb: 1 } },
} as const;
const volts = (rms: number) => ({ va: { rms, frequency: 50 }, vb: { rms, frequency: 50 } });
const fault = faultSequence({
  before: { i: { rms: 1, frequency: 50 }, ...volts(63.5) },
  fault: { i: { rms: 12, frequency: 50, angle: -75 }, ...volts(63.5), va: { rms: 20, frequency: 50 } },
  settleFor: 0.5,
  giveUpAfter: 3,
  endsOn: { contact: "trip", to: "closed" },
  afterwards: { channels: {}, duration: 0.2 },
  wiring,
});
const figureOf = (change: Partial<ProfileFigureOptions> = {}) =>
  profileFigure({ title: "51P", timeline: fault, ...change });
const at = (row: { readonly [field: string]: unknown }) => row as { time: number; value: number; run: number };

describe("every value", () => {
  test("survives JSON, also an angle of −0", () => {
    const timeline = ramp({
      base: { va: { rms: 1, frequency: 0, angle: -0 } },
      lever: { va: { frequency: 1 } },
      pieces: linearRamp({ from: 45, to: 46, rate: 1 }),
      wiring,
    });
    checkData(profileFigure({ title: "r", timeline, quantities: ["angle"], channels: ["va"] }));
  });

  const moving = fc
    .record({
      from: between(45, 55),
      to: between(45, 55),
      rate: between(0.01, 10),
      rms: between(0, 100),
      angle: between(-180, 180),
    })
    .filter(({ from, to }) => Math.abs(from - to) > 1e-3);

  test("is that of stateAt, on ramps of frequency and of rms", () => {
    holds(
      fc.property(
        moving,
        fc.constantFrom("frequency" as const, "rms" as const),
        ({ from, to, rate, rms, angle }, moved) => {
          const base = {
            va: moved === "rms" ? { rms: 0, frequency: 50, angle } : { rms: rms + 1, frequency: 0, angle },
          };
          const timeline = ramp({
            base,
            lever: { va: { [moved]: 1 } },
            pieces: linearRamp({ from, to, rate }),
            wiring,
          });
          const figure = profileFigure({
            title: "r",
            timeline,
            quantities: ["rms", "frequency", "angle"],
            channels: ["va"],
          });
          for (const [panel, quantity] of [
            ["voltage", "rms"],
            ["frequency", "frequency"],
            ["angle", "angle"],
          ] as const)
            for (const { time, value } of rowsOf(figure, new RegExp(`^${panel} course`)).map(at))
              expect(value).toBeCloseTo(stateAt(timeline, time).channels["va"]?.[quantity] ?? 0, 9);
          checkData(figure);
        },
      ),
      60,
    );
  });

  test("of a staircase is its level, at the beginning and at the end of each state", () => {
    const timeline = ramp({
      base: { i: { rms: 0, frequency: 50 } },
      lever: { i: { rms: 1 } },
      pieces: staircase({ from: 3.6, to: 4.4, step: 0.1, dwell: 0.3 }),
      wiring,
    });
    const rows = rowsOf(profileFigure({ title: "s", timeline, quantities: ["rms"] }), /course/).map(at);
    expect(rows.map(({ value }) => value)).toEqual(
      [3.6, 3.7, 3.8, 3.9, 4, 4.1, 4.2, 4.3, 4.4].flatMap((level) => [level, level]),
    );
    expect(rows.slice(0, 4).map(({ time }) => time)).toEqual([0, 0.3, 0.3, 0.6]);
  });
});

describe("contacts", () => {
  const events = [
    { contact: "52a", at: 0, to: "closed" },
    { contact: "start", at: 0.53, to: "closed" },
    { contact: "trip", at: 1.92, to: "closed" },
    { contact: "start", at: 1.97, to: "open" },
  ] as const;

  test("end the states that wait for them, and the operate time is that of walk", () => {
    const figure = figureOf({ events });
    const walked = walk(fault, events);
    expect(walked.operateTime).toBe(1.42);
    expect(rowsOf(figure, /operate times$/)).toEqual([{ time: 0.5, end: 1.92, value: 0.25 }]);
    expect(
      rowsOf(figure, /^current course/)
        .map(at)
        .at(-1)?.time,
    ).toBe(walked.endedAt);
    expect(figure.description).toContain("Operate time 1.42 s.");
  });

  test("are bars while they are closed, marks where they change, dashed lines through every panel", () => {
    const figure = figureOf({ events });
    const closed = rowsOf(figure, /closed$/).map(({ time, end }) => [time, end]);
    expect(closed).toEqual([
      [0, 2.12],
      [0.53, 1.97],
      [1.92, 2.12],
    ]);
    expect(rowsOf(figure, /changes$/).map(({ time }) => time)).toEqual([0.53, 1.97, 1.92]);
    for (const { name } of viewsOf(figure))
      expect(rowsOf(figure, new RegExp(`^${name} contacts$`)).map(({ time }) => time)).toEqual([0.53, 1.92, 1.97]);
    const labels = rowsOf(figure, /contact labels$/).map(({ label }) => label);
    expect(labels).toEqual([
      "52a closed",
      "start closed 0.53 s, open 1.97 s",
      "trip closed 1.92 s",
      "operate time 1.42 s",
    ]);
  });

  test("that open first were closed before", () => {
    const figure = figureOf({ events: [{ contact: "52a", at: 2, to: "open" }] });
    expect(rowsOf(figure, /closed$/).map(({ time, end }) => [time, end])).toEqual([[0, 2]]);
  });

  test("give no operate time where nothing says from when it counts", () => {
    const timeline = ramp({
      base: { va: { rms: 60, frequency: 0 } },
      lever: { va: { frequency: 1 } },
      pieces: linearRamp({ from: 50, to: 48, rate: 0.5 }),
      wiring,
    });
    const trip = [{ contact: "trip", at: 2.3, to: "closed" }] as const;
    expect(rowsOf(profileFigure({ title: "r", timeline, events: trip }), /operate times$/)).toEqual([]);
    const threshold = { channel: "va", quantity: "frequency", level: 49 } as const;
    const [row] = rowsOf(profileFigure({ title: "r", timeline, events: trip, how: { threshold } }), /operate times$/);
    // 49 Hz is crossed after 2 s.
    expect([row?.["time"], row?.["end"]]).toEqual([2, 2.3].map((x) => expect.closeTo(x, 12)));
  });
});

describe("channels", () => {
  test("that do the same are one line with all their names; those that are off have no frequency", () => {
    const figure = figureOf({ quantities: ["rms", "frequency", "angle"] });
    const named = (panel: string) => rowsOf(figure, new RegExp(`^${panel} names$`)).map(({ label }) => label);
    expect(named("voltage")).toEqual(["va", "vb"]);
    expect(named("frequency")).toEqual(["i, va, vb"]);
    expect(named("angle")).toEqual(["i", "va, vb"]);
    expect(Math.max(...rowsOf(figure, /^frequency course/).map((row) => at(row).time))).toBe(3.5);
    expect(
      rowsOf(figure, /^voltage course 1/)
        .map(at)
        .at(-1),
    ).toMatchObject({ time: 3.7, value: 0 });
  });

  test("that come back after a pause are lines of their own", () => {
    const on = { i: { rms: 1, frequency: 50 } };
    const timeline: Timeline = {
      wiring: { i: wiring.i },
      segments: [
        { name: "a", duration: 1, channels: on },
        { name: "pause", duration: 1, channels: {} },
        { name: "b", duration: 1, channels: on },
      ],
    };
    const runs = rowsOf(profileFigure({ title: "p", timeline }), /^frequency course/).map(({ time, run }) => [
      time,
      run,
    ]);
    expect(runs).toEqual([
      [0, 0],
      [1, 0],
      [2, 1],
      [3, 1],
    ]);
  });

  test("are those asked for, once", () => {
    const figure = figureOf({ channels: ["vb", "vb"], quantities: ["rms"] });
    expect(viewsOf(figure)).toHaveLength(1);
    expect(rowsOf(figure, /names$/).map(({ label }) => label)).toContain("vb");
  });
});

describe("states", () => {
  const inSteps = (names: readonly string[], durations: readonly number[]) =>
    profileFigure({
      title: "s",
      timeline: {
        wiring: { i: wiring.i },
        segments: names.map((name, i) => ({
          name,
          duration: durations[i] as number,
          channels: { i: { rms: 1, frequency: 50 } },
        })),
      },
    });
  const labels = (figure: ReturnType<typeof inSteps>, row: RegExp) => rowsOf(figure, row).map(({ label }) => label);

  test("are named in a row where all have room", () => {
    const figure = inSteps(["pre-fault", "fault"], [1, 1]);
    expect(labels(figure, /state names$/)).toEqual(["pre-fault", "fault"]);
    expect(figure.title.subtitle).toBeUndefined();
  });

  test("too short for their names have them in a second row", () => {
    const figure = inSteps(["pre-fault", "dead time", "fault"], [1, 0.05, 1]);
    const [one, two] = [labels(figure, /state names$/), labels(figure, /state names above$/)];
    expect([...one, ...two].toSorted()).toEqual(["dead time", "fault", "pre-fault"]);
  });

  test("of which many are short are numbers, and the list says what these are", async () => {
    const names = Array.from({ length: 9 }, (_, i) => `a state of its own ${i}`);
    const figure = inSteps(
      names,
      names.map(() => 0.1),
    );
    expect(labels(figure, /state names( above)?$/)).toEqual(names.map((_, i) => `${i + 1}`));
    expect(figure.title.subtitle?.join(" ")).toBe(names.map((name, i) => `${i + 1} ${name}`).join(" · "));
    expect(await drawn(figure)).toContain("9 a state of its own 8");
  });
});

describe("the axis of rms values", () => {
  const axisFrom = (from: number, to: number) => {
    const timeline: Timeline = {
      wiring: { va: wiring.va },
      segments: [from, to].map((rms) => ({ name: `${rms}`, duration: 1, channels: { va: { rms, frequency: 50 } } })),
    };
    const figure = profileFigure({ title: "v", timeline, quantities: ["rms"] });
    return axisOf(layersOf(figure).at(-1) as never, "y").scale.domain;
  };

  test("begins at 0 where the smallest is below half of the largest", () => {
    expect(axisFrom(63.5, 30)).toEqual([0, 80]);
    expect(axisFrom(12, 1)[0]).toBe(0);
  });

  test("else leaves room below the lowest, and never goes below 0", () => {
    holds(
      fc.property(between(1, 200), between(0.501, 1), (high, share) => {
        const [bottom, top] = axisFrom(high, high * share);
        expect(bottom).toBeLessThan(high * share);
        expect(bottom).toBeGreaterThanOrEqual(0);
        expect(top).toBeGreaterThanOrEqual(high);
      }),
    );
    expect(axisFrom(70, 50)[0]).toBeLessThan(50);
  });
});

describe("a window", () => {
  const events = [
    { contact: "trip", at: 1.92, to: "closed" },
    { contact: "52a", at: 0, to: "closed" },
    { contact: "52a", at: 2.05, to: "open" },
  ] as const;

  test("shows what is in it, with the values that the sequence has there", () => {
    const timeline = ramp({
      base: { va: { rms: 60, frequency: 0 } },
      lever: { va: { frequency: 1 } },
      pieces: linearRamp({ from: 50, to: 46, rate: 0.5 }),
      wiring,
    });
    holds(
      fc.property(between(0, 3.9), between(0.01, 1), (from, share) => {
        const to = from + share * (8 - from);
        const figure = profileFigure({ title: "w", timeline, from, to });
        const rows = rowsOf(figure, /^frequency course/).map(at);
        expect(rows.map(({ time }) => time)).toEqual([from, to]);
        for (const { time, value } of rows) expect(value).toBeCloseTo(50 - 0.5 * time, 9);
        checkData(figure);
      }),
      40,
    );
  });

  test("cuts states, contacts and the operate time, whose label stays whole", () => {
    const figure = figureOf({ events, from: 1, to: 2 });
    checkData(figure);
    expect(axisOf(layersOf(figure).at(-1) as never, "x").scale.domain).toEqual([1, 2]);
    expect(rowsOf(figure, /^contacts closed$/).map(({ time, end }) => [time, end])).toEqual([
      [1, 2],
      [1.92, 2],
    ]);
    expect(rowsOf(figure, /operate times$/)).toEqual([{ time: 1, end: 1.92, value: 0.25 }]);
    expect(rowsOf(figure, /contact labels$/).map(({ label }) => label)).toEqual([
      "52a closed, open 2.05 s",
      "trip closed 1.92 s",
      "operate time 1.42 s",
    ]);
    expect(figure.description).toContain("fault from 1 to 1.92 s; afterwards from 1.92 to 2 s.");
  });

  test("in which nothing changes says how each contact stands", () => {
    const figure = figureOf({ events, from: 1, to: 1.5 });
    expect(rowsOf(figure, /contact labels$/).map(({ label }) => label)).toEqual([
      "52a closed, open 2.05 s",
      "trip open",
      "operate time 1.42 s",
    ]);
    expect(rowsOf(figure, /^contacts changes$/)).toEqual([]);
    // The trip at 1.92 s is not in it, nor is its time.
    expect(figure.description).not.toMatch(/trip|Operate time/);
  });
});

test("several operate times stand beside one another, and one that would cover another is left out", () => {
  const state = (rms: number) => ({ i: { rms, frequency: 50 } });
  const fault = (name: string) =>
    ({ name, duration: 2, channels: state(12), clock: "starts", endsOn: { contact: "trip", to: "closed" } }) as const;
  const rest = (name: string, duration: number) => ({ name, duration, channels: state(1) });
  const timeline: Timeline = {
    wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
    segments: [rest("a", 5), fault("1"), rest("b", 0.5), fault("2"), rest("c", 4), fault("3"), rest("d", 1)],
  };
  const at = [5.3, 6.05, 10.3];
  const trips = at.flatMap((closes) => [
    { contact: "trip", at: closes, to: "closed" } as const,
    { contact: "trip", at: closes + 0.1, to: "open" } as const,
  ]);
  const labels = rowsOf(profileFigure({ title: "79", timeline, events: trips }), /contact labels$/);
  const times = labels.filter(({ value }) => value === 0.7).map(({ label }) => label);
  // The second fault begins 0.8 s behind the first, of 11 s on 600 pixels: no room before "operate time 0.3 s" ends.
  expect(times).toEqual(["operate time 0.3 s", "0.25 s"]);
});

test("a threshold is a rule across the panel of its quantity, at its level", async () => {
  const timeline = ramp({
    base: { va: { rms: 60, frequency: 0 } },
    lever: { va: { frequency: 1 } },
    pieces: linearRamp({ from: 50, to: 48, rate: 0.5 }),
    wiring,
  });
  const threshold = { channel: "va", quantity: "frequency", level: 47.5 } as const;
  const figure = profileFigure({ title: "81U", timeline, how: { threshold } });
  expect(rowsOf(figure, /threshold$/)).toEqual([{ time: 0, value: 47.5, to: 4 }]);
  expect(rowsOf(figure, /^frequency threshold label$/)[0]?.["label"]).toBe("threshold 47.5 Hz");
  expect(rowsOf(figure, /^voltage threshold/)).toEqual([]);
  await drawn(figure);
});

describe("a contact that bounces", () => {
  const bounce = (count: number, step: number) =>
    Array.from(
      { length: count },
      (_, i) => ({ contact: "trip", at: 2 + i * step, to: i % 2 === 0 ? "closed" : "open" }) as const,
    );
  const saidOf = (events: ProfileFigureOptions["events"]) => {
    const figure = figureOf({ events: events ?? [] });
    return {
      label: rowsOf(figure, /contact labels$/)[0]?.["label"],
      uprights: rowsOf(figure, /^frequency contacts$/).map(({ time }) => time),
      figure,
    };
  };

  test("is one line through the panels, and said to bounce, with how it stood in the end", () => {
    const { label, uprights, figure } = saidOf(bounce(20, 0.001));
    expect(uprights).toEqual([2]);
    expect(label).toBe("trip closed 2 s, bounces, open from 2.019 s");
    expect(figure.description).toContain("trip closed at 2 s, bounces, open from 2.019 s.");
    expect(saidOf(bounce(3, 0.002)).label).toBe("trip closed 2 s, bounces, closed from 2.004 s");
  });

  test("is told from one that changes slowly, and from a short pulse", () => {
    expect(saidOf(bounce(3, 0.05)).uprights).toEqual([2, 2.05, 2.1]);
    expect(saidOf(bounce(2, 0.002)).label).toBe("trip closed 2 s, open 2.002 s");
    const how = { debounce: 0.06 };
    const figure = figureOf({ events: bounce(3, 0.05), how });
    expect(rowsOf(figure, /^frequency contacts$/)).toHaveLength(1);
  });
});

test("labels of contacts end with the panel where they would leave it", () => {
  const figure = figureOf({ events: [{ contact: "trip", at: 3.6, to: "closed" }], from: 0 });
  const [row] = rowsOf(figure, /contact labels$/);
  expect(row).toMatchObject({ align: "right", time: 3.7 });
});

test("every axis has its unit, and states their names", () => {
  const figure = figureOf({ quantities: ["rms", "frequency", "angle"] });
  const names = rowsOf(figure, /state names( above)?$/).map(({ label }) => label);
  expect(names).toEqual(["pre-fault", "fault", "afterwards"]);
  const titles = viewsOf(figure).map(({ layer }) => axisOf(layer.at(-1) as never, "y").axis.title);
  expect(titles).toEqual(["Voltage (V rms)", "Current (A rms)", "Frequency (Hz)", "Angle (°)"]);
  expect(axisOf(layersOf(figure).at(-1) as never, "x").axis.title).toBe("Time (s)");
});

test("is drawn, with contacts that bounce too", async () => {
  const bounce = Array.from(
    { length: 20 },
    (_, i) => ({ contact: "trip", at: 2 + i / 1000, to: i % 2 === 0 ? "closed" : "open" }) as const,
  );
  const svg = await drawn(figureOf({ events: bounce, quantities: ["rms", "frequency", "angle"] }));
  expect(svg).toContain(">Contacts<");
  await drawn(figureOf());
});

describe("refuses", () => {
  const given = { title: "t", timeline: fault };
  test.each([
    ["an unknown option", { ...given, channel: "i" }, "channel"],
    ["a timeline that is none", { ...given, timeline: { wiring, segments: [] } }, "timeline.segments"],
    ["a channel that is not wired", { ...given, channels: ["i", "vd"] }, "channels[1]"],
    ["no channels", { ...given, channels: [] }, "channels"],
    ["an unknown quantity", { ...given, quantities: ["rms", "power"] }, "quantities[1]"],
    ["a window before the start", { ...given, from: -1 }, "from"],
    ["a window that begins at the end", { ...given, from: 3.7 }, "from"],
    ["a window beyond the end", { ...given, to: 3.8 }, "to"],
    ["a window that ends before it begins", { ...given, from: 2, to: 1 }, "to"],
    ["a window that is none", { ...given, to: Number.NaN }, "to"],
    ["no quantities", { ...given, quantities: [] }, "quantities"],
    ["a bad event", { ...given, events: [{ contact: "trip", at: "1", to: "closed" }] }, "events[0].at"],
    ["a bad debounce", { ...given, how: { debounce: -1 } }, "how.debounce"],
    [
      "a bad threshold",
      { ...given, how: { threshold: { channel: "x", quantity: "rms", level: 1 } } },
      "how.threshold.channel",
    ],
    ["a bad operation", { ...given, how: { operation: { to: "shut" } } }, "how.operation.to"],
    ["an unknown way to read contacts", { ...given, how: { bounce: 0.01 } }, "how.bounce"],
    ["a way to read contacts that is none", { ...given, how: null }, "how"],
    [
      "a sequence in which nothing is on",
      { ...given, timeline: { wiring, segments: [{ name: "a", duration: 1, channels: {} }] } },
      "channels",
    ],
  ])("%s", (_what, options, path) => {
    expect(problemsOf(() => profileFigure(options as unknown as ProfileFigureOptions))[0]?.path).toBe(path);
  });
});
