import { Decimal } from "decimal.js";
import fc from "fast-check";
import { inputsOf, operateTimeOf } from "tripwright/element";
import { plan, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearse, rehearsePlan } from "tripwright/rehearsal";
import { stateAt, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  instantaneous50,
  inverse51,
  read,
  reasonFor,
  sheets,
  undervoltage27,
  usual,
} from "../support/sheets.js";

describe("pickup checks", () => {
  test("begin quiet, end beyond the tolerance, with the setting on the grid and steps of at most a fifth of the tolerance", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const { elements } = settingsOf(sheet);
        for (const check of plan(sheet).checks) {
          const { sweep, element, proves, timeline } = check;
          if (proves !== "pickup" || sweep === undefined) continue;
          const { nominal, low = -Infinity, high = Infinity } = bandOf(check);
          const half = Math.min(nominal - low, high - nominal);
          expect(sweep.step).toBeLessThanOrEqual((half / 5) * (1 + 1e-12));
          // Beyond the tolerance on both sides, or as far as there is anything: no level lies below 0.
          const beyond = Math.min(half, nominal - sweep.step * (1 + 1e-9));
          expect(Math.abs(sweep.from - nominal)).toBeGreaterThan(beyond);
          expect(Math.abs(sweep.to - nominal)).toBeGreaterThan(beyond);
          expect(Math.sign(sweep.from - nominal)).toBe(-Math.sign(sweep.to - nominal));
          const stepsToNominal = (nominal - sweep.from) / sweep.step;
          expect(Math.abs(stepsToNominal - Math.round(stepsToNominal))).toBeLessThan(1e-6);
          const setting = elements.find(({ id }) => id === element) as (typeof elements)[number];
          expect(operateTimeOf(setting, inputsOf(stateAt(timeline, 0).channels, timeline.wiring))).toBe(Infinity);
        }
      }),
      60,
    );
  });

  test("hold each step longer than the response: twice the measuring delay at a start contact", () => {
    expect(checkNamed(read([inverse51]), "51P/pickup")).toMatchObject({ contact: "start", sweep: { hold: 0.08 } });
  });

  test("and longer than the latest operate time besides where only the trip contact shows it", () => {
    const { sweep, contact } = checkNamed(read([undervoltage27]), "27/pickup");
    expect(contact).toBe("trip");
    // 1.5 s + 5 % = 1.575 s at the latest, and twice the response of 40 ms
    expect(sweep?.hold).toBeGreaterThanOrEqual(1.575 + 0.08);
  });

  test("rest between steps above four times rated current, since inputs heat", () => {
    expect(checkNamed(read([instantaneous50]), "50P/pickup").sweep?.rest).toEqual({ level: 0, time: 2 });
    expect(checkNamed(read([inverse51]), "51P/pickup").sweep?.rest).toBeUndefined();
  });

  test("of an inverse function without a start contact are impossible", () => {
    const { startContact: _, ...rest } = inverse51;
    expect(reasonFor(read([rest]), "51P/pickup")).toMatch("start contact");
  });

  test("start where the function starts: startRatio × setting", () => {
    expect(bandOf(checkNamed(read([{ ...inverse51, startRatio: 1.1 }]), "51P/pickup"))).toEqual({
      nominal: 4.4,
      low: 4.18,
      high: 4.62,
    });
  });

  test("with a tolerance that asks for thousands of steps are impossible", () => {
    const fine = { ...inverse51, accuracy: { ...usual, pickup: { percent: 0.0001 } } };
    expect(reasonFor(read([fine]), "51P/pickup")).toMatch("steps");
  });
});

