/** What a curve, a step of time, a reset or a rule refuses, it names with its place, the reason, and what it wanted. */
import {
  advance,
  coordinationMargin,
  fitCurve,
  multiplierForMargin,
  operateInstant,
  operateTime,
  requiredMargin,
  resetTime,
  timeBand,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

type Row = readonly [unknown, string, string, string];
const REST = { elapsed: 0, travel: 0 };
const STEP = { multiple: 2, dt: 1 };
const curve = "iec-very-inverse";

function says(row: Row, ask: () => unknown): void {
  const [, path, code, expected] = row;
  expect(problemsOf(ask)).toEqual([{ path, code, expected, received: expect.any(String) }]);
}

describe("a step of time is refused", () => {
  const steps: readonly Row[] = [
    [undefined, "step", "missing", "a step { multiple, dt }"],
    [{ ...STEP, dt: 0 }, "step.dt", "out-of-range", "a time above 0 s"],
    [{ ...STEP, multiple: -1 }, "step.multiple", "out-of-range", "a multiple of the setting of 0 or more"],
    [{ ...STEP, to: -1 }, "step.to", "out-of-range", "a multiple of the setting of 0 or more"],
  ];
  test.each(steps)("%j", (...row) => says(row, () => advance({ curve }, REST, row[0] as never)));
});

describe("a state is refused", () => {
  const states: readonly Row[] = [
    [undefined, "state", "missing", "a state such as { elapsed: 0, travel: 0 }"],
    [{ ...REST, elapsed: -1 }, "state.elapsed", "out-of-range", "a time of 0 s or more"],
    [{ ...REST, travel: Number.NaN }, "state.travel", "not-finite", "a travel of 0 or more"],
    [{ ...REST, started: -1 }, "state.started", "out-of-range", "a time of 0 s or more"],
    [{ ...REST, released: "1" }, "state.released", "wrong-type", "a time of 0 s or more"],
    [{ ...REST, operatedAt: -1 }, "state.operatedAt", "out-of-range", "a time of 0 s or more"],
  ];
  test.each(states)("%j", (...row) => says(row, () => advance({ curve }, row[0] as never, STEP)));
});

describe("a piece is refused at its place", () => {
  const pieces: readonly Row[] = [
    [{ duration: 0, from: 1, to: 1 }, "pieces[1].duration", "out-of-range", "a time above 0 s"],
    [{ duration: 1, from: -1, to: 1 }, "pieces[1].from", "out-of-range", "a multiple of the setting of 0 or more"],
    [{ duration: 1, from: 1, to: -1 }, "pieces[1].to", "out-of-range", "a multiple of the setting of 0 or more"],
  ];
  const good = { duration: 1, from: 0, to: 0 };
  test.each(pieces)("%j", (...row) => says(row, () => operateInstant({ curve }, [good, row[0] as never])));
});

describe("a setting is refused", () => {
  const thermal = { form: "thermal", tau: 600 };
  const settings: readonly Row[] = [
    [{ curve, minimumTime: -1 }, "minimumTime", "out-of-range", "a time of 0 s or more"],
    [{ curve, addedTime: -1 }, "addedTime", "out-of-range", "a time of 0 s or more"],
    [{ curve: { form: "inverse", k: 0, alpha: 1, c: 0 } }, "curve.k", "out-of-range", "a constant above 0 s"],
    [{ curve: { form: "inverse", k: 1, alpha: 1, c: -1 } }, "curve.c", "out-of-range", "a constant of 0 s or more"],
    [{ curve: { form: "inverse", k: 1, alpha: 0, c: 0 } }, "curve.alpha", "out-of-range", "a constant above 0"],
    [{ curve, dropoutRatio: 0 }, "dropoutRatio", "out-of-range", "a ratio to the start above 0"],
    [{ curve, dropoutRatio: 1.1 }, "dropoutRatio", "out-of-range", "a ratio to the start up to 1"],
    [
      { curve: "undervoltage-inverse", dropoutRatio: 0.9 },
      "dropoutRatio",
      "out-of-range",
      "a ratio to the start of 1 or more",
    ],
    [{ curve, reset: { form: "definite", time: -1 } }, "reset.time", "out-of-range", "a reset time of 0 s or more"],
    [{ curve, reset: { form: "disk", time: 0 } }, "reset.time", "out-of-range", "a reset time above 0 s"],
    [
      { curve: "undervoltage-inverse", reset: { form: "disk", time: 1 } },
      "reset.form",
      "not-applicable",
      "no disk on an under function",
    ],
    [
      { curve, reset: { form: "cooling", release: 0.8 } },
      "reset.form",
      "not-applicable",
      "no cooling but on a thermal curve",
    ],
    [
      { curve: thermal, reset: { form: "cooling", release: 1 } },
      "reset.release",
      "out-of-range",
      "a share of the thermal level below 1",
    ],
  ];
  test.each(settings)("%j", (...row) => says(row, () => resetTime(row[0] as never, 0.5)));
});

describe("points of a curve are refused", () => {
  const drawn = (time: unknown) => ({
    curve: {
      form: "table",
      points: [
        { multiple: 2, time: 5 },
        { multiple: 4, time },
      ],
    },
  });
  const rows: readonly Row[] = [
    [0, "curve.points[1].time", "out-of-range", "a time above 0 s"],
    [6, "curve.points[1].time", "out-of-range", "a time up to 5 s"],
  ];
  test.each(rows)("a time of %j s", (...row) => says(row, () => operateTime(drawn(row[0]) as never, 3)));

  const points: readonly Row[] = [
    [{ multiple: 2, time: 0 }, "points[0].time", "out-of-range", "a time above 0 s"],
    [
      { multiple: 2, time: 1, standardUncertainty: 0 },
      "points[0].standardUncertainty",
      "out-of-range",
      "a time above 0 s",
    ],
  ];
  test.each(points)("an injection %j", (...row) =>
    says(row, () =>
      fitCurve([row[0], { multiple: 5, time: 1, standardUncertainty: 1 }] as never, { curves: [curve] } as never),
    ),
  );
});

describe("a preload is refused", () => {
  const thermal = { form: "thermal", tau: 600 } as const;
  const rows: readonly Row[] = [
    [-0.1, "preload", "out-of-range", "a multiple of the setting of 0 or more"],
    [1, "preload", "out-of-range", "a multiple of the setting below 1"],
    [Number.NaN, "preload", "not-finite", "a multiple of the setting of 0 or more"],
  ];
  test.each(rows)("of %j", (...row) =>
    says(row, () => operateTime({ curve: thermal }, 2, { preload: row[0] as number })),
  );
  test("by a curve without a thermal image", () => {
    says([0, "preload", "not-applicable", "none but on a thermal curve"], () =>
      operateTime({ curve }, 2, { preload: 0.5 }),
    );
  });
});

test("a table tells from where to where it reaches, and the pickup error that leads out of it", () => {
  const points = [
    { multiple: 2, time: 10 },
    { multiple: 20, time: 1 },
  ];
  const drawn = { curve: { form: "table", points } } as const;
  const beyond = { code: "out-of-range", path: "multiple", expected: "a multiple from 2 to 20" };
  expect(problemsOf(() => operateTime(drawn, 21))).toMatchObject([{ ...beyond, received: "21" }]);
  expect(problemsOf(() => operateTime(drawn, 1.5))).toMatchObject([{ ...beyond, received: "1.5" }]);
  says([20, "multiple", "out-of-range", "a multiple in the table, also 5 % off"], () =>
    timeBand(drawn, 20, { form: "constant", percent: 5, pickupPercent: 5 }),
  );
});

test("a ceiling on an under function", () => {
  says([5, "ceilingMultiple", "not-applicable", "none on an under function"], () =>
    operateTime({ curve: "undervoltage-inverse", ceilingMultiple: 5 }, 0.5),
  );
});

test("a thermal image is not solved along a ramp", () => {
  says([0, "pieces[0].to", "not-applicable", "a multiple that stands still, as the curve is thermal"], () =>
    operateInstant({ curve: { form: "thermal", tau: 600 }, reset: { form: "cooling", release: 0.8 } }, [
      { duration: 1, from: 1, to: 2 },
    ]),
  );
});

describe("a rule is refused", () => {
  const rules: readonly Row[] = [
    [{ form: "constant", percent: -1 }, "rule.percent", "out-of-range", "an error of 0 % or more"],
    [{ form: "constant", absolute: -1 }, "rule.absolute", "out-of-range", "an error of 0 s or more"],
    [
      { form: "constant", percent: 5, pickupPercent: -1 },
      "rule.pickupPercent",
      "out-of-range",
      "an error of 0 % or more",
    ],
    [{ form: "constant", percent: 1e308 }, "rule", "out-of-range", "errors whose band fits a double"],
    [{ form: "assigned-error", percent: 5, factors: [] }, "rule.factors", "missing", "a list of { multiple, factor }"],
    [
      { form: "assigned-error", percent: 5, factors: 5 },
      "rule.factors",
      "wrong-type",
      "a list of { multiple, factor }",
    ],
    [
      { form: "assigned-error", percent: 5, factors: [{ multiple: -1, factor: 1 }] },
      "rule.factors[0].multiple",
      "out-of-range",
      "a multiple of the setting of 0 or more",
    ],
    [
      {
        form: "assigned-error",
        percent: 5,
        factors: [
          { multiple: 1, factor: 1 },
          { multiple: 2, factor: -1 },
        ],
      },
      "rule.factors[1].factor",
      "out-of-range",
      "a factor of 0 or more",
    ],
    [
      { form: "assigned-error", percent: 5, factors: [{ multiple: 4, factor: 1 }] },
      "multiple",
      "out-of-range",
      "a multiple from 4 on, where an accuracy is declared",
    ],
  ];
  test.each(rules)("%j", (...row) => says(row, () => timeBand({ curve }, 1.01, row[0] as never)));
});

describe("an allowance is refused", () => {
  const allowances: readonly Row[] = [
    [undefined, "", "missing", "an allowance with downstreamTime"],
    [{ downstreamTime: -1 }, "downstreamTime", "out-of-range", "an operate time of 0 s or more"],
    [{ downstreamTime: 1, breakerTime: -1 }, "breakerTime", "out-of-range", "an allowance of 0 s or more"],
    [{ downstreamTime: 1, ctErrorPercent: -1 }, "ctErrorPercent", "out-of-range", "an allowance of 0 % or more"],
    [
      { downstreamTime: 1, relayErrorsPercent: { upstream: -1 } },
      "relayErrorsPercent.upstream",
      "out-of-range",
      "an allowance of 0 % or more",
    ],
    [
      { downstreamTime: 1, relayErrorsPercent: { up: 5 } },
      "relayErrorsPercent.up",
      "unknown-key",
      "one of upstream, downstream",
    ],
    [{ downstreamTime: 1e300, ctErrorPercent: 1e300 }, "", "out-of-range", "allowances whose sum fits a double"],
    [
      { downstreamTime: 0, ctErrorPercent: 1e308, relayErrorsPercent: { upstream: 1e308 } },
      "",
      "out-of-range",
      "allowances whose sum fits a double",
    ],
  ];
  test.each(allowances)("%j", (...row) => says(row, () => requiredMargin(row[0] as never)));

  test("where it overflows at a current", () => {
    const side = { setting: { curve, multiplier: 100 }, pickup: 600 } as const;
    says([0, "required", "out-of-range", "a margin that fits a double"], () =>
      coordinationMargin({ upstream: side, downstream: side, currents: [700], required: { ctErrorPercent: 1e308 } }),
    );
  });
});

describe("the multipliers to choose from are refused, with the value that was given", () => {
  const side = { setting: { curve }, pickup: 600 } as const;
  const given = { upstream: side, downstream: side, currents: { from: 800, to: 6000 }, required: 0.3, step: 0.05 };
  const reach = "a multiplier of 0.1 or more";
  const rows: readonly Row[] = [
    [{ step: 1e-20 }, "step", "out-of-range", "a step that counts the multipliers up to 100"],
    [{ maximum: Number.NaN }, "maximum", "not-finite", "a multiplier above 0"],
    [{ maximum: Number.POSITIVE_INFINITY }, "maximum", "not-finite", "a multiplier above 0"],
    [{ maximum: -1 }, "maximum", "out-of-range", "a multiplier above 0"],
    [{ minimum: null }, "minimum", "wrong-type", "a multiplier above 0"],
    [{ minimum: 0.06, maximum: 0.07 }, "maximum", "out-of-range", reach],
    [{ minimum: 101 }, "minimum", "out-of-range", "a multiplier up to 100"],
    [{ step: 200 }, "step", "out-of-range", "a multiplier up to 100"],
  ];
  test.each(rows)("%j", (...row) => says(row, () => multiplierForMargin({ ...given, ...(row[0] as object) })));

  test.each([1e-11, 5e-324])("a minimum of %d is that of the first step", (minimum) => {
    const answer = multiplierForMargin({ ...given, required: 0, minimum, upstream: { ...side, pickup: 601 } });
    expect(answer).toMatchObject({ kind: "found", multiplier: 1 });
    const fast = { setting: { curve, multiplier: 0.01 }, pickup: 600 } as const;
    const first = (step: number) => ({ ...given, required: 0, step, minimum, downstream: fast });
    for (const step of [0.05, 4])
      expect(multiplierForMargin(first(step))).toMatchObject({ kind: "found", multiplier: step });
  });
});
