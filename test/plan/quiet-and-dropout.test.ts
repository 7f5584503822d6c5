import fc from "fast-check";
import { dropoutLevel, inputsOf, operateTimeOf, startLevel } from "tripwright/element";
import { type Check, plan, planEach, type Sheet, settingsOf } from "tripwright/plan";
import { totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  instantaneous50,
  inverse51,
  read,
  reasonFor,
  sheets,
  tanneryLane,
  underfrequency81,
  undervoltage27,
  usual,
} from "../support/sheets.js";

const elementOf = (sheet: Sheet, id: string) => settingsOf(sheet).elements.find((element) => element.id === id)!;

describe("dropout checks", () => {
  test.each([
    ["overcurrent, 0.95 × 4 A", inverse51, "51P", 3.8],
    ["undervoltage, 1.05 × 88 V", undervoltage27, "27", 92.4],
    ["underfrequency, 49 Hz + 20 mHz", underfrequency81, "81U", 49.02],
  ])("expect what the sheet declares: %s", (_what, element, id, level) => {
    expect(bandOf(checkNamed(read([element]), `${id}/dropout`)).nominal).toBe(level);
  });

  test("begin where the function has surely started, end where it has surely let go, with the dropout on the grid", () => {
    holds(
      fc.property(sheets, (sheet) => {
        for (const check of plan(sheet).checks) {
          if (check.proves !== "dropout" || check.sweep === undefined) continue;
          const setting = elementOf(sheet, check.element);
          const { from, to, step } = check.sweep;
          const [start, dropout] = [startLevel(setting), dropoutLevel(setting)];
          const side = Math.sign(from - to);
          expect(side * (from - start)).toBeGreaterThan(0);
          expect(side * (dropout - to)).toBeGreaterThan(0);
          const steps = (from - dropout) / step;
          expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-6);
          const { nominal, low = nominal, high = nominal } = bandOf(check);
          expect(Math.min(from, to)).toBeLessThanOrEqual(low);
          expect(Math.max(from, to)).toBeGreaterThanOrEqual(high);
          // Beyond the limit, not on it, or as far as there is anything.
          if (to > step) expect(side * ((side > 0 ? low : high) - to)).toBeGreaterThan(0);
        }
      }),
      60,
    );
  });

  test("of an under function begin at no level below 0, however wide the tolerance: 1 V ± 50 %", () => {
    const wide = { ...undervoltage27, pickup: "1 V", accuracy: { ...usual, pickup: { percent: 50 } } };
    expect(checkNamed(read([wide]), "27/dropout").sweep?.from).toBeCloseTo(0.05, 12);
  });

  test("are held against the accuracy of the dropout, else that of the pickup", () => {
    const own = { ...inverse51, accuracy: { ...usual, dropout: { percent: 1 } } };
    expect(bandOf(checkNamed(read([own]), "51P/dropout"))).toEqual({ nominal: 3.8, low: 3.762, high: 3.838 });
    expect(bandOf(checkNamed(read([inverse51]), "51P/dropout"))).toEqual({ nominal: 3.8, low: 3.61, high: 3.99 });
  });

  test("of what the sheet does not declare are listed with the reason", () => {
    const { dropoutRatio: _, ...silent } = inverse51;
    expect(reasonFor(read([silent]), "51P/dropout")).toMatch("declares no dropout");
  });
});

describe("no-operation checks", () => {
  test.each([
    ["an overcurrent, 4 A − 5 %", inverse51, {}, "51P", 3.8],
    ["an undervoltage, 88 V + 5 %", undervoltage27, {}, "27", 92.4],
    [
      "and what the source may be off: 3.8 A − 1 %",
      inverse51,
      { source: { accuracy: { current: { percent: 1 } } } },
      "51P",
      3.762,
    ],
  ])("stand at the setting and its tolerance away from it: %s", (_what, element, other, id, level) => {
    expect(checkNamed(read([element], other), `${id}/quiet`).level).toBe(level);
  });

  test("hold a trip contact longer than the latest definite time, a start contact a second", () => {
    // 1.5 s + 5 %, a tenth more, and four times the response
    expect(checkNamed(read([undervoltage27]), "27/quiet").expect).toMatchObject({ form: "stays-quiet", held: 1.9 });
    expect(checkNamed(read([inverse51]), "51P/quiet")).toMatchObject({ contact: "start", expect: { held: 1 } });
  });

  test("never operate an element that is at the edge of its accuracy, and would show one that is twice as far off", () => {
    holds(
      fc.property(sheets, (sheet) => {
        for (const check of plan(sheet).checks) {
          if (check.proves !== "no-operation" || check.expect.form !== "stays-quiet") continue;
          // What has to stay quiet for another reason than its level is looked at in edges.test.ts.
          if (check.because.numbers["limit"] === undefined) continue;
          const setting = elementOf(sheet, check.element);
          const { channels, duration } = check.timeline.segments[1]!;
          const edge = (check.because.numbers["limit"] as number) / (setting.law.startRatio ?? 1);
          const inputs = inputsOf(channels, check.timeline.wiring);
          const moved = (pickup: number) => operateTimeOf({ ...setting, pickup } as typeof setting, inputs);
          // Phasors at −120° have roundings of their own, which decide nothing on a real input.
          const hair = Math.sign(setting.pickup - edge) * 1e-12 * edge;
          expect(moved(edge + hair)).toBe(Number.POSITIVE_INFINITY);
          const { curve } = setting.law;
          if (setting.startContact !== undefined || typeof curve === "string" || curve.form !== "definite") continue;
          const twice = edge - 1.01 * (setting.pickup - edge);
          if (twice > 0) expect(moved(twice)).toBeLessThanOrEqual(duration);
        }
      }),
      60,
    );
  });

  test("of an accuracy without a limit on the quiet side are listed with the reason", () => {
    const onesided = { ...inverse51, accuracy: { ...usual, pickup: { percent: 5, side: "high" } } };
    expect(reasonFor(read([onesided]), "51P/quiet")).toMatch("no limit on the quiet side");
  });
});