describe("operate-time checks", () => {
  test("of an inverse function stand at 3, 7 and 15 times the setting", () => {
    // 13.5/(M − 1) · 0.2, IEC 60255-151 Annex A curve B
    const times = plan(read([inverse51])).checks.filter(({ proves }) => proves === "operate-time");
    expect(times.map((check) => [check.id, check.level, bandOf(check).nominal])).toEqual([
      ["51P/time@3", 12, 1.35],
      ["51P/time@7", 28, 0.45],
      ["51P/time@15", 60, expect.closeTo(2.7 / 14, 14)],
    ]);
  });

  test.each([
    ["overcurrent, 1.2 ×", { ...instantaneous50, delay: "0.1 s" }, 48],
    ["undervoltage, 0.8 ×", undervoltage27, 70.4],
    [
      "underfrequency, 0.5 Hz below",
      {
        id: "81U",
        function: "81U",
        pickup: "49 Hz",
        delay: 0.2,
        accuracy: { pickup: { absolute: 0.01 }, time: { percent: 5 } },
      },
      48.5,
    ],
    [
      "overfrequency, 0.5 Hz above",
      {
        id: "81O",
        function: "81O",
        pickup: "51 Hz",
        delay: 0.2,
        accuracy: { pickup: { absolute: 0.01 }, time: { percent: 5 } },
      },
      51.5,
    ],
  ])("of a definite time stand at one clear level: %s", (_what, element, level) => {
    expect(checkNamed(read([element]), `${element.id}/time`).level).toBe(level);
  });

  test("go from a healthy state by a step, run the clock from it, end on the trip contact and give up above the upper limit", () => {
    holds(
      fc.property(sheets, (sheet) => {
        for (const check of plan(sheet).checks) {
          const { proves, timeline, contact } = check;
          if (proves !== "operate-time") continue;
          const [before, fault] = timeline.segments;
          expect(timeline.segments).toHaveLength(2);
          expect(before).not.toHaveProperty("clock");
          expect(fault).toMatchObject({ clock: "starts", endsOn: { contact, to: "closed" } });
          expect(fault?.duration).toBeGreaterThan(bandOf(check).high ?? bandOf(check).nominal);
        }
      }),
      60,
    );
  });

  test("of 10 ± 1 cycles at 60 Hz accept exactly 11 cycles", () => {
    const accuracy = { pickup: { percent: 1 }, time: { absolute: "1 cycle" } };
    const sheet = read([{ ...undervoltage27, delay: "10 cycles", accuracy }], { frequency: "60 Hz" });
    expect(bandOf(checkNamed(sheet, "27/time"))).toEqual({ nominal: 10 / 60, low: 9 / 60, high: 11 / 60 });
  });

  test("add what belongs to the time, in decimals: 0.1 s + 0.2 s is 0.3 s", () => {
    const accuracy = { ...usual, time: { absolute: "40 ms" } };
    const sheet = read([{ ...undervoltage27, delay: "100 ms", addedTime: "200 ms", accuracy }]);
    expect(bandOf(checkNamed(sheet, "27/time"))).toEqual({ nominal: 0.3, low: 0.26, high: 0.34 });
  });
});

