/** coordinationMargin: what two relays in series leave between them. */
import fc from "fast-check";
import {
  type CurveSetting,
  coordinationMargin,
  type MarginPoint,
  operateTime,
  type SeriesRelay,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { holds } from "../support/holds.js";
import { currentLists, definite, densely, pairs, ranges, timeOf, very } from "./two-relays.js";

const NEVER = Number.POSITIVE_INFINITY;

describe("the margin at a current", () => {
  test("is the difference of two operate times, or absent where one of them is never", () => {
    holds(
      fc.property(pairs, currentLists, (pair, currents) => {
        const { points } = coordinationMargin({ ...pair, currents });
        expect(points.map(({ current }) => current)).toEqual(currents);
        for (const { current, upstream = NEVER, downstream = NEVER, margin } of points) {
          expect(upstream).toBe(timeOf(pair.upstream, current));
          expect(downstream).toBe(timeOf(pair.downstream, current));
          expect(margin).toBe(upstream < NEVER && downstream < NEVER ? upstream - downstream : undefined);
        }
      }),
      500,
    );
  });

  test("turns its sign where the relays change places", () => {
    holds(
      fc.property(pairs, currentLists, ({ upstream, downstream }, currents) => {
        const there = coordinationMargin({ upstream, downstream, currents }).points;
        const back = coordinationMargin({ upstream: downstream, downstream: upstream, currents }).points;
        there.forEach(({ margin }, i) => {
          expect(back[i]?.margin).toBe(margin === undefined ? undefined : 0 - margin);
        });
      }),
    );
  });

  test("is seen in primary amperes, whatever the current transformers", () => {
    const currents = [900, 2400, 6000];
    const primary = coordinationMargin({ upstream: very(600, 0.4), downstream: very(300, 0.2), currents });
    const secondary = coordinationMargin({
      upstream: { ...very(5, 0.4), ct: { primary: 600, secondary: 5 } },
      downstream: { ...very(0.75, 0.2), ct: { primary: 400, secondary: 1 } },
      currents,
    });
    expect(secondary).toEqual(primary);
    expect(primary.points[1]).toEqual({
      current: 2400,
      upstream: 5.4 / 3,
      downstream: 2.7 / 7,
      margin: 5.4 / 3 - 2.7 / 7,
    });
  });

  test("grows by a time that is added upstream, and shrinks by one added downstream", () => {
    holds(
      fc.property(pairs, between(1000, 20000), between(0, 2), ({ upstream, downstream }, current, more) => {
        const slower = (relay: SeriesRelay): SeriesRelay => ({
          ...relay,
          setting: { ...relay.setting, addedTime: (relay.setting.addedTime ?? 0) + more },
        });
        const margin = (up: SeriesRelay, down: SeriesRelay): number =>
          coordinationMargin({ upstream: up, downstream: down, currents: [current] }).points[0]?.margin as number;
        const rounding = 1e-14 * (timeOf(upstream, current) + timeOf(downstream, current) + more);
        const plain = margin(upstream, downstream);
        expect(Math.abs(margin(slower(upstream), downstream) - plain - more)).toBeLessThanOrEqual(rounding);
        expect(Math.abs(margin(upstream, slower(downstream)) - plain + more)).toBeLessThanOrEqual(rounding);
      }),
    );
  });
});

describe("the smallest margin of a range", () => {
  test("is never above what a dense grid finds, lies in the range, and is a margin of the two relays", () => {
    holds(
      fc.property(pairs, ranges, (pair, currents) => {
        const { smallest, points } = coordinationMargin({ ...pair, currents });
        const dense = densely(pair, currents);
        expect(points.map(({ current }) => current)).toEqual([currents.from, currents.to]);
        if (smallest === undefined) expect(dense).toBe(NEVER);
        else {
          const { current, margin } = smallest;
          expect(margin).toBeLessThanOrEqual(dense + 1e-9);
          expect(current).toBeGreaterThanOrEqual(currents.from);
          expect(current).toBeLessThanOrEqual(currents.to);
          expect(margin).toBe(timeOf(pair.upstream, current) - timeOf(pair.downstream, current));
        }
      }),
      150,
    );
  });

  // 13.5 · (0.2 · 600/(I − 600) − 480/(I − 480)) has its only bottom where I − 480 = 2 · (I − 600): at 720 A, −13.5 s.
  const pair = { upstream: very(600, 0.2), downstream: very(480, 1) };

  test("is found between its ends where two inverse curves come close", () => {
    const { smallest, points } = coordinationMargin({ ...pair, currents: { from: 610, to: 20000 } });
    expect(smallest?.margin).toBeCloseTo(-13.5, 9);
    expect(Math.abs((smallest?.current as number) - 720)).toBeLessThan(1e-3);
    for (const { margin } of points) expect(margin).toBeGreaterThan(-13);
  });

  test("is the deepest of many dips, as drawn curves have them", () => {
    // Downstream 1000/M; upstream longer by 1 s and 0.5 s in turn at every tenth part more of current, once by 0.2 s.
    const power = (places: readonly number[], more: (place: number) => number): SeriesRelay => {
      const points = places.map((place) => ({ multiple: 1.1 ** place, time: 1000 / 1.1 ** place + more(place) }));
      return { setting: { curve: { form: "table", points } }, pickup: 100 };
    };
    const places = Array.from({ length: 41 }, (_, i) => i);
    const upstream = power(places, (place) => (place === 22 ? 0.2 : place % 2 === 0 ? 0.5 : 1));
    const downstream = power([0, 40], () => 0);
    const { smallest } = coordinationMargin({ upstream, downstream, currents: { from: 101, to: 4500 } });
    expect(smallest?.current).toBeCloseTo(100 * 1.1 ** 22, 6);
    expect(smallest?.margin).toBeCloseTo(0.2, 9);
  });

  test("is found in a dip between two corners that lie closer than a thousandth", () => {
    // Upstream falls from 2 s to 1.2 s just before the downstream time falls from 1 s to 0.5 s.
    const drawn = (points: readonly (readonly [number, number])[]): SeriesRelay => ({
      setting: { curve: { form: "table", points: points.map(([multiple, time]) => ({ multiple, time })) } },
      pickup: 100,
    });
    const upstream = drawn([
      [1, 2],
      [5, 2],
      [5.001, 1.2],
      [20, 1.2],
    ]);
    const downstream = drawn([
      [1, 1],
      [5.001, 1],
      [5.002, 0.5],
      [20, 0.5],
    ]);
    const { smallest } = coordinationMargin({ upstream, downstream, currents: { from: 101, to: 2000 } });
    expect(smallest?.current).toBeCloseTo(500.1, 6);
    expect(smallest?.margin).toBeCloseTo(0.2, 9);
  });

  test("is found where a dip hides close to a start", () => {
    // Close above 600 A both times are huge: about 506/(I − 600) beside 8100/(I − 599.97), with a bottom at 600.01 A. The
    // downstream time is gone after a few amperes, so that from a distance the margin only falls.
    const steep: CurveSetting = { curve: { form: "inverse", k: 13500, alpha: 1000, c: 0 } };
    const close = { upstream: very(600, 0.0625), downstream: { setting: steep, pickup: 599.97 } };
    const { smallest } = coordinationMargin({ ...close, currents: { from: 599, to: 20000 } });
    expect(Math.abs((smallest?.current as number) - 600.01)).toBeLessThan(0.001);
    expect(smallest?.margin).toBeLessThanOrEqual(densely(close, { from: 600.001, to: 600.1 }) + 1e-9);
  });

  test("does not depend on the base of the currents", () => {
    holds(
      fc.property(pairs, ranges, fc.constantFrom(2 ** -6, 2 ** 9), ({ upstream, downstream }, { from, to }, by) => {
        const times = (relay: SeriesRelay): SeriesRelay => ({ ...relay, pickup: relay.pickup * by });
        const plain = coordinationMargin({ upstream, downstream, currents: { from, to } });
        const scaled = coordinationMargin({
          upstream: times(upstream),
          downstream: times(downstream),
          currents: { from: from * by, to: to * by },
        });
        const back = ({ current, ...point }: MarginPoint): MarginPoint => ({ current: current / by, ...point });
        expect(scaled.points.map(back)).toEqual(plain.points);
        // The grid of currents is rounded differently on another base; near a start that moves large times.
        if (plain.smallest === undefined) expect(scaled.smallest).toBeUndefined();
        else if (Math.abs(plain.smallest.margin as number) < 1e3)
          expect(scaled.smallest?.margin).toBeCloseTo(plain.smallest.margin as number, 8);
      }),
      60,
    );
  });

  test("is at the corner where a floor, a ceiling or a start makes one", () => {
    const currents = { from: 450, to: 9000 };
    const smallest = (upstream: SeriesRelay, downstream: SeriesRelay) =>
      coordinationMargin({ upstream, downstream, currents }).smallest;
    // Upstream 13.5 · 0.4/(I/600 − 1) reaches its floor of 0.9 s at 4200 A, downstream goes on falling.
    const floor = smallest(very(600, 0.4, { minimumTime: 0.9 }), very(400, 0.2));
    expect(floor?.current).toBeCloseTo(4200, 6);
    expect(floor?.margin).toBeCloseTo(0.9 - 2.7 / 9.5, 10);
    // Upstream goes flat at 10 times 600 A.
    const ceiling = smallest(very(600, 0.4, { ceilingMultiple: 10 }), very(400, 0.2));
    expect(ceiling?.current).toBe(6000);
    expect(ceiling?.margin).toBeCloseTo(0.6 - 2.7 / 14, 12);
    // A downstream curve that starts at 1.5 times its setting is slowest there: 13.5 · 0.2/0.5 = 5.4 s beside 2 s.
    const start = smallest(definite(400, 2), very(400, 0.2, { startRatio: 1.5 }));
    expect(start?.current).toBeCloseTo(600, 9);
    expect(start?.margin).toBeCloseTo(-3.4, 9);
  });

  test("of some currents is the smallest of theirs, with nothing looked for between them", () => {
    const { smallest } = coordinationMargin({ ...pair, currents: [2000, 900, 800, 660] });
    // 13.5 · (120/200 − 480/320) = −12.15 s; at 660 A −9 s, at 720 A it would be −13.5 s.
    expect(smallest?.current).toBe(800);
    expect(smallest?.margin).toBeCloseTo(-12.15, 12);
  });
});

describe("where a relay does not operate", () => {
  test("an upstream relay that operates alone leaves no discrimination, up to the start of the other", () => {
    const two = { upstream: very(400, 1), downstream: very(480, 0.1), required: 0.3 };
    const range = coordinationMargin({ ...two, currents: { from: 300, to: 5000 } });
    expect([range.aloneUpTo, range.keeps]).toEqual([480, false]);
    expect(range.points[0]).toEqual({ current: 300 });
    const list = coordinationMargin({ ...two, currents: [480, 450, 5000] });
    expect([list.aloneUpTo, list.keeps]).toEqual([480, false]);
    expect(list.points[1]).toEqual({ current: 450, upstream: 13.5 / 0.125 });
    expect(coordinationMargin({ ...two, currents: [5000] })).toMatchObject({ keeps: true });
    expect(coordinationMargin({ ...two, currents: [5000] })).not.toHaveProperty("aloneUpTo");
  });

  test("an upstream relay that never operates leaves every margin: absent, not infinite", () => {
    const two = { upstream: very(6000, 1), downstream: very(480, 0.1), required: 0.3 };
    const result = coordinationMargin({ ...two, currents: { from: 960, to: 6000 } });
    expect(result.points[0]).toEqual({ current: 960, downstream: 1.35 });
    expect(Object.keys(result)).toEqual(["points", "keeps"]);
    expect(result.keeps).toBe(true);
  });

  test("where both stay still there is nothing to tell, kept or not", () => {
    const two = { upstream: very(600, 1), downstream: very(400, 1), required: 0.3 };
    expect(coordinationMargin({ ...two, currents: [100, 400] })).toEqual({
      points: [{ current: 100 }, { current: 400 }],
    });
    // One that operates alone wherever anything does is told all the same.
    const alone = { upstream: very(400, 1), downstream: very(480, 0.1), required: 0.3 };
    expect(coordinationMargin({ ...alone, currents: [450] })).toMatchObject({ aloneUpTo: 450, keeps: false });
    // Secondary amperes for primary ones.
    expect(coordinationMargin({ ...two, currents: { from: 10, to: 75 } })).not.toHaveProperty("keeps");
  });

  test("everything survives JSON", () => {
    holds(
      fc.property(pairs, fc.oneof(ranges, currentLists), between(0, 1), (pair, currents, required) => {
        const result = coordinationMargin({ ...pair, currents, required });
        expect(JSON.parse(JSON.stringify(result))).toEqual(result);
      }),
      60,
    );
  });
});

test("a margin is least just where a curve of energy leaves its longest time", () => {
  // 2 s up to twice the pickup, and 8 s over the square of the multiple from there: the margin falls with the upstream curve until there, and then grows.
  const energy = { form: "energy", k: 8, maximumTime: 2 } as const;
  const upstream = { setting: { curve: "iec-inverse", multiplier: 0.5 }, pickup: 50 } as const;
  const downstream = { setting: { curve: energy }, pickup: 100 } as const;
  const { smallest } = coordinationMargin({ upstream, downstream, currents: { from: 120, to: 800 }, required: 0.1 });
  expect(smallest?.current).toBeCloseTo(200, 10);
  expect(smallest?.margin).toBeCloseTo(operateTime(upstream.setting, 4) - 2, 12);
});
