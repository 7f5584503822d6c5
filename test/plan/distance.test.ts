import fc from "fast-check";
import { plan, type Sheet } from "tripwright/plan";
import { judge } from "tripwright/record";
import { type RehearsalOptions, rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  distance21,
  distanceElements,
  distanceZone2,
  instantaneous50,
  inverse51,
  read,
  reasonFor,
  synchronism25,
} from "../support/sheets.js";

const zone1 = (change: object = {}) => ({ ...distance21, ...change });
const phaseZone = (change: object = {}) => {
  const { earth: _, ...rest } = distance21;
  return { ...rest, watches: "phase-loops", ...change };
};
/** Which checks of a sheet a relay fails that is set as another sheet says, or is off. */
function failedBy(sheet: Sheet, relay: Sheet = sheet, options: RehearsalOptions = {}): string[] {
  const planned = plan(sheet);
  const { verdicts, problems } = judge(sheet, planned, rehearsePlan(relay, planned, options));
  expect(problems).toEqual([]);
  return verdicts.flatMap((one) => (one.status === "graded" && one.grade.verdict !== "within" ? [one.check] : []));
}

describe("the plan of a distance zone", () => {
  test("proves the reach of every loop, further angles, the fault behind, and the time at half of the reach and just inside", () => {
    expect(
      plan(read([zone1()]))
        .checks.map(({ id }) => id)
        .sort(),
    ).toEqual(
      [
        ...["pickup", "dropout", "quiet", "quiet@reverse-AB", "quiet@reverse-A", "time", "time@0.9"],
        ...["BC-75°", "CA-75°", "A-75°", "B-75°", "C-75°", "AB-45°", "AB-105°", "A-45°", "A-105°"].map(
          (name) => `edge@${name}`,
        ),
      ]
        .map((name) => `21-1/${name}`)
        .sort(),
    );
  });

  test("holds every place on the boundary against the accuracy of the reach, in ohm", () => {
    const edge = checkNamed(read([zone1()]), "21-1/edge@AB-45°");
    // 4 · cos 30°, and 5 % of it.
    expect(bandOf(edge)).toEqual({ nominal: 3.4641, low: 3.290895, high: 3.637305 });
    expect(edge).toMatchObject({ unit: "ohm", proves: "edge", toPrimary: 1.25 });
    expect(edge.because.rule).toBe("AB-45° limit at 3.4641 ohm; ± 5 %");
    expect(bandOf(checkNamed(read([zone1()]), "21-1/pickup"))).toEqual({ nominal: 4, low: 3.8, high: 4.2 });
  });

  test("moves the voltages of a fault between two phases on either side of −½ of the third", () => {
    const { timeline, sweep } = checkNamed(read([zone1()]), "21-1/edge@BC-75°");
    expect(sweep).toMatchObject({ from: 4.4, to: 3.6 });
    for (const { channels } of timeline.segments.slice(1)) {
      const { va, vb, vc, ib, ic } = channels;
      const along = (state: typeof va) => (state?.rms ?? 0) * Math.cos(((state?.angle ?? 0) * Math.PI) / 180);
      expect(along(vb)).toBeCloseTo(-(va?.rms ?? 0) / 2, 9);
      expect(along(vc)).toBeCloseTo(-(va?.rms ?? 0) / 2, 9);
      expect([ib?.rms, ic?.rms]).toEqual([5, 5]);
    }
    // Across: 2 · 5 A · 4.4 ohm at first.
    const { vb } = timeline.segments[1]!.channels;
    expect(2 * Math.abs((vb?.rms ?? 0) * Math.sin(((vb?.angle ?? 0) * Math.PI) / 180))).toBeCloseTo(44, 9);
  });

  test("lets a fault behind stand beyond an offset, no longer than its own time takes", () => {
    const wide = read([zone1({ zone: { form: "mho", lineAngle: "75°", reverse: "3 ohm" } })]);
    // 1.1 · 40 ms and four times the measuring delay of 2 cycles.
    expect(checkNamed(wide, "21-1/quiet@reverse-AB")).toMatchObject({ level: 6, expect: { held: 0.21 } });
  });

  test("begins its faults from rated voltages without current", () => {
    const { timeline, level } = checkNamed(read([zone1()]), "21-1/time");
    const [before, fault] = timeline.segments;
    expect(level).toBe(2);
    expect(["va", "vb", "vc"].map((name) => before?.channels[name]?.rms.toFixed(3))).toEqual(Array(3).fill("63.509"));
    expect([before?.channels["ia"]?.rms, before?.channels["ib"]?.rms, fault?.channels["ia"]?.rms]).toEqual([0, 0, 5]);
  });
});

