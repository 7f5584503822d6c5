/** Axes and labels: every value on its axis, round ticks, labels that leave one another alone. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { placeLabels, spread, widthOf } from "../../src/figure/labels.js";
import { angleStepFor, linearScale, logScale, pixelOf, type Scale, valueAtPixel } from "../../src/figure/scale.js";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const positive = fc.tuple(between(-12, 12), between(1, 10)).map(([exponent, x]) => x * 10 ** Math.round(exponent));
const any = fc.oneof(between(-1e6, 1e6), between(-1, 1), fc.constantFrom(0, 5e-324, -1e12));

function holdsAll({ domain: [low, high], ticks, labelled }: Scale, values: readonly number[]) {
  expect(low).toBeLessThan(high);
  for (const value of values) expect(value >= low && value <= high).toBe(true);
  for (const tick of ticks) expect(tick >= low && tick <= high).toBe(true);
  for (const tick of labelled) expect(ticks).toContain(tick);
  expect(ticks).toEqual([...new Set(ticks)].sort((a, b) => a - b));
}

const firstDigits = (x: number): string => x.toExponential().replace(/e.*/, "");

describe("a logarithmic axis", () => {
  test("holds every value, with numbers at 1, 2 and 5", () => {
    holds(
      fc.property(fc.array(positive, { minLength: 1, maxLength: 20 }), (values) => {
        const scale = logScale(values);
        holdsAll(scale, values);
        expect(scale.labelled.length).toBeGreaterThanOrEqual(2);
        if (scale.domain[1] / scale.domain[0] >= 10)
          for (const tick of scale.labelled) expect(["1", "2", "5"]).toContain(firstDigits(tick));
      }),
    );
  });

  test("ends on the next 1, 2 or 5, or where it is told to", () => {
    expect(logScale([0.03, 7]).domain).toEqual([0.02, 10]);
    expect(logScale([0.02, 10]).domain).toEqual([0.02, 10]);
    expect(logScale([800, 6000], true)).toMatchObject({ domain: [800, 6000], labelled: [1000, 2000, 5000] });
    expect(logScale([2.1, 9.9], true).labelled).toEqual([3, 4, 5, 6, 7, 8, 9]);
    expect(logScale([1.02, 1.4], true).labelled).toEqual([1.1, 1.2, 1.3, 1.4]);
  });

  test("has room for values that are all one, and for many decades", () => {
    holdsAll(logScale([3]), [3]);
    expect(logScale([1e-6, 1e6]).labelled).toHaveLength(13);
  });
});

describe("a linear axis", () => {
  test("holds every value, with a handful of numbers", () => {
    holds(
      fc.property(fc.array(any, { minLength: 1, maxLength: 20 }), fc.boolean(), (values, exact) => {
        const scale = linearScale(values, { exact });
        holdsAll(scale, values);
        expect(scale.labelled.length).toBeGreaterThanOrEqual(2);
        expect(scale.labelled.length).toBeLessThan(12);
      }),
    );
  });

  test("ends on round numbers, angles on those of a circle", () => {
    expect(linearScale([0, 63.5])).toMatchObject({ domain: [0, 80], ticks: [0, 20, 40, 60, 80] });
    expect(linearScale([-120, 120], { count: 4, steps: angleStepFor })).toMatchObject({
      ticks: [-120, -60, 0, 60, 120],
    });
  });
});

test.each([[[1e300]], [[-1e300, 1]], [[Number.NaN]], [[Number.POSITIVE_INFINITY]]])("%s fits on no axis", (values) => {
  expect(problemsOf(() => linearScale(values))[0]?.code).toBe("out-of-range");
  expect(problemsOf(() => logScale(values))[0]?.code).toBe("out-of-range");
});

test.each([0, -1, 1e-300])("%s fits on no logarithmic axis", (value) => {
  expect(problemsOf(() => logScale([value, 1]))[0]?.code).toBe("out-of-range");
});

test("a pixel and its value undo each other", () => {
  holds(
    fc.property(
      fc.array(positive, { minLength: 2, maxLength: 5 }),
      between(0, 500),
      fc.boolean(),
      (values, pixel, log) => {
        const scale = log ? logScale(values) : linearScale(values);
        expect(pixelOf(scale, valueAtPixel(scale, pixel, 500), 500)).toBeCloseTo(pixel, 6);
      },
    ),
  );
});

describe("labels", () => {
  test("in a column keep their order, a line apart, and stay in the panel while they fit", () => {
    holds(
      fc.property(fc.array(between(0, 300), { maxLength: 15 }), (wanted) => {
        const placed = spread(wanted, 300);
        const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] as number) - (wanted[b] as number));
        for (const [n, i] of order.entries()) {
          expect(placed[i] as number).toBeGreaterThanOrEqual(-1e-9);
          expect(placed[i] as number).toBeLessThanOrEqual(300 + 1e-9);
          const next = order[n + 1];
          if (next !== undefined) expect((placed[next] as number) - (placed[i] as number)).toBeGreaterThan(15 - 1e-9);
        }
      }),
    );
  });

  test("that are far enough apart stay where they are wanted", () => {
    expect(spread([200, 10, 100], 300)).toEqual([200, 10, 100]);
  });

  test("beside points do not cover one another", () => {
    const point = fc.record({ x: between(0, 500), y: between(0, 400), text: fc.constantFrom("1.36 s", "never") });
    holds(
      fc.property(fc.array(point, { minLength: 2, maxLength: 4 }), (anchors) => {
        const placed = placeLabels(anchors, { width: 500, height: 400, avoid: [] });
        for (const [i, a] of placed.entries())
          for (const [n, b] of placed.slice(0, i).entries()) {
            const apart = Math.abs(a.y - b.y) >= 15 - 1e-9;
            const [left, right] =
              a.x < b.x ? [a.x + widthOf(anchors[i]?.text ?? ""), b.x] : [b.x + widthOf(anchors[n]?.text ?? ""), a.x];
            expect(apart || right >= left - 1e-9).toBe(true);
          }
      }),
    );
  });
});
