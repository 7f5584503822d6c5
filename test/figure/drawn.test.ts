/** The checks that every figure goes through must fail where they should. */
import { curveFigure, type SingleFigure } from "tripwright/figure";
import { describe, expect, test } from "vitest";
import { drawn } from "./drawn.js";

const good = curveFigure({ title: "t", curves: [{ name: "51P", setting: { curve: "iec-inverse" } }] });
const withFirst = (change: object): SingleFigure => ({
  ...good,
  layer: good.layer.map((layer, i) => (i === 0 ? { ...layer, ...change } : layer)),
});

describe("the checks of a figure", () => {
  test("pass a good one", async () => {
    expect(await drawn(good)).toMatch(/^<svg/);
  });

  test.each([
    ["a mark that does not exist", withFirst({ mark: { type: "pie" } })],
    ["a field that is undefined", { ...good, title: { text: "t", subtitle: undefined } } as unknown as SingleFigure],
    ["a row with NaN", withFirst({ data: { values: [{ multiple: 2, time: Number.NaN }] } })],
    ["a row beyond the axis", withFirst({ data: { values: [{ multiple: 2000, time: 1 }] } })],
    ["a layer without rows", withFirst({ data: { values: [] } })],
    ["a name used twice", { ...good, layer: [...good.layer, good.layer[0] as (typeof good.layer)[0]] }],
    [
      "axes that contradict each other",
      withFirst({
        encoding: {
          ...good.layer[0]?.encoding,
          x: { field: "multiple", type: "quantitative", scale: { type: "linear", domain: [0, 1000] } },
        },
      }),
    ],
  ])("refuse %s", async (_what, bad) => {
    await expect(async () => await drawn(bad)).rejects.toThrow();
  });
});