describe("a sweep of a distance zone", () => {
  const accuracy = { ...distance21.accuracy, angle: { absolute: "3°" } };
  const sheet = read([zone1(), { ...distanceZone2, accuracy }]);
  const swept = plan(sheet).checks.filter((check) => check.sweep !== undefined);

  test("begins with the healthy system, in a state of its own before the first level", () => {
    expect(new Set(swept.map(({ proves }) => proves))).toEqual(new Set(["pickup", "edge", "dropout"]));
    for (const { timeline, sweep } of swept) {
      expect(sweep?.preFault).toBe(2);
      const [before, settling, first] = timeline.segments;
      expect([before?.name, before?.duration]).toEqual(["pre-fault", 2]);
      expect(["va", "vb", "vc"].map((name) => before?.channels[name]?.rms.toFixed(3))).toEqual(Array(3).fill("63.509"));
      expect(["ia", "ib", "ic"].every((name) => before?.channels[name]?.rms === 0)).toBe(true);
      expect(settling?.channels).toEqual(first?.channels);
    }
  });

  test("is read at the level that stands, whatever came before it", () => {
    const readings = rehearsePlan(sheet, { checks: swept });
    const readAt = (check: string) => readings.find((one) => one.check === check)?.value;
    // Beyond 4 ohm, and beyond 1.05 · 4 ohm, by a step of 0.02 and of 0.02.
    expect([readAt("21-1/pickup"), readAt("21-1/dropout")]).toEqual([3.98, 4.22]);
    expect(readings.filter(({ value }) => value === "never")).toEqual([]);
  });

  test("of functions that are healthy at a level begins there", () => {
    for (const { sweep } of plan(read([inverse51, instantaneous50])).checks) expect(sweep?.preFault).toBeUndefined();
  });
});

