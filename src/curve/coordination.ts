/** Two relays in series: the time between them, and where there is least of it. */
import { above, atLeast, fail, list, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Amperes, Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { kinksOf } from "./kinks.js";
import { gridOf, lowest } from "./lowest.js";
import { multipleForTime } from "./multiple-for-time.js";
import { readySetting, timeAt } from "./ready.js";
import { allowing, type MarginAllowance } from "./required-margin.js";
import { timeOr } from "./table.js";

/** One of two relays in series. */
export interface SeriesRelay {
  readonly setting: CurveSetting;
  /** The current at the multiple 1: primary amperes, or secondary ones where there is a `ct`. */
  readonly pickup: Amperes;
  readonly ct?: { readonly primary: Amperes; readonly secondary: Amperes };
}

/** All currents from one to another, in primary amperes. */
export interface CurrentRange {
  readonly from: Amperes;
  readonly to: Amperes;
}

/** Two relays that see the same primary current. */
export interface TwoRelays {
  readonly upstream: SeriesRelay;
  readonly downstream: SeriesRelay;
  /** Primary amperes, above 0: some currents, or all from one to another. */
  readonly currents: readonly Amperes[] | CurrentRange;
  /** The margin that is required: seconds, or what it allows for, so that it grows with the downstream time. */
  readonly required?: Seconds | MarginAllowance;
}

/** Two relays at one current. */
export interface MarginPoint {
  /** Primary amperes. */
  readonly current: Amperes;
  /** Operate time of the upstream relay; absent where it never operates. */
  readonly upstream?: Seconds;
  /** Operate time of the downstream relay; absent where it never operates. */
  readonly downstream?: Seconds;
  /** Upstream − downstream; absent where one of them never operates: without upstream no margin could be larger. */
  readonly margin?: Seconds;
  /** What is required here; absent without a margin. */
  readonly required?: Seconds;
  /** Margin − required, negative where it falls short; 0 where only rounding lies between them. */
  readonly spare?: Seconds;
}

/** How two relays in series go together. */
export interface Coordination {
  /** At each current asked; of a range, at its two ends. */
  readonly points: readonly MarginPoint[];
  /** Where the margin is smallest; absent where the two never operate together. */
  readonly smallest?: MarginPoint;
  /** Where the least is to spare of the margin required. */
  readonly tightest?: MarginPoint;
  /** The largest current at which the upstream relay operates and the downstream one never does: no discrimination. */
  readonly aloneUpTo?: Amperes;
  /**
   * Whether the required margin is kept wherever both operate, and the upstream relay operates nowhere alone. Absent where
   * neither operates at any of the currents.
   */
  readonly keeps?: boolean;
}

/**
 * The time that two relays in series leave between them, and where they leave least.
 *
 *     margin(I) = t_upstream(I/pickup_upstream) − t_downstream(I/pickup_downstream), pickups in primary amperes
 *
 * Both see the same current. Across a transformer, refer the pickup of one side to the other first. Times are those of
 * {@link operateTime} at a constant current, thermal curves cold.
 *
 * @returns Every current asked, the smallest margin, and the tightest against what is required: see {@link Coordination}.
 * Where the upstream relay starts below the downstream one, the margin has no lower bound towards the latter's start;
 * then `aloneUpTo` says so, and the smallest margin is that right beyond the start.
 * @throws A {@link InputError} with the place of what is wrong, for under functions, and for currents outside a table.
 * Accuracy: margins as their two operate times. The smallest one of a range is found on a grid that is dense towards
 * starts, ceilings, floors and corners of the curves, and then closed in on to 1e-9 s.
 * @source common practice
 *
 * @example
 * import { coordinationMargin } from "tripwright/curve";
 * const upstream = { setting: { curve: "iec-very-inverse", multiplier: 0.4 }, pickup: 5, ct: { primary: 600, secondary: 5 } } as const;
 * const downstream = { setting: { curve: "iec-very-inverse", multiplier: 0.2 }, pickup: 400 } as const;
 * const { points, tightest, keeps } = coordinationMargin({ upstream, downstream, currents: { from: 800, to: 6000 }, required: 0.3 });
 * points[1]?.margin?.toFixed(4); // → "0.4071"
 * tightest?.current; // → 6000
 * keeps; // → true
 */
export function coordinationMargin(given: TwoRelays): Coordination {
  const { required } = options(given, ["upstream", "downstream", "currents", "required"]);
  return coordinated(given, required === undefined ? undefined : requirement(required));
}

/** The same with the requirement read. */
export function coordinated(given: TwoRelays, need?: Requirement): Coordination {
  const [up, down] = [readyRelay(given, "upstream"), readyRelay(given, "downstream")];
  const at = (current: Amperes): MarginPoint => {
    const [first, second] = [up.time(current), down.time(current)];
    const margin = first - second;
    return {
      current,
      ...(first < Number.POSITIVE_INFINITY && { upstream: first }),
      ...(second < Number.POSITIVE_INFINITY && { downstream: second }),
      ...(Number.isFinite(margin) && { margin, ...need?.(margin, second) }),
    };
  };
  const asked = checkedCurrents(given.currents);
  const isRange = !Array.isArray(given.currents);
  const grid = isRange ? gridOf(asked, [...up.cuts, ...down.cuts]) : asked;
  const least = (what: "margin" | "spare"): MarginPoint | undefined => {
    const point = at(lowest(grid, (current) => at(current)[what] ?? Number.POSITIVE_INFINITY, isRange));
    return point[what] === undefined ? undefined : point;
  };
  const smallest = least("margin");
  const tightest = need && least("spare");
  const downstreamOperates = (current: Amperes) => down.time(current) < Number.POSITIVE_INFINITY;
  const alone = grid.filter((current) => up.time(current) < Number.POSITIVE_INFINITY && !downstreamOperates(current));
  const isTold = alone.length > 0 || grid.some(downstreamOperates);
  return {
    points: asked.map(at),
    ...(smallest && { smallest }),
    ...(tightest && { tightest }),
    ...(alone.length > 0 && { aloneUpTo: alone.reduce((a, b) => Math.max(a, b)) }),
    ...(need && isTold && { keeps: alone.length === 0 && (tightest?.spare ?? 0) >= 0 }),
  };
}

/** A relay that can be asked in primary amperes, and the currents at which its time has a corner. */
function readyRelay({ currents, ...relays }: TwoRelays, path: "upstream" | "downstream") {
  return within(path, () => {
    const { setting, pickup, ct = { primary: 1, secondary: 1 } } = options(relays[path], ["setting", "pickup", "ct"]);
    const ready = within("setting", () => readySetting(setting));
    if (ready.side === "under") fail("not-applicable", "setting.curve", "the curve of an over function", setting.curve);
    const { primary, secondary } = object(ct, "ct", "a ratio { primary, secondary }");
    above(pickup, 0, "pickup", "a current", "A");
    above(primary, 0, "ct.primary", "a current", "A");
    above(secondary, 0, "ct.secondary", "a current", "A");
    const base = (pickup * primary) / secondary;
    const { startRatio, ceilingMultiple, minimumTime } = ready;
    const floor = minimumTime > 0 && multipleForTime({ ...setting, minimumTime: 0, addedTime: 0 }, minimumTime);
    const corners = floor && floor.kind === "found" ? [floor.multiple] : [];
    return {
      cuts: [startRatio, ceilingMultiple, ...corners, ...kinksOf(ready.curve)].map((multiple) => multiple * base),
      time: (current: Amperes): Seconds =>
        timeOr(
          () => timeAt(ready, current / base),
          () => {
            const place = Array.isArray(currents) ? `currents[${currents.indexOf(current)}]` : "currents";
            return fail("out-of-range", place, `a current in A in the table of ${path}`, current);
          },
        ),
    };
  });
}

type Requirement = (margin: Seconds, downstream: Seconds) => Required<Pick<MarginPoint, "required" | "spare">>;

/** What is required beside a downstream time, and what is to spare; each time may be 4 units in the last place off. */
export function requirement(given: Seconds | MarginAllowance): Requirement {
  const isFixed = typeof given === "number";
  const need = isFixed ? () => given + 0 : within("required", () => allowing(given));
  if (isFixed) atLeast(given, 0, "required", "a margin", "s");
  return (margin, downstream) => {
    const required = need(downstream);
    const spare = margin - required;
    if (!Number.isFinite(spare)) fail("out-of-range", "required", "a margin that fits a double", given);
    return { required, spare: Math.abs(spare) <= 8 * Number.EPSILON * (margin + downstream) ? 0 : spare };
  };
}

function checkedCurrents(currents: TwoRelays["currents"]): readonly Amperes[] {
  if (Array.isArray(currents)) {
    return list(currents, "currents", "one current or more", 1).map((current, i) =>
      above(current, 0, `currents[${i}]`, "a current", "A"),
    );
  }
  const { from, to } = options(currents as CurrentRange, ["from", "to"], "currents");
  return [above(from, 0, "currents.from", "a current", "A"), atLeast(to, from, "currents.to", "a current", "A")];
}
