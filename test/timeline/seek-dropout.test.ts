import fc from "fast-check";
import type { PickupSearch, Trial } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { casesWithin, drive, firstTurn, functionAt, methods, said, tenToTwenty, typed } from "./searches.js";

const search = (method: (typeof methods)[number], rest: Partial<PickupSearch> = {}) =>
  tenToTwenty(method, { confirm: 0, dropout: true, ...rest });
const over = (pickup: number, dropout: number) => functionAt({ side: "over", pickup, dropout });

describe("the dropout of seekPickup", () => {
  test("lies between the two neighbouring levels at which the function still held and had let go", () => {
    holds(
      fc.property(casesWithin, ({ search, side, out, beyond, pickup, dropout, threshold }) => {
        const { result } = drive(search, functionAt(threshold));
        if (search.dropout === undefined || search.dropout === false) {
          expect(result).not.toHaveProperty("dropout");
          return;
        }
        const reaches = (level: number, limit: number) => (side === "over" ? level >= limit : level <= limit);
        const operated = out.findIndex((level) => reaches(level, pickup));
        const back = [...out.slice(0, operated + 1).reverse(), ...beyond];
        const turn = firstTurn(back, (level) => !reaches(level, dropout));
        const [held, level] = [typed(turn?.before ?? 0), typed(turn?.at ?? 0)];
        expect(result).toMatchObject({
          kind: "found",
          dropout:
            turn === undefined
              ? { kind: "none", reason: "never-released" }
              : { kind: "found", level, held, low: Math.min(held, level), high: Math.max(held, level) },
        });
      }),
      1000,
    );
  });

  test.each([
    // Up to 16, and back until 12.
    ["linear", "10 r, 11 p, 12 p, 13 p, 14 p, 15 p, 16 p, 15 p, 14 p, 13 p, 12 p"],
    // 10 is quiet and 20 operates; then the middle of 10 and 20, of 15 and 20, of 15 and 17. Back, each time from an operated
    // 16: 10 has let go; the middle of 16 and 10, of 13 and 10. Between two middles it is the one that was to come first.
    ["halving", "10 r, 20 r, 15 r, 17 r, 16 r, 16 r, 10 p, 16 r, 13 p, 16 r, 12 p"],
    ["coarse-then-fine", "10 r, 14 p, 18 p, 14 r, 15 p, 16 p, 12 p, 16 r, 15 p, 14 p, 13 p, 12 p"],
  ] as const)("is looked for by the same method: %s", (method, expected) => {
    const { trials, result } = drive(search(method), over(15.5, 12.5));
    expect(said(trials)).toBe(expected);
    expect(result).toMatchObject({ pickup: 16, dropout: { level: 12, held: 13 } });
  });

  test("goes on in the same steps beyond the quiet end", () => {
    const { trials, result } = drive(search("linear", { dropout: { to: 7.5 } }), over(10.5, 7.6));
    expect(said(trials)).toBe("10 r, 11 p, 10 p, 9 p, 8 p, 7.5 p");
    expect(result).toMatchObject({ pickup: 11, dropout: { level: 7.5, held: 8, low: 7.5, high: 8 } });
  });

  test("comes after the confirmation, which ends on the operated level", () => {
    const { trials } = drive(search("linear", { confirm: 1 }), over(10.5, 10.5));
    expect(said(trials)).toBe("10 r, 11 p, 10 r, 11 r, 10 p");
  });

  test.each(methods)("that never comes leaves the pickup as it is: %s", (method) => {
    expect(drive(search(method), over(15.5, 3)).result).toMatchObject({
      kind: "found",
      pickup: 16,
      quiet: 15,
      dropout: { kind: "none", reason: "never-released" },
    });
  });

  test.each([
    // The function does not operate again before a trial of the way back.
    ["halving", "10 r, 20 r, 15 r, 17 r, 16 r, 16 r"],
    ["halving", "10 r, 20 r, 15 r, 17 r, 16 r, 16 r, 10 p, 16 r"],
    ["coarse-then-fine", "10 r, 14 p, 18 p, 14 r, 15 p, 16 p, 12 p, 16 r"],
  ] as const)("is not repeatable where the function does not operate anew: %s, %s", (method, until) => {
    const respond = over(15.5, 12.5);
    const asked: Trial[] = [];
    const { result } = drive(search(method), (trial) => {
      asked.push(trial);
      return said(asked) === until ? false : respond(trial);
    });
    expect(said(asked)).toBe(until);
    expect(result).toMatchObject({ pickup: 16, dropout: { kind: "none", reason: "not-repeatable" } });
  });

  test("is not repeatable where a fine step passes the coarse level of the release and the function holds", () => {
    let released = false;
    const respond = over(15.5, 12.5);
    const { result } = drive(search("coarse-then-fine"), (trial) => {
      // It lets go once, and then never again.
      const answer = respond(trial);
      if (trial.level === 12 && !answer && !released) {
        released = true;
        return false;
      }
      return released ? true : answer;
    });
    expect(result).toMatchObject({ pickup: 16, dropout: { kind: "none", reason: "not-repeatable" } });
  });
});