describe("zones that overlap", () => {
  const both = read([zone1(), distanceZone2]);

  test("zone 2 is timed where zone 1 is surely quiet, nothing blocked", () => {
    const time = checkNamed(both, "21-2/time");
    // Half of the reach, 3 ohm, lies in zone 1; 6 · 0.75 does not.
    expect([time.level, time.block]).toEqual([4.5, []]);
    const alone = checkNamed(read([distanceZone2]), "21-2/time");
    expect(alone.level).toBe(3);
  });

  test("where no level lies between them, zone 1 is named to be blocked", () => {
    const near = read([zone1({ pickup: "5.6 ohm" }), distanceZone2]);
    expect(checkNamed(near, "21-2/time")).toMatchObject({ level: 3, block: ["21-1"] });
  });

  test("zone 2 is named where zone 1 is swept, since it is started all the while", () => {
    expect(checkNamed(both, "21-1/pickup").block).toEqual(["21-2"]);
    expect(checkNamed(both, "21-2/pickup").block).toEqual([]);
  });

  test("a time is measured where the fewest others are in the way, also beside one that is in the way everywhere", () => {
    // Half of 6 ohm and 0.65 of it lie within the first zone of 4 ohm ± 5 %; a 25 that closes onto a dead side never is.
    const always = { ...synchronism25, liveAbove: "50 V", deadBelow: "20 V", deadClosing: "incoming" };
    const zones = [distance21, distanceZone2].map((zone) => ({
      ...zone,
      accuracy: { ...zone.accuracy, angle: undefined },
    }));
    const time = (more: readonly object[]) => checkNamed(read([...zones, ...more]), "21-2/time");
    expect(time([])).toMatchObject({ level: 4.5, block: [] });
    expect(time([always])).toMatchObject({ level: 4.5, block: ["25"] });
  });

  test("a zone that looks the other way is not in the way", () => {
    const reverse = zone1({ id: "21-R", operates: "reverse", delay: "1 s", startContact: "start R" });
    const behind = read([reverse, zone1()]);
    expect(checkNamed(behind, "21-1/pickup").block).toEqual([]);
    expect(checkNamed(behind, "21-1/quiet@reverse-AB").block).toEqual([]);
    // On one start contact nobody could tell which of them it was.
    const shared = read([{ ...reverse, startContact: "start" }, zone1()]);
    expect(checkNamed(shared, "21-1/quiet@reverse-AB").block).toEqual(["21-R"]);
  });

  test("a slower zone within a faster one is a finding", () => {
    expect(plan(both).findings).toEqual([]);
    const covered = plan(read([zone1({ pickup: "6 ohm" }), { ...distanceZone2, pickup: "5 ohm" }])).findings;
    expect(covered).toMatchObject([{ path: "21-2.pickup", received: "5 ohm" }]);
  });

  test("overcurrent functions that the test current operates are named too", () => {
    const { block } = checkNamed(read([zone1(), inverse51, instantaneous50]), "21-1/pickup");
    expect(block).toEqual(["51P"]);
  });
});

describe("what cannot be made", () => {
  test("of a relay with two earth ratios: angles beside that of the line, and why", () => {
    const sheet = read([zone1({ earth: { resistanceRatio: 0.4, reactanceRatio: 0.9 } })]);
    expect(reasonFor(sheet, "21-1/edge@A-45°")).toMatch("on the line angle alone");
    expect(reasonFor(sheet, "21-1/edge@A-75°")).toBeUndefined();
  });

  test("a reach that takes more than rated voltage at the minimum current", () => {
    const sheet = read([zone1({ pickup: "60 ohm", minimumCurrent: "1 A" })]);
    expect(reasonFor(sheet, "21-1/pickup")).toMatch("more than rated voltage");
  });

  test("a time just inside, where the tolerance reaches as far", () => {
    const wide = read([zone1({ accuracy: { ...distance21.accuracy, pickup: { percent: 10 } } })]);
    expect(plan(wide).checks.map(({ id }) => id)).not.toContain("21-1/time@0.9");
  });

  test("where the source cannot make clearly more than the minimum current", () => {
    const weak = read([zone1()], { source: { maximumCurrent: "0.55 A" } });
    expect(reasonFor(weak, "21-1/pickup")).toBe("needs 0.6 A on one channel, the source makes at most 0.55 A");
  });
});

