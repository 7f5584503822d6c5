import { fromComponents, type Rotation, toComponents } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const good = { re: 1, im: 0 };
const problem = (work: () => unknown) => problemsOf(work).map(({ path, code }) => `${path} ${code}`);

type Door = (given: never, rotation?: Rotation) => unknown;
const doors: readonly (readonly [string, Door, readonly string[]])[] = [
  ["toComponents", toComponents, ["a", "b", "c"]],
  ["fromComponents", fromComponents, ["zero", "positive", "negative"]],
];

describe.each(doors)("%s", (_, door, names) => {
  const set = Object.fromEntries(names.map((name) => [name, good]));

  test("tells by its name which phasor is none", () => {
    for (const name of names) {
      const told = (value: unknown) => problem(() => door({ ...set, [name]: value } as never));
      expect(told(undefined)).toEqual([`${name} missing`]);
      expect(told(null)).toEqual([`${name} wrong-type`]);
      expect(told("1∠0°")).toEqual([`${name} wrong-type`]);
      expect(told([1, 0])).toEqual([`${name} wrong-type`]);
      expect(told({ re: Number.NaN, im: 0 })).toEqual([`${name}.re not-finite`]);
      expect(told({ re: 0 })).toEqual([`${name}.im missing`]);
    }
  });

  test("refuses what holds no three phasors, but not another key", () => {
    for (const none of [null, "abc", 3, [good, good, good]])
      expect(problem(() => door(none as never))).toEqual([" wrong-type"]);
    expect(problem(() => door(undefined as never))).toEqual([" missing"]);
    expect(problem(() => door({} as never))).toEqual([`${names[0]} missing`]);
    expect(() => door({ ...set, time: 0 } as never)).not.toThrow();
  });

  test("refuses an unknown rotation", () => {
    for (const rotation of ["abc", "BCA", "__proto__", null, 1])
      expect(problem(() => door(set as never, rotation as Rotation))).toEqual(["rotation unknown-name"]);
  });

  test("refuses sums beyond the range of a double, of either part", () => {
    for (const huge of [
      { re: 1.7e308, im: 0 },
      { re: 0, im: -1.7e308 },
    ])
      expect(problem(() => door(Object.fromEntries(names.map((name) => [name, huge])) as never))).toEqual([
        " out-of-range",
      ]);
  });
});