describe("what a relay needs", () => {
  test("a disk is given the time to run back from full travel: 3 · 21.6 s, IEEE C37.112 very inverse", () => {
    const disk = { ...inverse51, curve: "ieee-very-inverse", multiplier: 3 };
    expect(checkNamed(read([disk]), "51P/time@3").timeline.segments[0]?.duration).toBe(64.8);
    expect(checkNamed(read([inverse51]), "51P/time@3").timeline.segments[0]?.duration).toBe(2);
  });

  test("an element that drives the watched start contact too is named where it starts, however slow it is", () => {
    const slow = { id: "51P2", function: "51", pickup: "2 A", delay: "60 s", startContact: "start", accuracy: usual };
    expect(checkNamed(read([inverse51, slow]), "51P/pickup").block).toEqual(["51P2"]);
    expect(checkNamed(read([inverse51, { ...slow, startContact: "start 2" }]), "51P/pickup").block).toEqual([]);
  });

  test("a function that waits to be armed sees the healthy system first, also where its sweep begins below that", () => {
    const sheet = read([{ ...undervoltage27, armAbove: "100 V" }]);
    for (const id of ["27/pickup", "27/dropout"]) {
      const [first, second] = checkNamed(sheet, id).timeline.segments;
      expect(first).toMatchObject({ name: "pre-fault", duration: 2 });
      const volts = Object.values(first?.channels ?? {}).map(({ rms }) => rms);
      // 110 V between the phases, against a sweep from 96.8 V down or from 79.2 V up.
      expect(Math.max(...volts)).toBeGreaterThan(100 / Math.sqrt(3));
      expect(Object.values(second?.channels ?? {}).map(({ rms }) => rms)).not.toEqual(volts);
    }
    expect(checkNamed(read([undervoltage27]), "27/pickup").sweep).not.toHaveProperty("preFault");
    const record = judge(sheet, plan(sheet), rehearsePlan(sheet, plan(sheet)));
    expect(record.verdicts.map((verdict) => verdict.status === "graded" && verdict.grade.verdict)).toEqual(
      record.verdicts.map(() => "within"),
    );
  });

  test("one that waits for more than the healthy system has is a finding", () => {
    const { findings } = plan(read([{ ...undervoltage27, armAbove: "115 V" }]));
    expect(findings).toEqual([
      {
        code: "conflict",
        path: "27.armAbove",
        expected: "a level that the healthy system is above, which arms the element",
        received: "115 V",
      },
    ]);
    expect(plan(read([{ ...undervoltage27, armAbove: "109 V" }])).findings).toEqual([]);
    expect(reasonFor(read([{ ...undervoltage27, armAbove: "115 V" }]), "27/time")).toBe(
      "waits for more than 115 V, which the healthy system from this source does not show it",
    );
  });

  test("a sweep through which the function stays blocked proves nothing, and is impossible", () => {
    const dead = { ...undervoltage27, pickup: "20 V", blockBelow: "25 V" };
    expect(reasonFor(read([dead]), "27/pickup")).toMatch("blocked");
  });

  test("no limit lies below 0 s: 20 ± 40 ms is at most 60 ms", () => {
    const accuracy = { ...usual, time: { absolute: "40 ms" } };
    expect(bandOf(checkNamed(read([{ ...instantaneous50, delay: "20 ms", accuracy }]), "50P/time"))).toEqual({
      nominal: 0.02,
      high: 0.06,
    });
  });

  test("a limit at a multiple that no double holds is exact: 132/120 V on the overvoltage inverse, 2/(1.1 − 1) s ± 5 %", () => {
    const setting = {
      id: "59",
      function: "59",
      watches: "line-to-line",
      pickup: "120 V",
      curve: "overvoltage-inverse",
      multiplier: 2,
      startContact: "start",
      accuracy: { ...usual, time: { percent: 5 } },
    };
    expect(bandOf(checkNamed(read([setting]), "59/time@1.1"))).toEqual({ nominal: 20, low: 19, high: 21 });
    // 1/(1.05 − 1)² = 400 s, whatever double 1.05 is.
    const flux = {
      id: "24",
      function: "24",
      watches: "line-to-line",
      pickup: "110 %",
      curve: { form: "excess", k: "1 s", power: 2 },
      startContact: "start",
      accuracy: { pickup: { percent: 1 }, time: { percent: 5 } },
    };
    expect(bandOf(checkNamed(read([flux]), "24/time@1.05"))).toEqual({ nominal: 400, low: 380, high: 420 });
    // k over the square of the multiple, and never more than the maximum.
    const unbalance = {
      id: "46",
      function: "46",
      watches: "I2",
      pickup: "0.35 A",
      curve: { form: "energy", k: "4.9 s" },
      accuracy: { pickup: { percent: 1 }, time: { percent: 5 } },
    };
    const nominals = (curve: object) =>
      plan(read([{ ...unbalance, curve }])).checks.flatMap((check) =>
        check.proves === "operate-time" ? [[check.level, bandOf(check).nominal]] : [],
      );
    expect(nominals(unbalance.curve).length).toBeGreaterThan(1);
    for (const [level, nominal] of nominals(unbalance.curve)) {
      const multiple = new Decimal(String(level)).div("0.35");
      expect(nominal).toBe(new Decimal("4.9").div(multiple.times(multiple)).toNumber());
    }
    for (const [, nominal] of nominals({ ...unbalance.curve, maximumTime: "0.05 s" })) expect(nominal).toBe(0.05);
  });
});

