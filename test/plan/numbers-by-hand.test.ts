/** Levels, holds, bands and words of a plan, each computed by hand beside it. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import type { ElementSetting } from "tripwright/element";
import { expectTime, plan, settingsOf } from "tripwright/plan";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  directional67,
  distance21,
  instantaneous50,
  inverse51,
  read,
  reasonFor,
  underfrequency81,
  undervoltage27,
  usual,
} from "../support/sheets.js";

const settingOf51 = { id: "51P", function: "51", watches: "phase", measuringDelay: 0.04, contact: "trip" } as const;

describe("times", () => {
  test("above a ceiling stay what they are there: 13.5/(5 − 1) · 0.2 s at 7 ×", () => {
    const flat = read([{ ...inverse51, ceilingMultiple: 5 }]);
    expect(bandOf(checkNamed(flat, "51P/time@7")).nominal).toBe(0.675);
    // Below the ceiling nothing changes: 13.5/2 · 0.2 s.
    expect(bandOf(checkNamed(flat, "51P/time@3")).nominal).toBe(1.35);
  });

  test("are exact where the setting is a share of 110 V/√3: 1/(1 − 0.8) = 5 s at 0.8 ×, whatever the doubles", () => {
    const e27 = { id: "27", function: "27", watches: "line-to-neutral", curve: "undervoltage-inverse", multiplier: 1 };
    for (const vt of ["11 kV/110 V", "33 kV/110 V", "11 kV/100 V", "22 kV/115 V", "13.8 kV/120 V"])
      for (let percent = 50; percent <= 95; percent++) {
        const pickup = `${percent} % of rated`;
        const accuracy = { pickup: { percent: 3 }, time: { percent: 3 } };
        const [setting] = settingsOf(read([{ ...e27, pickup, accuracy }], { vt })).elements;
        for (const [multiple, time] of [
          [0.8, 5],
          [0.5, 2],
          [0.2, 1.25],
          [0.6, 2.5],
        ] as const) {
          const expected = expectTime(setting!, multiple * setting!.pickup);
          expect(expected.kind === "found" && expected.band.nominal).toBe(time);
        }
      }
  });

  test("are the exact quotient, rounded once, where level and setting were typed", () => {
    const digits = fc.integer({ min: 1, max: 9999 });
    const accuracy = { pickup: { percent: 3 }, time: { percent: 3 } };
    const law = { curve: "iec-very-inverse", multiplier: 1 } as const;
    holds(
      fc.property(digits, digits, (small, more) => {
        const [pickup, level] = [small / 100, (small + more) / 100];
        const setting = { ...settingOf51, pickup, law, accuracy } as ElementSetting;
        const expected = expectTime(setting, level);
        // 13.5/(M − 1) = 13.5 · pickup/(level − pickup), in whole hundredths.
        const exact = new Decimal(135).times(small).div(10).div(more).toNumber();
        expect(expected.kind === "found" && expected.band.nominal).toBe(exact);
      }),
    );
  });

  test("hold the additive constant, IEEE C37.112-2018 Table 1, very inverse: 19.61/(3² − 1) + 0.491 s", () => {
    const disk = read([{ ...inverse51, curve: "ieee-very-inverse", multiplier: 1 }]);
    expect(bandOf(checkNamed(disk, "51P/time@3")).nominal).toBe(2.94225);
  });

  test.each([
    [{ absolute: "40 ms", side: "high" }, "at most 0.04 s more"],
    [{ absolute: "40 ms", side: "low" }, "at most 0.04 s less"],
    [{ percent: 5, absolute: "40 ms" }, "± the greater of 5 % and 0.04 s"],
    [{ percent: 5, absolute: "40 ms", combine: "sum" }, "± the sum of 5 % and 0.04 s"],
  ])("say in words what the tolerance %j is", (time, words) => {
    expect(checkNamed(read([{ ...inverse51, accuracy: { ...usual, time } }]), "51P/time@3").because.rule).toContain(
      words,
    );
  });
});

describe("a tolerance as wide as the setting", () => {
  const wide = {
    id: "51N",
    function: "51N",
    watches: "residual",
    pickup: "20 mA",
    delay: "1 s",
    dropoutRatio: 0.95,
    accuracy: { ...usual, pickup: { percent: 2, absolute: "30 mA", combine: "sum" } },
  };

  test("leaves no lower limit of start and dropout, and is a finding: 20 mA − 30.4 mA", () => {
    const sheet = read([wide]);
    expect(bandOf(checkNamed(sheet, "51N/pickup"))).toEqual({ nominal: 0.02, high: 0.0504 });
    expect(bandOf(checkNamed(sheet, "51N/dropout"))).not.toHaveProperty("low");
    expect(reasonFor(sheet, "51N/quiet")).toMatch("leaves no level above 0 A on the quiet side");
    expect(plan(sheet).findings).toMatchObject([
      {
        code: "conflict",
        path: "51N.accuracy.pickup",
        expected: "a tolerance that leaves a lower limit above 0 of 0.02 A",
        received: "± the sum of 2 % and 0.03 A",
      },
    ]);
  });

  test("on the low side alone leaves nothing to hold a reading against", () => {
    const sheet = read([{ ...wide, accuracy: { ...usual, pickup: { percent: 120, side: "low" } } }]);
    for (const name of ["pickup", "dropout"])
      expect(reasonFor(sheet, `51N/${name}`)).toMatch("no limit above 0 that a reading could be held against");
    expect(plan(sheet).findings).toMatchObject([{ path: "51N.accuracy.pickup" }]);
  });

  test("is none where it says by itself that there is no lower limit", () => {
    const sheet = read([{ ...wide, accuracy: { ...usual, pickup: { absolute: "30 mA", side: "high" } } }]);
    expect(plan(sheet).findings).toEqual([]);
  });
});

describe("quiet on the trip contact of an inverse time", () => {
  const { startContact: _, ...trip } = inverse51;
  const held = (multiplier: number) =>
    checkNamed(read([{ ...trip, multiplier }]), "51P/quiet").timeline.segments[1]?.duration;

  test("is waited for as if the start lay 5 % below the level: 13.5/(4/3.8 − 1) · 0.2 s and four responses of 40 ms", () => {
    // 13.5/(1/19) · 0.2 = 51.3 s, + 0.16 s, up to whole 10 ms
    expect(held(0.2)).toBeCloseTo(51.46, 9);
  });

  test("is impossible where nobody would wait so long: a shorter hold would pass a relay that starts far below", () => {
    expect(held(0.4)).toBeCloseTo(102.76, 9);
    // 13.5/(1/19) · 0.5 + 0.16
    expect(reasonFor(read([{ ...trip, multiplier: 0.5 }]), "51P/quiet")).toBe(
      "on trip nothing is proved before the slowest operation is over, after 128.4 s; nobody waits for more than 120 s",
    );
  });

  test("is impossible where a drawn curve has no time so near the setting", () => {
    const curve = {
      form: "table",
      points: [
        { multiple: 1.2, time: 40 },
        { multiple: 10, time: 1 },
      ],
    };
    const { multiplier: _multiplier, ...drawn } = trip;
    expect(reasonFor(read([{ ...drawn, curve }]), "51P/quiet")).toMatch(
      "its curve has no time at 1.05263 × the setting",
    );
  });
});

test("quiet at twice the setting from behind lasts 1.1 times the slowest operation there, or is impossible", () => {
  const { delay: _, startContact: start, ...inverse } = { ...directional67, curve: "iec-very-inverse", multiplier: 1 };
  // 13.5/(2 − 1) s, at most 5 % more, · 1.1, and four responses of 60 ms, up to whole 10 ms.
  const duration = checkNamed(read([inverse]), "67P/quiet@reverse").timeline.segments.at(-1)?.duration;
  expect(duration).toBeCloseTo(15.84, 9);
  expect(reasonFor(read([{ ...inverse, multiplier: 8 }]), "67P/quiet@reverse")).toMatch("after 125 s");
  // A start contact shows it at once, and a delay that was set is waited for.
  const shown = checkNamed(read([{ ...inverse, multiplier: 8, startContact: start }]), "67P/quiet@reverse");
  expect(shown.timeline.segments.at(-1)?.duration).toBe(1);
  const definite = { ...undervoltage27, delay: "180 s" };
  // 1.1 · 1.05 · 180 s, and four responses of 40 ms.
  expect(checkNamed(read([definite]), "27/quiet").timeline.segments.at(-1)?.duration).toBeCloseTo(208.06, 9);
});

describe("sweeps", () => {
  test("stand still for 2 s where they begin, so that the relay is at rest", () => {
    expect(checkNamed(read([inverse51]), "51P/pickup").timeline.segments[0]).toMatchObject({
      duration: 2,
      channels: { ia: { rms: 3.6 } },
    });
  });

  test("rest between steps where they end above four times rated current, 20 A of 5 A", () => {
    const to = (pickup: string) => checkNamed(read([{ ...instantaneous50, pickup }]), "50P/pickup").sweep;
    expect(to("18 A")).toMatchObject({ to: 19.8 });
    expect(to("18 A")).not.toHaveProperty("rest");
    expect(to("19 A")).toMatchObject({ to: 20.9, rest: { level: 0, time: 2 } });
  });

  test("back to the dropout go on to twice the tolerance behind it: 3.8 A − 2 · 5 %", () => {
    expect(checkNamed(read([inverse51]), "51P/dropout").sweep?.to).toBeLessThanOrEqual(3.42);
  });

  test("back to the dropout from where the function is blocked prove nothing", () => {
    // Twice the tolerance beyond the start, 88 V − 8.8 V, lies below 85 V.
    expect(reasonFor(read([{ ...undervoltage27, blockBelow: "85 V" }]), "27/dropout")).toMatch(
      /^is blocked at 7[89]\./,
    );
  });
});

describe("a rate of change", () => {
  const rate = (pickup: string, delay: string) => ({
    id: "81R",
    function: "81R",
    direction: "falling",
    pickup,
    delay,
    accuracy: { pickup: { absolute: "0.05 Hz/s" }, time: { percent: 5 } },
  });

  test("that would carry the frequency more than a fifth away is not held: 7.5 Hz/s for 2.9 s, nor 5.1 Hz/s", () => {
    expect(reasonFor(read([rate("5 Hz/s", "2 s")]), "81R/time")).toMatch(/would carry the frequency 2\d\.?\d* Hz away/);
    // For 1.6 s the one is too much, and the other is not.
    expect(checkNamed(read([rate("5 Hz/s", "1 s")]), "81R/time").level).toBe(5.1);
    expect(reasonFor(read([rate("1 Hz/s", "1 s")]), "81R/time")).toBeUndefined();
  });

  test("passes the setting of an underfrequency function on its way down, and that of no overfrequency one", () => {
    // 1.5 Hz/s for over 1 s: from 50 Hz below 48.5 Hz.
    const over = { ...underfrequency81, id: "81O", function: "81O", pickup: "51 Hz" };
    const sheet = read([rate("1 Hz/s", "1 s"), { ...underfrequency81, delay: "0.1 s" }, { ...over, delay: "0.1 s" }]);
    expect(checkNamed(sheet, "81R/time").block).toEqual(["81U"]);
  });

  test("sees a frequency that steps, over the 10 cycles in which it measures, and is in the way if it is fast enough", () => {
    const blocked = (delay: string, direction = "falling", pickup = "2 Hz/s") => {
      const other = { ...rate(pickup, delay), direction };
      return checkNamed(read([underfrequency81, other]), "81U/time").block;
    };
    // 50 Hz to 48.5 Hz: 1.5 Hz in 0.2 s are 7.5 Hz/s; 5 % less than 0.2 s is less than 0.2 s, 5 % less than 0.22 s is not.
    expect(checkNamed(read([underfrequency81]), "81U/time").level).toBe(48.5);
    expect(blocked("0.1 s")).toEqual(["81R"]);
    expect(blocked("0.2 s")).toEqual(["81R"]);
    expect(blocked("0.22 s")).toEqual([]);
    expect(blocked("0.1 s", "both")).toEqual(["81R"]);
    expect(blocked("0.1 s", "rising")).toEqual([]);
    expect(blocked("0.1 s", "falling", "7.6 Hz/s")).toEqual([]);
    expect(blocked("0.1 s", "falling", "7.5 Hz/s")).toEqual(["81R"]);
    // A start contact that both drive shows it however long its delay is; and one that takes no time measures no rate.
    const both = { startContact: "start" };
    const early = { ...rate("2 Hz/s", "5 s"), ...both };
    expect(checkNamed(read([{ ...underfrequency81, ...both }, early]), "81U/quiet").block).toEqual(["81R"]);
    const instant = { ...rate("2 Hz/s", "0.1 s"), measuringDelay: "0 s" };
    expect(checkNamed(read([underfrequency81, instant]), "81U/time").block).toEqual([]);
    // Nor does a step of the voltage alone.
    const under = { ...undervoltage27, id: "27" };
    expect(checkNamed(read([under, rate("1 Hz/s", "0.1 s")]), "27/time").block).toEqual([]);
  });

  test("is injected at rated voltage, 110/√3 V to neutral", () => {
    const { segments } = checkNamed(read([rate("1 Hz/s", "1 s")]), "81R/time").timeline;
    for (const { channels } of segments) expect(channels["va"]?.rms).toBeCloseTo(63.5085296, 7);
  });
});

test("a thermal image is brought back before each injection, and the check says so", () => {
  const curve = { form: "thermal", tau: "10 min" };
  const motor = { id: "49", function: "49", watches: "phase", pickup: "5 A", curve, accuracy: usual };
  for (const { cautions } of plan(read([motor])).checks.filter(({ proves }) => proves === "operate-time"))
    expect(cautions.join()).toMatch("reset the thermal image before each injection");
});

test("of two limits of the source the one that is exceeded by more is told: 60 A of 50 A, 3600 VA of 100 VA", () => {
  const source = { maximumCurrent: "50 A", currentOutput: { burden: "1 ohm", power: "100 VA" } };
  expect(reasonFor(read([inverse51], { source }), "51P/time@15")).toMatch(/^puts 3600 VA into the burden/);
});

describe("findings", () => {
  const findings = (...elements: readonly object[]) => plan(read(elements)).findings.map(({ path }) => path);
  const overvoltage = { ...undervoltage27, id: "59", function: "59", dropoutRatio: 0.98 };

  test("of an under function at or above an over function that watches the same, and of no other", () => {
    const at = (pickup: string, watches = "line-to-line") => ({ ...overvoltage, pickup, watches });
    expect(findings(undervoltage27, at("121 V"))).toEqual([]);
    // 88 V between lines is 50.8 V to neutral.
    expect(findings(undervoltage27, at("76 V", "line-to-neutral"))).toEqual([]);
    const low = { ...undervoltage27, watches: "line-to-neutral", pickup: "50 V" };
    expect(findings(low, at("50 V", "line-to-neutral"))).toContain("27.pickup");
  });

  test("of a function that operates on the healthy system, or may do so within its tolerance: 49.995 Hz ± 10 mHz", () => {
    const { dropoutDifference: _, ...under } = underfrequency81;
    const findingsAt = (pickup: string) => plan(read([{ ...under, pickup }])).findings;
    expect(findingsAt("49.99 Hz")).toEqual([]);
    for (const pickup of ["49.995 Hz", "50 Hz"])
      expect(findingsAt(pickup)).toMatchObject([
        { path: "81U.pickup", expected: expect.stringMatching("tolerance"), received: pickup },
      ]);
    expect(findingsAt("50.01 Hz")).toMatchObject([
      { path: "81U.pickup", expected: "a setting at which the element is quiet on a healthy system" },
    ]);
    // 1.05 × 110 V, less 4 % and less 5 %.
    const high = (percent: number) => ({
      ...overvoltage,
      pickup: "1.05 × rated",
      accuracy: { ...usual, pickup: { percent } },
    });
    expect(findings({ ...high(4), dropoutRatio: undefined })).toEqual([]);
    expect(findings({ ...high(5), dropoutRatio: undefined })).toEqual(["59.pickup"]);
  });

  test("of a function that has operated and does not let go on the healthy system: beyond 110 V and 50 Hz, not on them", () => {
    const high = (dropoutRatio: number, pickup = "121 V") => ({ ...overvoltage, pickup, dropoutRatio });
    expect(findings(high(0.92))).toEqual([]);
    expect(findings(high(0.88, "125 V"))).toEqual([]);
    expect(plan(read([high(0.9)])).findings).toMatchObject([
      {
        path: "59.dropoutRatio",
        expected: "a dropout above 110 V, which the healthy system has, so that the element lets go there",
        received: "0.9, which is 108.9 V",
      },
    ]);
    const low = (dropoutDifference: string) => ({ ...underfrequency81, pickup: "49.95 Hz", dropoutDifference });
    expect(findings(low("50 mHz"))).toEqual([]);
    expect(findings(low("60 mHz"))).toEqual(["81U.dropoutDifference"]);
    expect(findings({ ...undervoltage27, dropoutRatio: 1.25 })).toEqual([]);
    expect(findings({ ...undervoltage27, dropoutRatio: 1.26 })).toEqual(["27.dropoutRatio"]);
  });

  test("of a function that is blocked wherever it would operate, or on the healthy system", () => {
    const blocked = (element: object, blockBelow: string) =>
      plan(read([{ ...element, blockBelow }])).findings.map(({ path, expected }) => [path, expected]);
    expect(blocked(undervoltage27, "87 V")).toEqual([]);
    expect(blocked(undervoltage27, "88 V")).toEqual([
      ["27.blockBelow", "a level below where the element starts, 88 V"],
    ]);
    const never = "a level that the healthy system is above, so that the element is not blocked there";
    expect(blocked(undervoltage27, "115 V")).toEqual([["27.blockBelow", never]]);
    // 110 V between lines is 63.5 V to neutral.
    expect(blocked(underfrequency81, "63 V")).toEqual([]);
    expect(blocked(underfrequency81, "64 V")).toEqual([["81U.blockBelow", never]]);
    const { curve: _, multiplier: __, ...definite } = { ...inverse51, id: "37", function: "37", delay: "1 s" };
    const under = { ...definite, dropoutRatio: 1.05 };
    expect(blocked(under, "3.9 A")).toEqual([]);
    expect(blocked(under, "4 A")).toEqual([["37.blockBelow", "a level below where the element starts, 4 A"]]);
  });

  test("of a time below the measuring delay, once where two places are timed: 30 ms at the most of a zone that takes 40 ms", () => {
    const fast = { ...distance21, accuracy: { pickup: { percent: 5 }, time: { absolute: "30 ms" } } };
    // It has no delay that could be wrong.
    expect(plan(read([fast])).findings).toEqual([
      {
        code: "conflict",
        path: "21-1.measuringDelay",
        expected: "a measuring delay of at most 0.03 s, the latest time that is accepted",
        received: "0.04 s (2 cycles where the sheet gives none)",
      },
    ]);
    const at60 = {
      ...instantaneous50,
      accuracy: { ...usual, time: { absolute: "25 ms" } },
      measuringDelay: "1.5 cycles",
    };
    expect(plan(read([at60], { frequency: "60 Hz" })).findings).toEqual([]);
    expect(plan(read([{ ...at60, measuringDelay: "1.6 cycles" }], { frequency: "60 Hz" })).findings).toMatchObject([
      { received: "0.02667 s (2 cycles where the sheet gives none)" },
    ]);
  });

  test("of a setting beyond the source: of its own quantity, not of the 63.5 V that polarise a 67N of 4 A", () => {
    const earth67 = { ...directional67, id: "67N", function: "67N", watches: undefined, polarising: "-3V0" };
    const source = (maximumCurrent: string) => plan(read([earth67], { source: { maximumCurrent } })).findings;
    expect(source("10 A")).toEqual([]);
    expect(source("3.9 A")).toMatchObject([{ path: "67N.pickup", received: "4 A, which needs 4 A" }]);
  });

  test("of a stage that a faster one on the same contact hides", () => {
    const stage = (id: string, pickup: string, delay: string, more: object = {}) => ({
      ...instantaneous50,
      id,
      pickup,
      delay,
      ...more,
    });
    const [low, high] = [stage("50-1", "10 A", "0.3 s"), stage("50-2", "20 A", "0.5 s")];
    expect(plan(read([low, high])).findings).toEqual([
      {
        code: "conflict",
        path: "50-2.pickup",
        expected: "a setting below that of the faster 50-1, 10 A",
        received: "20 A",
      },
    ]);
    expect(findings(low, stage("50-2", "20 A", "0.1 s"))).toEqual([]);
    expect(findings(low, stage("50-2", "8 A", "0.5 s"))).toEqual([]);
    expect(findings(low, { ...high, contact: "alarm" })).toEqual([]);
    expect(findings(low, { ...high, delay: "0.1 s", addedTime: "0.3 s" })).toEqual(["50-2.pickup"]);
    // An instantaneous stage hides an inverse one above it; one of 50 ms leaves room for a curve that comes below that.
    const inverse = { ...inverse51, pickup: "12 A", contact: "trip" };
    const instant = { ...instantaneous50, pickup: "10 A" };
    expect(findings(inverse, instant)).toEqual(["51P.pickup"]);
    expect(findings({ ...inverse, pickup: "8 A" }, instant)).toEqual([]);
    expect(findings(inverse, { ...instant, delay: "50 ms" })).toEqual([]);
    expect(findings({ ...inverse, minimumTime: "0.1 s" }, { ...instant, delay: "50 ms" })).toEqual(["51P.pickup"]);
    expect(findings(inverse, { ...instant, id: "50N", function: "50N" })).toEqual([]);
    const deep = { ...undervoltage27, id: "27-2", pickup: "60 V", delay: "3 s" };
    expect(findings(undervoltage27, deep)).toEqual(["27-2.pickup"]);
    expect(findings(undervoltage27, { ...deep, phases: "all" })).toEqual([]);
    expect(findings(undervoltage27, { ...deep, delay: "0.5 s" })).toEqual([]);
  });
});
