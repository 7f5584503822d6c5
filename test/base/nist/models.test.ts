import { describe, expect, test } from "vitest";
import { models } from "./models.js";
import { readSet, setNames } from "./read-set.js";

test("every set has its model, and every model its set", () => {
  expect(setNames).toHaveLength(17);
  expect([...setNames].sort()).toEqual(Object.keys(models).sort());
});

describe.each(setNames)("the model of %s", (name) => {
  const set = readSet(name);
  const model = models[name] as (typeof models)[string];
  const slopes = new Float64Array(set.parameters.length);

  test("has the certified sum of squares at the certified parameters", () => {
    const sum = set.observations.reduce((total, { y, x }) => total + (y - model(set.parameters, x, slopes)) ** 2, 0);
    // The parameters are certified to 11 digits; the sum is level there, but rounds with the data where it is small.
    expect(Math.abs(sum / set.sumOfSquares - 1)).toBeLessThan(1e-7);
  });

  test("has the derivatives that differences have", () => {
    const b = set.parameters;
    const unused = new Float64Array(b.length);
    b.forEach((value, j) => {
      const step = 1e-5 * Math.abs(value);
      const at = (shift: number, x: readonly number[]) =>
        model(
          b.map((each, i) => (i === j ? each + shift : each)),
          x,
          unused,
        );
      const pairs = set.observations.map(({ x }) => {
        model(b, x, slopes);
        return [slopes[j] as number, (at(step, x) - at(-step, x)) / (2 * step)] as const;
      });
      const most = Math.max(...pairs.map(([slope]) => Math.abs(slope)));
      for (const [slope, difference] of pairs) expect(Math.abs(slope - difference) / most).toBeLessThan(1e-6);
    });
  });
});