describe("a time is measured where a relay that is right has surely started", () => {
  const wide = (absolute: string) => ({ ...usual, pickup: { absolute } });
  const earth = { id: "51N", function: "51N", pickup: "0.1 A", delay: "1 s", accuracy: wide("30 mA") };
  const under = { id: "37", function: "37", pickup: "0.5 A", delay: "1 s", accuracy: usual };

  test("a definite time at 1.2 × the start, or as far beyond as twice the tolerance", () => {
    expect(checkNamed(read([{ ...earth, accuracy: wide("9 mA") }]), "51N/time").level).toBe(0.12);
    expect(checkNamed(read([earth]), "51N/time").level).toBe(0.16);
    expect(checkNamed(read([{ ...under, accuracy: wide("0.04 A") }]), "37/time").level).toBe(0.4);
    expect(checkNamed(read([{ ...under, accuracy: wide("0.2 A") }]), "37/time").level).toBe(0.1);
  });

  test("never through zero: half of what the tolerance leaves, or nothing where it leaves nothing", () => {
    expect(checkNamed(read([{ ...under, accuracy: wide("0.3 A") }]), "37/time").level).toBe(0.1);
    expect(reasonFor(read([{ ...under, accuracy: wide("0.5 A") }]), "37/time")).toBe(
      "0.4 A is not below where 37 starts at the latest (0 A, with its tolerance)",
    );
  });

  test("nearer, by twice the tolerance alone, where the usual level is beyond the source or blocked", () => {
    const within = (maximumCurrent: string) => read([instantaneous50], { source: { maximumCurrent } });
    expect(checkNamed(within("48 A"), "50P/time").level).toBe(48);
    // 40 A + 2 · 5 %.
    expect(checkNamed(within("47 A"), "50P/time").level).toBe(44);
    expect(reasonFor(within("43 A"), "50P/time")).toBe("needs 48 A on one channel, the source makes at most 43 A");
    // 0.8 · 88 V is blocked, 88 V − 2 · 5 % is not.
    expect(checkNamed(read([{ ...undervoltage27, blockBelow: "70 V" }]), "27/time").level).toBe(70.4);
    expect(checkNamed(read([{ ...undervoltage27, blockBelow: "72 V" }]), "27/time").level).toBe(79.2);
    expect(reasonFor(read([{ ...undervoltage27, blockBelow: "80 V" }]), "27/time")).toMatch("blocked");
  });

  test("a relay that starts late within its tolerance is within", () => {
    for (const [element, pickup] of [
      [earth, 1.29],
      [{ ...under, accuracy: wide("0.2 A") }, 0.61],
    ] as const) {
      const sheet = read([element]);
      const planned = plan(sheet);
      const { verdicts } = judge(
        sheet,
        planned,
        rehearsePlan(sheet, planned, { errors: { [element.id]: { pickup } } }),
      );
      const grades = verdicts.flatMap((one) => (one.status === "graded" ? [one.grade.verdict] : []));
      expect(grades).toEqual(["within", "within", "within"]);
    }
  });

  test("an inverse time is not asked for nearer than that: 105 % of a V/Hz setting of 110 % ± 5 %", () => {
    const flux = {
      id: "24",
      function: "24",
      watches: "line-to-line",
      pickup: "110 %",
      curve: { form: "excess", k: "1 s", power: 1 },
      startContact: "start",
      accuracy: usual,
    };
    const sheet = read([flux]);
    expect(reasonFor(sheet, "24/time@1.05")).toBe(
      "1.155 is not above where 24 starts at the latest (1.155, with its tolerance)",
    );
    expect(reasonFor(sheet, "24/time@1.1")).toBeUndefined();
    const exact = read([{ ...flux, accuracy: { ...usual, pickup: { percent: 2 } } }]);
    expect(reasonFor(exact, "24/time@1.05")).toBeUndefined();
  });
});

