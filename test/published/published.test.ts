import { describe, expect, test } from "vitest";
import { ASK } from "./ask.js";
import { againstPrinted } from "./digits.js";
import { type Ask, ledger, misses } from "./harness.js";
import { checkTable, type Flag, flaggedIn, readJson, type Size, type Table, tableNames } from "./table.js";

/** Written down apart from the tables, so that a row or a value that goes missing there is missed here. */
const SIZES: { readonly [table: string]: Size } = {
  "curve/operate-time": { rows: 359, values: 431 },
  "curve/constants": { rows: 6, values: 18 },
  "curve/handbook-times": { rows: 11, values: 22 },
  "curve/ieee-times": { rows: 19, values: 38 },
  "curve/worked-examples": { rows: 6, values: 21 },
  "curve/overvoltage": { rows: 27, values: 27 },
  "curve/undervoltage": { rows: 26, values: 26 },
  "curve/sensitivity": { rows: 48, values: 144 },
  "curve/time-band": { rows: 28, values: 109 },
  "curve/coordination": { rows: 6, values: 11 },
  "curve/multiple-for-time": { rows: 82, values: 160 },
  "curve/multiplier-for-time": { rows: 15, values: 15 },
  "curve/reset-time": { rows: 102, values: 102 },
  "curve/thermal-times": { rows: 45, values: 45 },
  "curve/cooling-times": { rows: 2, values: 2 },
  "curve/energy-times": { rows: 29, values: 29 },
  "curve/excess-times": { rows: 6, values: 6 },
  "curve/integral": { rows: 6, values: 12 },
  "curve/decays": { rows: 5, values: 5 },
  "curve/heating": { rows: 11, values: 22 },
  "curve/negative-sequence-limits": { rows: 6, values: 12 },
  "characteristic/mho-points": { rows: 21, values: 38 },
  "characteristic/offset-mho-points": { rows: 6, values: 6 },
  "characteristic/quadrilateral-points": { rows: 4, values: 8 },
  "characteristic/earth-factors": { rows: 6, values: 39 },
  "characteristic/fault-voltages": { rows: 2, values: 6 },
  "characteristic/differential-points": { rows: 2, values: 14 },
  "characteristic/restraints": { rows: 3, values: 9 },
  "characteristic/dual-slopes": { rows: 6, values: 12 },
  "characteristic/compensation": { rows: 3, values: 12 },
  "characteristic/directional-products": { rows: 23, values: 44 },
  "characteristic/quadrature": { rows: 2, values: 4 },
  "characteristic/advance-angles": { rows: 6, values: 6 },
  "characteristic/timer-slips": { rows: 2, values: 2 },
  "characteristic/mho-settings": { rows: 1, values: 1 },
  "characteristic/difference-voltage": { rows: 8, values: 15 },
  "sinusoid/amplitudes": { rows: 8, values: 45 },
  "sinusoid/instantaneous": { rows: 9, values: 22 },
  "sinusoid/direct-current-decay": { rows: 4, values: 8 },
  "sinusoid/peak-factors": { rows: 14, values: 28 },
  "sinusoid/asymmetry": { rows: 13, values: 79 },
  "sinusoid/duty-factors": { rows: 11, values: 27 },
  "sinusoid/offset-currents": { rows: 6, values: 51 },
  "sinusoid/windows": { rows: 23, values: 60 },
  "sinusoid/meter-readings": { rows: 7, values: 32 },
  "sinusoid/samples": { rows: 5, values: 164 },
  "sinusoid/sine-fits": { rows: 7, values: 47 },
  "sinusoid/coherent-sampling": { rows: 5, values: 10 },
  "sinusoid/distortion": { rows: 7, values: 18 },
  "sinusoid/phasor-track": { rows: 20, values: 195 },
  "sinusoid/total-vector-error": { rows: 13, values: 21 },
  "sinusoid/frequency-and-rocof": { rows: 8, values: 16 },
  "phasor/polar-rectangular": { rows: 16, values: 31 },
  "phasor/normalize-angle": { rows: 10, values: 19 },
  "phasor/operations": { rows: 3, values: 30 },
  "phasor/power": { rows: 4, values: 28 },
  "phasor/textbook": { rows: 8, values: 74 },
  "phasor/delta-wye": { rows: 3, values: 36 },
  "phasor/symmetrical-components": { rows: 12, values: 241 },
  "phasor/phases-from-components": { rows: 3, values: 30 },
  "phasor/line-voltages": { rows: 6, values: 12 },
  "phasor/unbalance": { rows: 7, values: 47 },
  "phasor/clock-number": { rows: 6, values: 24 },
  "phasor/fault-currents": { rows: 4, values: 16 },
  "phasor/short-circuits": { rows: 7, values: 243 },
  "phasor/per-unit": { rows: 6, values: 32 },
  "phasor/secondary": { rows: 7, values: 48 },
  "timeline/levels": { rows: 18, values: 94 },
  "timeline/total-time": { rows: 3, values: 3 },
  "timeline/ramp-times": { rows: 4, values: 28 },
  "timeline/crossing-time": { rows: 4, values: 4 },
  "timeline/dwell": { rows: 2, values: 30 },
  "timeline/chirp": { rows: 6, values: 18 },
  "timeline/phase-continuity": { rows: 3, values: 17 },
  "timeline/state-jump": { rows: 3, values: 9 },
  "timeline/readback": { rows: 1, values: 2 },
  "timeline/sample-clock": { rows: 3, values: 3 },
  "grading/rounding": { rows: 24, values: 60 },
  "grading/tolerance": { rows: 8, values: 24 },
  "grading/decision-rules": { rows: 10, values: 50 },
  "grading/coverage-factor": { rows: 25, values: 252 },
  "grading/standard-uncertainty": { rows: 11, values: 25 },
  "grading/budgets": { rows: 5, values: 47 },
  "grading/propagation": { rows: 5, values: 26 },
  "grading/end-gauge": { rows: 1, values: 19 },
  "grading/resistance-and-reactance": { rows: 1, values: 41 },
  "grading/conformance": { rows: 21, values: 43 },
  "grading/risks": { rows: 23, values: 52 },
  "grading/worst-risks": { rows: 6, values: 21 },
  "grading/stated-accuracy": { rows: 7, values: 11 },
  "grading/quantization": { rows: 6, values: 16 },
  "grading/instrument-errors": { rows: 6, values: 18 },
  "grading/magnitude-bias": { rows: 1, values: 2 },
  "grading/deviation-uncertainty": { rows: 9, values: 26 },
  "grading/repeated-shots": { rows: 2, values: 19 },
  "grading/groups": { rows: 1, values: 16 },
  "grading/line": { rows: 1, values: 16 },
  "grading/sums-of-rectangles": { rows: 2, values: 8 },
  "element/flux-ratios": { rows: 4, values: 4 },
  "element/thermal-times": { rows: 3, values: 3 },
  "element/negative-sequence-times": { rows: 6, values: 6 },
  "element/distance-reaches": { rows: 27, values: 27 },
  "element/distance-injections": { rows: 2, values: 4 },
  "element/differential-trips": { rows: 2, values: 6 },
  "element/differential-lines": { rows: 6, values: 12 },
};
const FLAGGED = 82;

const names = Object.keys(SIZES);
const tableOf = (name: string): Table => checkTable(name, readJson<Table>(name), SIZES[name] as Size);

describe("what others published, and what the library says", () => {
  test.each(names)("%s agrees with its sources", (name) => {
    expect(misses(ledger(tableOf(name), ASK[name] as Ask))).toEqual([]);
  });

  test("every table that lies in the folder is listed and asked", () => {
    expect(tableNames().sort()).toEqual([...names].sort());
    expect(Object.keys(ASK).sort()).toEqual([...names].sort());
  });
});

describe("printed values that their own formula does not give", () => {
  const flags = readJson<{ readonly count: number; readonly rows: readonly Flag[] }>("flagged");

  test("are all kept on record", () => {
    expect([flags.rows.length, flags.count]).toEqual([FLAGGED, FLAGGED]);
  });

  test("lie more than half a unit of their last digit from the recomputed ones", () => {
    expect(flags.rows.filter(({ printed, recomputed }) => againstPrinted(Number(recomputed), printed).within)).toEqual(
      [],
    );
  });

  test("serve no table as expected values", () => {
    expect(names.flatMap((name) => flaggedIn(tableOf(name), flags.rows))).toEqual([]);
  });
});