describe("the order of the work", () => {
  test("measures before it times, and of each kind does what heats least first", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const { checks } = plan(sheet);
        const rank = { pickup: 0, edge: 1, dropout: 2, "no-operation": 3, "operate-time": 4 } as const;
        const heat = ({ timeline }: Check) =>
          Math.max(
            0,
            ...Object.keys(timeline.wiring)
              .filter((name) => timeline.wiring[name]?.quantity === "current")
              .map((name) =>
                timeline.segments.reduce(
                  (sum, { channels, duration }) => sum + (channels[name]?.rms ?? 0) ** 2 * duration,
                  0,
                ),
              ),
          );
        checks.slice(1).forEach((check, i) => {
          const before = checks[i]!;
          expect(rank[check.proves]).toBeGreaterThanOrEqual(rank[before.proves]);
          if (check.proves === before.proves) expect(heat(check)).toBeGreaterThanOrEqual(heat(before) * (1 - 1e-12));
        });
      }),
      40,
    );
  });
});

describe("findings", () => {
  const findings = (elements: readonly object[], other: object = {}) => plan(read(elements, other)).findings;
  const over59 = { ...undervoltage27, id: "59", function: "59", pickup: "121 V", dropoutRatio: 0.95 };

  test.each([
    [
      "an undervoltage above an overvoltage",
      [
        { ...undervoltage27, pickup: "108 V" },
        { ...over59, pickup: "107 V" },
      ],
      {},
      "27.pickup",
    ],
    ["a curve that is flat from its start", [{ ...inverse51, ceilingMultiple: 1.2 }], {}, "51P.ceilingMultiple"],
    ["a pickup beyond the source", [instantaneous50], { source: { maximumCurrent: "30 A" } }, "50P.pickup"],
    [
      "a definite time below the measuring delay",
      [
        {
          ...undervoltage27,
          delay: "20 ms",
          measuringDelay: "60 ms",
          accuracy: { ...usual, time: { absolute: "10 ms" } },
        },
      ],
      {},
      "27.delay",
    ],
    [
      "an inverse time that runs out below the measuring delay",
      [{ ...inverse51, multiplier: 0.02, accuracy: { ...usual, time: { percent: 5, absolute: "5 ms" } } }],
      {},
      "51P.curve",
    ],
    ["a setting between the steps of the relay", [{ ...inverse51, step: "0.3 A" }], {}, "51P.pickup"],
  ])("%s", (_what, elements, other, path) => {
    expect(findings(elements, other).map((problem) => problem.path)).toContain(path);
  });

  test("there are none of good settings", () => {
    expect(
      findings([{ ...inverse51, step: "0.05 A" }, instantaneous50, undervoltage27, over59, underfrequency81]),
    ).toEqual([]);
  });
});

describe("many sheets", () => {
  const good = tanneryLane([inverse51]);

  test("are planned one by one, as the caller asks; nothing is done ahead", () => {
    const asked: number[] = [];
    function* endless() {
      for (let i = 0; ; i++) {
        asked.push(i);
        yield good;
      }
    }
    const plans = planEach(endless());
    expect(asked).toEqual([]);
    plans.next();
    plans.next();
    expect(asked).toEqual([0, 1]);
    plans.return();
  });

  test("that cannot be gone through are refused by name", () => {
    expect(problemsOf(() => [...planEach(undefined as never)])).toMatchObject([{ path: "sheets" }]);
  });

  test("a bad one stops nobody but itself", () => {
    const [first, second, third] = [...planEach([good, { ...good, frequency: "fifty" }, good])];
    expect(first).toEqual({ index: 0, relay: "F12", plan: plan(read([inverse51])) });
    expect(second).toMatchObject({ index: 1, problems: [{ path: "frequency" }] });
    expect(third).toMatchObject({ index: 2, relay: "F12" });
  });
});

test("the alternative to blocking is a level at which nothing else operates", () => {
  const check = checkNamed(read([inverse51, instantaneous50]), "51P/time@15");
  expect(check.block).toEqual(["50P"]);
  expect(check.alternative).toEqual({ level: 32, multiple: 8 });
});

test("the whole time is that of all checks", () => {
  const { checks, totalTime: total } = plan(read([inverse51, undervoltage27]));
  expect(total).toBeCloseTo(
    checks.reduce((sum, { timeline }) => sum + totalTime(timeline), 0),
    9,
  );
});

describe("what the inputs stand", () => {
  const inputs = { current: { continuous: "4 × rated", shortTime: { value: "100 × rated", time: "1 s" } } };
  const cautions = (given: object) => checkNamed(read([instantaneous50], { inputs: given }), "50P/time").cautions;

  test("where the sheet gives it nothing is left unchecked, and a check within it says nothing", () => {
    expect(cautions(inputs)).toEqual([]);
    expect(cautions({})[0]).toMatch("was not checked");
  });

  test("a check beyond it says so, and after how long", () => {
    // 48 A for 0.19 s are 438 A²s; 20² · 0.5 are 200, reached after 200/48² s.
    const weak = { current: { shortTime: { value: "20 A", time: "0.5 s" } } };
    expect(cautions(weak)[0]).toMatch(/Beyond the short-time rating of input ia after 2\.08\d s/);
  });
});