describe("what could operate meanwhile", () => {
  test("a faster 50 is named where the 51 is timed above it, and not below", () => {
    const sheet = read([inverse51, instantaneous50]);
    expect(checkNamed(sheet, "51P/time@7").block).toEqual([]);
    expect(checkNamed(sheet, "51P/time@15").block).toEqual(["50P"]);
  });

  test("also where only its tolerance reaches down to the level: 60 A against 61 A ± 5 %", () => {
    expect(checkNamed(read([inverse51, { ...instantaneous50, pickup: "61 A" }]), "51P/time@15").block).toEqual(["50P"]);
    expect(checkNamed(read([inverse51, { ...instantaneous50, pickup: "64 A" }]), "51P/time@15").block).toEqual([]);
  });

  test("a 51 is named during the pulses of the 50, because its travel may add up", () => {
    expect(checkNamed(read([inverse51, instantaneous50]), "50P/pickup").block).toEqual(["51P"]);
  });

  test("a definite time is not named during the pulses, because it starts anew after each rest", () => {
    const { curve: _, multiplier: __, ...definite } = { ...inverse51, delay: "1 s" };
    const check = checkNamed(read([definite, instantaneous50]), "50P/pickup");
    const pulses = check.timeline.segments.filter(({ channels }) => (channels["ia"]?.rms ?? 0) > 4);
    // Together they last far longer than the delay.
    expect(pulses.reduce((sum, { duration }) => sum + duration, 0)).toBeGreaterThan(1.2);
    expect(check.block).toEqual([]);
  });

  test("an undervoltage function is quiet while currents are injected, because healthy voltages are", () => {
    expect(checkNamed(read([inverse51, undervoltage27]), "51P/time@3").block).toEqual([]);
  });

  test("a definite time that runs is named where the level lies above its dropout, and not where it lets go", () => {
    // One channel feeds all phases: 63.5 V of V0 for 2 s before the fault, and the level of the 27 from then on.
    const source = { source: { currentChannels: 1, voltageChannels: 1 } };
    const phase27 = { ...undervoltage27, watches: "line-to-neutral", pickup: "25 V", delay: "10 ms" };
    // The 27 has to be quiet at 26.25 V, which does not start a 59N of 26.8 V, but holds it if it lets go at 24.12 V.
    const exact = { pickup: { percent: 0.1 }, time: { percent: 1 } };
    const residual = { id: "59N", function: "59N", watches: "V0", pickup: "26.8 V", delay: "2.2 s", accuracy: exact };
    const blockedFor = (dropoutRatio: number) =>
      checkNamed(read([phase27, { ...residual, dropoutRatio }], source), "27/quiet").block;
    expect(blockedFor(0.9)).toEqual(["59N"]);
    expect(blockedFor(0.99)).toEqual([]);
  });

  test("elements that are switched off are not in the way", () => {
    const sheet = read([inverse51, { ...instantaneous50, enabled: false }]);
    expect(checkNamed(sheet, "51P/time@15").block).toEqual([]);
  });

  test("whatever is not named stays still for the whole check", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const { elements } = settingsOf(sheet);
        for (const { timeline, block, element } of plan(sheet).checks) {
          const others = elements.filter(({ id }) => id !== element && !block.includes(id));
          for (const other of others) {
            expect(rehearse([other], timeline).log.filter(({ step }) => step === "operated")).toEqual([]);
          }
        }
      }),
      60,
    );
  });
});

