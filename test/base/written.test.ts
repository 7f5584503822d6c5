import { expect, test } from "vitest";
import { plain, written } from "../../src/base/written.js";

test("a number stands before its unit, a degree sign right behind it, a ratio alone", () => {
  expect(written(4, "A")).toBe("4 A");
  expect(written("4.00", "A")).toBe("4.00 A");
  expect(written(-30, "°")).toBe("-30°");
  expect(written(0.95, "1")).toBe("0.95");
});

test("a number in so many digits has no zeros behind it and no exponent within reason", () => {
  expect(plain(2 / 3, 3)).toBe("0.667");
  expect(plain(0.1 + 0.2, 6)).toBe("0.3");
  expect(plain(123456, 3)).toBe("123000");
  expect(plain(4, 6)).toBe("4");
});
