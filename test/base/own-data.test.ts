import { InputError } from "tripwright";
import { expect, test } from "vitest";
import { fail } from "../../src/base/check.js";
import { onOwnData } from "../../src/base/own-data.js";
import { problemsOf } from "../support/failure.js";

const raise = (error: Error) => () => {
  throw error;
};

test("what the work gives comes back", () => {
  expect(onOwnData("record", "a record", () => 3)).toBe(3);
});

test.each([new TypeError("x is undefined"), new RangeError("too deep")])(
  "%s becomes a problem with its cause",
  (error) => {
    const work = () => onOwnData("record", "a record", raise(error));
    expect(problemsOf(work)).toEqual([
      {
        code: "wrong-type",
        path: "record",
        expected: "a record",
        received: `one with a damaged field (${error.message})`,
      },
    ]);
    try {
      work();
    } catch (thrown) {
      expect((thrown as InputError).cause).toBe(error);
    }
  },
);

test("an InputError and an error of anybody else pass as they are", () => {
  const own = problemsOf(() => onOwnData("record", "a record", () => fail("missing", "name", "a name", undefined)));
  expect(own[0]?.path).toBe("name");
  const other = new Error("of the caller's getter");
  expect(() => onOwnData("record", "a record", raise(other))).toThrow(other);
  expect(new InputError([])).toBeInstanceOf(RangeError);
});
