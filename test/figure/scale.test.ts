/** Axes and labels: every value on its axis, round ticks, labels that leave one another alone. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Box, boxOf, LINE, markAt, placeLabels, spread, widthOf } from "../../src/figure/labels.js";
import { brokenInto } from "../../src/figure/lines.js";
import { styleOf } from "../../src/figure/look.js";
import {
  angleStepFor,
  linearScale,
  logScale,
  pixelOf,
  positionOn,
  type Scale,
  valueAtPixel,
} from "../../src/figure/scale.js";
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
    expect(logScale([1e-6, 1e6]).labelled).toEqual([1e-6, 1e-4, 1e-2, 1, 100, 1e4, 1e6]);
    expect(logScale([1e-6, 1e6]).ticks).toHaveLength(13);
    holds(
      fc.property(positive, positive, (a, b) => {
        const { labelled } = logScale([Math.min(a, b), Math.max(a, b) * 1e7]);
        expect(labelled.length).toBeGreaterThan(3);
        expect(labelled.length).toBeLessThanOrEqual(8);
      }),
    );
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

describe("numbers beside one another", () => {
  /** Those that an axis of so many pixels writes. */
  function numbersOn(scale: Scale, across: number): { readonly numbers: readonly number[]; readonly isPower: boolean } {
    const { axis } = positionOn(scale, { title: "", across })("x") as unknown as {
      readonly axis: { readonly values: readonly number[]; readonly labelExpr?: string };
    };
    const some = /indexof\(\[(.*?)\]/.exec(axis.labelExpr ?? "")?.[1];
    return {
      numbers: some === undefined ? axis.values : some.split(", ").map(Number),
      isPower: axis.labelExpr?.includes("~e") === true,
    };
  }

  test("leave out what would run into them: from 1 to a million, and longer ones about 0", () => {
    expect(numbersOn(logScale([1, 1e6], true), 560).numbers).toEqual([1, 10, 100, 1000, 1e4, 1e5, 1e6]);
    expect(numbersOn(linearScale([-2e6, 2e6], { count: 8 }), 520).numbers).toEqual([-2e6, -1e6, 0, 1e6, 2e6]);
    expect(numbersOn(logScale([1, 20], true), 560).numbers).toEqual([1, 2, 5, 10, 20]);
  });

  test("never overlap, at 6.5 pixels a character", () => {
    holds(
      fc.property(
        fc.array(positive, { minLength: 2, maxLength: 4 }),
        fc.integer({ min: 260, max: 620 }),
        fc.boolean(),
        (values, length, log) => {
          const scale = log ? logScale(values) : linearScale(values, { count: 8 });
          const { numbers, isPower } = numbersOn(scale, length);
          expect(numbers.length).toBeGreaterThan(0);
          const ends = numbers.map((number) => {
            const width = 6.5 * (isPower ? number.toExponential() : `${number}`).length;
            const at = pixelOf(scale, number, length);
            const left = at < 1 ? 0 : at > length - 1 ? length - width : at - width / 2;
            return [left, left + width] as const;
          });
          for (const [i, [left]] of ends.entries())
            expect(left).toBeGreaterThan(ends[i - 1]?.[1] ?? Number.NEGATIVE_INFINITY);
        },
      ),
    );
  });
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

  const text = fc.constantFrom(
    "1.36 s",
    "never",
    "worst of 10: 1.286 s",
    "21-1/edge@AB-45°",
    "F12 to Incomer\n0.2159 s",
  );
  const point = fc.record({ x: between(0, 500), y: between(0, 400), text, isBold: fc.boolean() });
  const meet = (a: Box, b: Box) => a.left < b.right && b.left < a.right && a.low < b.high && b.low < a.high;
  const sizeOf = (label: string, isBold: boolean) => ({
    width: widthOf(label, isBold),
    height: LINE * label.split("\n").length,
  });

  test("cover neither one another nor a mark, and stand in the panel; else there is none", () => {
    holds(
      fc.property(
        fc.array(point, { minLength: 1, maxLength: 12 }),
        fc.array(point, { maxLength: 6 }),
        (anchors, marks) => {
          const blocked = marks.map(markAt);
          const placed = placeLabels(anchors, { width: 500, height: 400, avoid: [], blocked });
          const boxes = placed.flatMap((place, i) => {
            const { text: label, isBold } = anchors[i] as (typeof anchors)[number];
            return place === undefined ? [] : [boxOf(place, sizeOf(label, isBold))];
          });
          for (const [i, box] of boxes.entries()) {
            for (const other of [...boxes.slice(0, i), ...anchors.map(markAt), ...blocked])
              expect(meet(box, other)).toBe(false);
            expect(Math.min(box.left, box.low, 400 - box.high)).toBeGreaterThanOrEqual(0);
          }
        },
      ),
    );
  });

  test("that have room all stand, those to the left by their right end", () => {
    const anchors = [
      { x: 10, y: 200, text: "left" },
      { x: 495, y: 200, text: "right" },
    ];
    expect(placeLabels(anchors, { width: 500, height: 400, avoid: [] }).map((place) => place?.align)).toEqual([
      "left",
      "right",
    ]);
  });

  test("what matters most finds room first", () => {
    // A room in which a single label fits.
    const room = { width: 100, height: 20, avoid: [] };
    const anchors = [false, true].map((isUrgent) => ({ x: 10, y: 10, text: "1.36 s", isUrgent }));
    expect(placeLabels(anchors, room).map((place) => place !== undefined)).toEqual([false, true]);
  });

  test("are taken for as wide as wide fonts make them, bold ones and characters of full width more so", () => {
    // 0.62, 0.7 and 1.05 of 12 pixels for each character.
    expect(widthOf("0123456789")).toBeCloseTo(74.4, 9);
    expect(widthOf("0123456789", true)).toBeCloseTo(84, 9);
    expect(widthOf("距離")).toBeCloseTo(25.2, 9);
  });
});

describe("a long line", () => {
  test("is broken between words, and nothing of it is lost", () => {
    const word = fc.stringMatching(/^[a-z]{0,9}$/);
    holds(
      fc.property(fc.array(word, { minLength: 1, maxLength: 30 }), fc.integer({ min: 9, max: 60 }), (words, most) => {
        const lines = brokenInto(words.join(" "), most);
        expect(lines.join(" ")).toBe(words.join(" "));
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(most);
      }),
    );
  });

  test("of one long word is broken where it must be", () => {
    expect(brokenInto("abcdefgh ij", 3)).toEqual(["abc", "def", "gh", "ij"]);
  });
});

test("the first 28 series differ in dashes or width, and so do all of one colour", () => {
  const styles = Array.from({ length: 28 }, (_, i) => styleOf(i));
  expect(new Set(styles.map(({ strokeDash, strokeWidth }) => JSON.stringify([strokeDash, strokeWidth]))).size).toBe(28);
  expect(new Set(styles.slice(0, 14).map(({ strokeWidth }) => strokeWidth))).toEqual(new Set([2]));
});