describe("what cannot be made", () => {
  test("a level beyond the source is listed with the reason, never dropped", () => {
    const sheet = read([inverse51], { source: { maximumCurrent: "50 A" } });
    expect(reasonFor(sheet, "51P/time@15")).toBe("needs 60 A on one channel, the source makes at most 50 A");
  });

  test.each([
    // 12 A and 28 A put 144 and 784 VA into 1 ohm.
    [
      { currentOutput: { burden: "1 ohm", power: "500 VA" } },
      "puts 784 VA into the burden on channel ia, the source gives at most 500 VA",
    ],
    [
      { currentOutput: { burden: "0.5 ohm", compliance: "10 V" } },
      "needs 14 V across the burden on channel ia, the source drives at most 10 V",
    ],
    [
      { frequency: { minimum: "55 Hz", maximum: "65 Hz" } },
      "needs 50 Hz on channel va, beyond the 55 Hz of the source",
    ],
  ])("a power, a compliance or a frequency beyond the source: %j", (source, reason) => {
    expect(reasonFor(read([inverse51], { source }), "51P/time@7")).toBe(reason);
  });

  test("of several limits the one that is passed by most is told", () => {
    const source = { maximumCurrent: "25 A", currentOutput: { burden: "1 ohm", power: "500 VA" } };
    expect(reasonFor(read([inverse51], { source }), "51P/time@7")).toMatch("puts 784 VA");
  });

  test("the power of the levels below is no obstacle", () => {
    const source = { currentOutput: { burden: "1 ohm", power: "500 VA", compliance: "15 V" } };
    expect(reasonFor(read([inverse51], { source }), "51P/time@3")).toBeUndefined();
  });

  test("a duty is no reason, but a caution: the relay ends the state before", () => {
    const source = { currentOutput: { duty: [{ above: "20 A", atMost: "500 ms" }] } };
    const sheet = read([inverse51], { source });
    // 28 A for 1.25 × (0.45 + 0.04) s, the response of 40 ms and a tenth of a second, up to whole 10 ms.
    expect(checkNamed(sheet, "51P/time@7").cautions.join()).toMatch(
      /Up to 0\.76 s above 20 A on channel ia, the source holds it for 0\.5 s/,
    );
    expect(checkNamed(sheet, "51P/time@3").cautions.join()).not.toMatch(/the source holds/);
  });

  test("an undervoltage of any line-to-line pair on one voltage channel", () => {
    const sheet = read([undervoltage27], { source: { voltageChannels: 1 } });
    expect(reasonFor(sheet, "27/time")).toMatch("three voltage channels");
  });

  test("a multiple beyond the ends of a drawn curve, unless it is declared flat from there on", () => {
    const points = [
      { multiple: 2, time: 3 },
      { multiple: 10, time: 0.5 },
    ];
    const drawn = { ...inverse51, curve: { form: "table", points }, multiplier: 1 };
    expect(reasonFor(read([drawn]), "51P/time@15")).toMatch("says nothing at 15 × the setting");
    // 0.5 s at its end, and from there on.
    const flat = read([{ ...drawn, ceilingMultiple: 10 }]);
    expect(bandOf(checkNamed(flat, "51P/time@15")).nominal).toBe(0.5);
    // Flat from below its first point it has no time at all.
    expect(reasonFor(read([{ ...drawn, ceilingMultiple: 1.5 }]), "51P/time@3")).toMatch("says nothing");
  });

  test("a level below zero: 0.5 Hz beyond 0.4 Hz, where the tolerance leaves nothing nearer", () => {
    const low = { id: "81U", function: "81U", pickup: "0.4 Hz", delay: "1 s" };
    const at = (absolute: string) => read([{ ...low, accuracy: { pickup: { absolute }, time: { percent: 5 } } }]);
    expect(reasonFor(at("0.4 Hz"), "81U/time")).toBe("needs a level of -0.1 Hz");
    expect(checkNamed(at("0.01 Hz"), "81U/time").level).toBe(0.38);
  });

  test("a level at which the function is blocked", () => {
    expect(reasonFor(read([{ ...undervoltage27, blockBelow: "80 V" }]), "27/time")).toMatch("blocked");
  });

  test("a function that operates on a healthy system, which is a finding too", () => {
    const sheet = read([{ ...undervoltage27, pickup: "115 V" }]);
    expect(reasonFor(sheet, "27/time")).toMatch("healthy");
    expect(plan(sheet).findings).toMatchObject([{ path: "27.pickup", code: "conflict" }]);
  });

  test("a good undervoltage is no finding on a source that cannot hold up the voltages between lines", () => {
    expect(plan(read([undervoltage27], { source: { voltageChannels: 1 } })).findings).toEqual([]);
  });

  test("every element has a pickup and a time, as a check or as impossible", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const { checks, impossible } = plan(sheet);
        for (const { id } of settingsOf(sheet).elements) {
          const ids = [...checks, ...impossible].filter(({ element }) => element === id).map((item) => item.id);
          expect(ids).toContain(`${id}/pickup`);
          expect(ids.some((name) => name.startsWith(`${id}/time`))).toBe(true);
        }
      }),
      60,
    );
  });
});

