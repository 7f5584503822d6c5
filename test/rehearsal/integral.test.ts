import { type CurveSetting, operateTime } from "tripwright/curve";
import type { ElementSetting } from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import { type Piece, ramp } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { curveIn, NAMES } from "../published/curve/names.js";
import { againstPrinted } from "../published/digits.js";
import { number, text } from "../published/given.js";
import { type Answers, ledger, misses } from "../published/harness.js";
import { checkTable, type Given, type Inputs, readJson, type Table } from "../published/table.js";

/** When a 51 of 5 A trips, while the current moves as a multiple of that. */
function tripped(law: CurveSetting, multiples: readonly Piece[]): number {
  const relay = {
    id: "51P",
    function: "51",
    watches: "phase",
    pickup: 5,
    law,
    measuringDelay: 0,
    contact: "trip",
    accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
  } as const satisfies ElementSetting;
  const timeline = ramp({
    base: { i: { rms: 0, frequency: 50 } },
    lever: { i: { rms: 1 } },
    pieces: multiples.map(({ duration, from, to }) => ({ duration, from: 5 * from, to: 5 * to })),
    wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
  });
  return rehearse([relay], timeline).events.find(({ to }) => to === "closed")?.at ?? Number.NaN;
}

/** The last stretch of a profile has no end. */
const piecesOf = (inputs: Inputs, longer = 0): Piece[] =>
  (inputs["profile"] as readonly Given[]).map((given, i) => {
    const stretch = given as Inputs;
    const multiple = number(stretch, "M");
    const end = "t_to_s" in stretch ? number(stretch, "t_to_s") : 100;
    return { duration: end - number(stretch, "t_from_s") + (i === 1 ? longer : 0), from: multiple, to: multiple };
  });

function trips(inputs: Inputs): Answers {
  const pure: CurveSetting = {
    curve: curveIn(inputs, NAMES),
    multiplier: number(inputs, "time_dial" in inputs ? "time_dial" : "TMS"),
  };
  if ("M_of_t" in inputs) {
    const rate = Number(/^1 \+ ([\d.]+)\*t$/.exec(text(inputs, "M_of_t"))?.[1]);
    return { t_trip_s: tripped(pure, [{ duration: 10, from: 1, to: 1 + 10 * rate }]) };
  }
  const law: CurveSetting = {
    ...pure,
    ...("G_D" in inputs && { ceilingMultiple: number(inputs, "G_D") }),
    ...("reset" in inputs && { reset: { form: "definite", time: 0.5 } }),
  };
  return {
    t_trip_s: tripped(law, piecesOf(inputs)),
    t_trip_s_without_clamp: tripped(pure, piecesOf(inputs)),
    t_trip_s_if_gap_is_0_6_s: tripped(law, piecesOf(inputs, 0.2)),
    t_trip_s_if_instantaneous_reset: tripped({ ...pure, reset: { form: "instantaneous" } }, piecesOf(inputs)),
  };
}

describe("varying currents, as injected", () => {
  test("the instants of trip that the integral equation of IEEE C37.112 gives: steps, ramps, a ceiling, gaps", () => {
    const table = checkTable("curve/integral", readJson<Table>("curve/integral"), { rows: 6, values: 12 });
    const entries = ledger(table, trips).filter(({ value }) => value.quantity.startsWith("t_trip"));
    expect(entries).toHaveLength(9);
    expect(misses(entries)).toEqual([]);
  });

  // Gonen, Electric Power Distribution System Engineering, example 10.1, p. 542 (seen): a relay that takes 0.42 s at the
  // current of the fault and 6 s to run back, behind a recloser that is open for 1 s; travel in percent.
  test.each([
    ["0.03", "7.14286", 0],
    ["0.17", "40.4762", 1],
  ])(
    "a disk behind a recloser that is closed for %s s travels %s percent, and 16.6667 back",
    (closed, printed, left) => {
      const law: CurveSetting = { curve: { form: "inverse", k: 0.42 * 24, alpha: 2, c: 0, reset: 6 } };
      expect(operateTime(law, 5)).toBeCloseTo(0.42, 12);
      const [on, off] = [Number(closed), { duration: 1, from: 0, to: 0 }];
      const fault = (duration: number) => ({ duration, from: 5, to: 5 });
      // Without a pause long enough to run back, the trip comes earlier by what was travelled before.
      const travelled = 1 - (tripped(law, [fault(on), { ...off, duration: 1e-9 }, fault(5)]) - on - 1e-9) / 0.42;
      expect(againstPrinted(100 * travelled, printed).within).toBe(true);
      const rest = 1 - (tripped(law, [fault(on), off, fault(5)]) - on - 1) / 0.42;
      if (left === 0) expect(rest).toBeCloseTo(0, 9);
      else expect(againstPrinted(100 * (travelled - rest), "16.6667").within).toBe(true);
    },
  );
});