describe("the current that is held", () => {
  const heldAt = (other: object, change: object = {}) => {
    const sheet = read([zone1(change)], other);
    const { injection, timeline } = checkNamed(sheet, "21-1/pickup");
    expect(injection).toContain(`${timeline.segments[1]?.channels["ia"]?.rms} A out on a and back on b`);
    expect(plan(sheet).impossible).toEqual([]);
    return timeline.segments[1]?.channels["ia"]?.rms;
  };

  test.each([
    ["is rated", {}, 5],
    ["is what a weak source makes", { source: { maximumCurrent: "4 A" } }, 4],
    ["is what the inputs carry for ever", { inputs: { current: { continuous: "4.5 A" } } }, 4.5],
    [
      "is what the source drives across the burden",
      { source: { currentOutput: { burden: "2 ohm", compliance: "6 V" } } },
      3,
    ],
    ["is what the source puts into the burden", { source: { currentOutput: { burden: "2 ohm", power: "32 VA" } } }, 4],
    ["is the least of them", { source: { maximumCurrent: "4 A" }, inputs: { current: { continuous: "3 A" } } }, 3],
  ])("%s", (_what, other, amperes) => expect(heldAt(other)).toBe(amperes));

  test("is raised for a very small reach, as far as the source and the inputs allow", () => {
    const tiny = { pickup: "0.02 ohm" };
    expect(heldAt({}, tiny)).toBe(10);
    expect(heldAt({ source: { maximumCurrent: "7 A" } }, tiny)).toBe(7);
    const one = checkNamed(read([zone1(tiny)], { source: { voltageChannels: 1 } }), "21-1/pickup");
    // 2 · 10 A · 0.022 ohm.
    expect(one.timeline.segments[1]?.channels["v"]?.rms).toBeCloseTo(0.44, 12);
  });

  test("lets every check be made by any source that makes clearly more than the minimum current", () => {
    holds(
      fc.property(
        fc.double({ min: 0.6, max: 12, noNaN: true }),
        fc.constantFrom("0.02 ohm", "0.4 ohm", "4 ohm", "40 ohm"),
        (most, pickup) => {
          const sheet = read([zone1({ pickup })], { source: { maximumCurrent: `${most} A` } });
          const { checks, impossible } = plan(sheet);
          expect(impossible).toEqual([]);
          const largest = checks.flatMap(({ timeline }) =>
            timeline.segments.flatMap(({ channels }) => ["ia", "ib", "ic"].map((name) => channels[name]?.rms ?? 0)),
          );
          expect(Math.max(...largest)).toBeLessThanOrEqual(most);
          expect(failedBy(sheet)).toEqual([]);
        },
      ),
      20,
    );
  });
});

describe("a relay that is right is within on every check", () => {
  const sources = [1, 3].flatMap((currentChannels) =>
    [1, 3].map((voltageChannels) => ({ currentChannels, voltageChannels })),
  );

  test("whatever its zones, source, frequency and rotation", () => {
    holds(
      fc.property(
        fc.array(distanceElements, { minLength: 1, maxLength: 2 }),
        fc.constantFrom(...sources),
        fc.constantFrom("ABC", "ACB"),
        fc.constantFrom(50, 60),
        fc.constantFrom("400/5", "400/1"),
        fc.constantFrom("primary", "secondary"),
        (elements, source, rotation, frequency, ct, values) => {
          // Not faster than the measuring delay, which no relay is.
          const zones = elements.map((element, i) => ({
            id: `Z${i}`,
            ...element,
            values,
            delay: `${0.1 + 0.3 * i} s`,
          }));
          const sheet = read(zones, { source, rotation, frequency, ct });
          const { checks, impossible } = plan(sheet);
          expect(checks.length + impossible.length).toBeGreaterThan(6);
          expect(failedBy(sheet)).toEqual([]);
        },
      ),
      40,
    );
  });

  test("an offset zone around the relay, and a quadrilateral that opens wide", () => {
    const offset = zone1({ zone: { form: "mho", lineAngle: "75°", reverse: "1 ohm" } });
    const wide = zone1({
      id: "21-3",
      pickup: "8 ohm",
      delay: "1 s",
      zone: { ...distanceZone2.zone, resistance: "10 ohm", forward: { from: "-80°", to: "170°" } },
    });
    expect(failedBy(read([offset, wide]))).toEqual([]);
    const behind = checkNamed(read([offset]), "21-1/edge@AB-255°");
    expect(bandOf(behind).nominal).toBe(1);
  });
});

