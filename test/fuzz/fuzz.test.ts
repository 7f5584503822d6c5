import { describe, expect, test } from "vitest";
import { type Target, targets } from "./corpus.js";
import { tryOne } from "./try-one.js";

const EACH = 6;

describe("a slice of npm run fuzz, the same in every run", async () => {
  const all = await targets();
  const pool = all.flatMap(({ examples }) => examples.flat());

  test("knows valid calls of nearly every function", () => {
    const unknown = all.filter(({ examples }) => examples.length === 0).map(({ name }) => name);
    expect(all.length).toBeGreaterThan(150);
    expect(unknown.length).toBeLessThan(all.length / 20);
  });

  test("neither NaN nor another error than InputError comes out", () => {
    const found = all.flatMap((target) =>
      Array.from({ length: EACH }, (_, i) => tryOne(target, `slice ${target.name} ${i}`, pool).finding).flatMap(
        (finding) => (finding === undefined ? [] : [`${target.name}: ${finding}`]),
      ),
    );
    expect(found).toEqual([]);
  });
});

describe("the fuzz script finds", () => {
  const tried = (call: Target["call"], examples = [[{ multiple: 3 }]]) =>
    Array.from({ length: 100 }, (_, i) => tryOne({ name: "f", call, examples }, `bite ${i}`, [3]).finding);

  test.each<readonly [string, Target["call"], string]>([
    ["NaN deep in a result", () => ({ a: [{ b: Number.NaN }] }), "NaN at .a[].b"],
    ["NaN in a typed array", () => Float64Array.of(1, Number.NaN), "NaN at [1]"],
    ["Infinity inside an object", () => ({ time: Number.POSITIVE_INFINITY }), "Infinity at .time"],
    ["−0", () => -0, "−0 at the result itself"],
    ["a typed array inside an object", () => ({ samples: new Float64Array(1) }), "a typed array at .samples"],
    ["what a generator yields", () => [Number.NaN].values(), "NaN at the result itself"],
    [
      "an error of another kind",
      () => {
        throw new RangeError("not ours");
      },
      "RangeError: not ours",
    ],
  ])("%s", (_what, call, finding) => {
    expect(tried(call)).toContain(finding);
  });

  test("what only some inputs do", () => {
    const findings = tried((given) => {
      const multiple = (given as { multiple?: unknown } | null | undefined)?.multiple;
      return { root: typeof multiple === "number" ? Math.sqrt(multiple) : 0 };
    });
    expect(findings).toContain("NaN at .root");
    expect(findings).toContain(undefined);
  });

  test("but not what the caller gave and merely gets back", () => {
    expect(tried((given) => ({ given })).filter((finding) => finding?.includes(".given.") === true)).toEqual([]);
  });
});
