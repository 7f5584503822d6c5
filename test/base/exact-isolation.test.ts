import { Decimal } from "decimal.js";
import { afterEach, describe, expect, test, vi } from "vitest";
import * as loaded from "../../src/base/exact.js";

/** Settings that would ruin every result: 3 digits, rounding up, exponents of one digit, exponents printed early. */
const HOSTILE = { precision: 3, rounding: 0, toExpNeg: 0, toExpPos: 1, minE: -9, maxE: 9, modulo: 0 } as const;

const settings = () => {
  const { precision, rounding, toExpNeg, toExpPos, minE, maxE, modulo } = Decimal;
  return { precision, rounding, toExpNeg, toExpPos, minE, maxE, modulo };
};

afterEach(() => {
  Decimal.set({ defaults: true });
});

/** Sums and products that are known on paper, and 11/60 to more digits than a double has. */
function expectRight({ decimal, toNumber }: typeof loaded): void {
  expect(decimal("123456.789", "x").plus(decimal("0.000000001", "x")).toFixed()).toBe("123456.789000001");
  expect(decimal(0.1, "x").plus(decimal(0.2, "x")).toFixed()).toBe("0.3");
  expect(decimal("1e150", "x").times(decimal("1e-150", "x")).toFixed()).toBe("1");
  expect(
    decimal(11 / 60, "x")
      .times(60)
      .minus(11)
      .abs()
      .lt("1e-50"),
  ).toBe(true);
  expect(toNumber(decimal(123456.789, "x"), "x")).toBe(123456.789);
}

describe("the decimals of this library", () => {
  test("do not obey the settings that the caller gives decimal.js later", () => {
    Decimal.set(HOSTILE);
    expectRight(loaded);
  });

  test("do not obey the settings that the caller gave decimal.js before this library was loaded", async () => {
    Decimal.set(HOSTILE);
    vi.resetModules();
    const fresh = await import("../../src/base/exact.js");
    expect(fresh.decimal).not.toBe(loaded.decimal);
    expectRight(fresh);
  });

  test("do not touch the settings of the caller, who goes on as before", async () => {
    Decimal.set(HOSTILE);
    vi.resetModules();
    expectRight(await import("../../src/base/exact.js"));
    expect(settings()).toEqual(HOSTILE);
    expect(new Decimal(1).div(3).toFixed()).toBe("0.334"); // 3 digits, away from zero
  });

  test("read a decimal of the caller in full, whatever its settings print", () => {
    const typed = new Decimal("123456.789000001");
    Decimal.set(HOSTILE);
    expect(loaded.decimal(typed, "x").toFixed()).toBe("123456.789000001");
  });
});