describe("a relay that is wrong fails where it is wrong", () => {
  const sheet = read([zone1()]);
  const ids = (failed: readonly string[]) => failed.map((id) => id.replace("21-1/", "")).sort();
  const reaches = [
    "edge@A-105°",
    "edge@A-45°",
    "edge@A-75°",
    "edge@AB-105°",
    "edge@AB-45°",
    "edge@B-75°",
    "edge@BC-75°",
    "edge@C-75°",
    "edge@CA-75°",
  ];

  test("one that reaches 8 % too far: every reach, the dropout and the quiet level", () => {
    const errors = { "21-1": { pickup: 1.08 } };
    expect(ids(failedBy(sheet, sheet, { errors }))).toEqual([...["dropout"], ...reaches, "pickup", "quiet"].sort());
  });

  test("one with another k0: the loops to earth alone", () => {
    const relay = read([zone1({ earth: { factor: 1 } })]);
    expect(ids(failedBy(sheet, relay))).toEqual(reaches.filter((name) => /@[ABC]-/.test(name)));
  });

  test("one set to another line angle: the angles beside it, and none on it", () => {
    const relay = read([zone1({ zone: { form: "mho", lineAngle: "65°" } })]);
    expect(ids(failedBy(sheet, relay))).toEqual(reaches.filter((name) => /-(45|105)°/.test(name)));
  });

  test("one that looks the wrong way: everything but that it is quiet where it looks no more", () => {
    const relay = read([zone1({ operates: "reverse" })]);
    const failed = ids(failedBy(sheet, relay));
    expect(failed).toEqual(
      expect.arrayContaining([...reaches, "pickup", "quiet@reverse-A", "quiet@reverse-AB", "time"]),
    );
    expect(failed).not.toContain("quiet");
  });

  test("one whose resistive reach is short: that edge of each kind of loop", () => {
    const given = { ...distanceZone2, id: "21-1" };
    const relay = { ...given, zone: { ...given.zone, resistance: "4 ohm" } };
    expect(ids(failedBy(read([given]), read([relay])))).toEqual(
      ["edge@A-0°", "edge@A-20°", "edge@AB-0°", "edge@AB-20°"].sort(),
    );
  });

  test("one whose right blinder leans: the second place on it", () => {
    const given = { ...distanceZone2, id: "21-1" };
    const relay = { ...given, zone: { ...given.zone, blinderAngle: "50°" } };
    expect(ids(failedBy(read([given]), read([relay])))).toEqual(["edge@A-20°", "edge@AB-20°"]);
  });

  test("one that looks wider or narrower than it is said to: the limits in angle, where their accuracy is declared", () => {
    const accuracy = { ...distance21.accuracy, angle: { absolute: "3°" } };
    const given = { ...distanceZone2, id: "21-1", accuracy };
    const looking = (from: string, to: string) =>
      ids(failedBy(read([given]), read([{ ...given, zone: { ...given.zone, forward: { from, to } } }])));
    expect(looking("-15°", "115°")).toEqual([]);
    expect(looking("-19°", "115°")).toEqual(["edge@A-from", "edge@AB-from"]);
    expect(looking("-15°", "111°")).toEqual(["edge@A-to", "edge@AB-to"]);
    expect(reasonFor(read([distanceZone2]), "21-2/edge@AB-to")).toMatch("declares no accuracy of the angle");
  });

  test("one whose reactance line is tilted the other way: its edges on both sides, each a little", () => {
    const given = { ...distanceZone2, id: "21-1", accuracy: { ...distance21.accuracy, pickup: { percent: 2 } } };
    const relay = { ...given, zone: { ...given.zone, tilt: "10°" } };
    expect(ids(failedBy(read([given]), read([relay])))).toEqual(
      ["edge@A-58°", "edge@A-95°", "edge@AB-58°", "edge@AB-95°"].sort(),
    );
  });

  test("one that is slow: its times", () => {
    const zone = read([phaseZone({ delay: "0.4 s" })]);
    expect(ids(failedBy(zone, zone, { errors: { "21-1": { time: 1.2 } } }))).toEqual(["time", "time@0.9"]);
  });
});