describe("a plan as data", () => {
  test("survives JSON and back, and is the same every time", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const planned = plan(sheet);
        expect(JSON.parse(JSON.stringify(planned))).toEqual(planned);
        expect(plan(sheet)).toEqual(planned);
      }),
      30,
    );
  });

  test("puts pickups before times, and sums up the time of all", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const { checks, totalTime: total } = plan(sheet);
        const proves = checks.map((check) => check.proves);
        expect(proves.lastIndexOf("pickup")).toBeLessThan(
          proves.indexOf("operate-time") === -1 ? Infinity : proves.indexOf("operate-time"),
        );
        expect(total).toBeCloseTo(
          checks.reduce((sum, { timeline }) => sum + totalTime(timeline), 0),
          6,
        );
      }),
      30,
    );
  });

  test("primary or secondary entry makes the same plan", () => {
    const secondary = plan(read([inverse51, instantaneous50]));
    const primary = plan(
      read(
        [
          { ...inverse51, pickup: "320 A" },
          { ...instantaneous50, pickup: "3.2 kA" },
        ],
        { values: "primary" },
      ),
    );
    expect(primary).toEqual(secondary);
  });

  test("warns of voltages to neutral above 1.2 × rated, 76.2 V of 110 V between lines, unless a rating is known", () => {
    const overvoltage = {
      id: "59",
      function: "59",
      watches: "line-to-line",
      pickup: "121 V",
      delay: "2 s",
      dropoutRatio: 0.98,
      accuracy: { pickup: { percent: 1 }, time: { percent: 5 } },
    };
    const warned = (other: object = {}) =>
      plan(read([overvoltage], other))
        .checks.filter(({ cautions }) => cautions.some((text) => text.includes("continuous rating")))
        .map(({ id }) => id);
    // 1.2 × 121 V is 145.2 V, 83.8 V on each channel, and the sweep goes to 133.1 V and more, 76.8 V; 119.79 V is 69.2 V.
    expect(warned()).toEqual(["59/pickup", "59/time"]);
    expect(warned({ inputs: { voltage: { continuous: "150 V" } } })).toEqual([]);
    // One channel in parallel on all inputs, to neutral: 1.2 × 63.5 V is on the limit of 76.2 V, 1.2 × 65 V beyond it.
    const phase = (pickup: string) =>
      plan(
        read([{ ...overvoltage, watches: "line-to-neutral", pickup }], {
          vt: "11 kV/109.985 V",
          source: { currentChannels: 1, voltageChannels: 1 },
        }),
      ).checks.find(({ id }) => id === "59/time")?.cautions.length;
    expect([phase("63.4 V"), phase("65 V")]).toEqual([undefined, 1]);
  });

  test("warns of currents far above rated, whose heating nobody checked", () => {
    expect(checkNamed(read([instantaneous50]), "50P/time").cautions[0]).toMatch("9.6 × rated");
    expect(plan(read([instantaneous50])).cautions.join(" ")).toMatch("Never open a CT secondary");
  });
});
