import type { Answer } from "../base/answer.js";
import { type Decimal, decimal, signedDegrees, toNumber } from "../base/exact.js";
import { type Edge, type ElementSetting, startLevel } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import type { Check } from "./check.js";
import { crossingCheck } from "./crossing-check.js";
import { type Expectation, expectEdge, expectPickup } from "./expect.js";
import { seenAt } from "./injected.js";
import { inFrontOfHealthy, type Posed } from "./posed.js";
import { definition, isStartedBy } from "./started.js";

/** The places on the boundary of a function, beside its pickup, that are to be proved. */
export const edgesOf = (element: ElementSetting, { setup }: RelaySettings): readonly Edge[] =>
  definition(element).edges?.(element, setup) ?? [];

/** An angle as a source is set to it: 448° is 88°. */
const asSet = (at: number, unit: Edge["unit"]): number =>
  unit === "°" ? toNumber(signedDegrees(decimal(at, "edge")), "edge") : at;

/** How far to either side of a limit in angle, in degrees, its place is searched for when the pickup is off. */
const LOOK = 30;

/** Where a relay crosses a limit in angle when only its pickup is off; `undefined` where it does not cross nearby. */
function crossedWith(start: number, { at, side }: Edge, element: ElementSetting, posed: Posed): number | undefined {
  const played = { ...element, pickup: (start / startLevel(element)) * element.pickup };
  const starts = (level: number) => isStartedBy(played, seenAt(level, posed));
  const inwards = side === "over" ? 1 : -1;
  // Most limits stay where they are.
  const hair = inwards * 1e-6;
  if (starts(at + hair) && !starts(at - hair)) return at;
  let [quiet, started] = [at - inwards * LOOK, at + inwards * LOOK];
  if (starts(quiet) || !starts(started)) return undefined;
  while (Math.abs(started - quiet) > 1e-9) {
    const middle = (quiet + started) / 2;
    if (starts(middle)) started = middle;
    else quiet = middle;
  }
  return started;
}

/** In hundredths of a degree, outwards. */
const outwards = (moved: number): Decimal =>
  decimal(moved > 0 ? Math.ceil(moved * 100 - 1e-6) : Math.floor(moved * 100 + 1e-6), "moved").div(100);

/**
 * The band of a limit in angle, wider by what the pickup moves within its tolerance: the part of a current along the
 * characteristic angle falls to the pickup where its cosine does, at cos⁻¹ ½ with twice of it.
 */
function withPickup(expected: Expectation, edge: Edge, element: ElementSetting, posed: Posed): Expectation {
  const { low, high } = expected.band;
  if (edge.heldTo !== "angle" || low === undefined || high === undefined) return expected;
  const { low: early, high: late } = expectPickup(element).band;
  const moved = [early, late]
    .flatMap((start) =>
      start === undefined || start <= 0 ? [] : [crossedWith(start, edge, element, posed) ?? edge.at],
    )
    .map((place) => place - edge.at);
  const [down, up] = [outwards(Math.min(0, ...moved)), outwards(Math.max(0, ...moved))];
  if (down.isZero() && up.isZero()) return expected;
  const wider = {
    low: toNumber(decimal(low, "low").plus(down), "low"),
    high: toNumber(decimal(high, "high").plus(up), "high"),
  };
  return {
    ...expected,
    band: { ...expected.band, ...wider },
    rule: `${expected.rule}, and ${down.toString()}° to +${up.toString()}° as the tolerance of the pickup moves it`,
    numbers: { ...expected.numbers, ...wider },
  };
}

/** A sweep through one of them. */
export function edgeCheck(
  given: Edge,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const edge = { ...given, at: asSet(given.at, given.unit) };
  const held = expectEdge(edge, element);
  if (held.kind === "none") return held;
  const posed = inFrontOfHealthy(edge.pose, edge.at, settings);
  if (posed.kind === "none") return posed;
  const expected = withPickup(held, edge, element, posed);
  const { unit, side, around, at, waits } = edge;
  return crossingCheck(
    {
      name: `edge@${edge.name}`,
      proves: "edge",
      edge: edge.name,
      unit,
      side,
      at: decimal(at, "edge"),
      around,
      expected,
      posed,
      ...(waits && { waits }),
      fromRest: false,
    },
    element,
    settings,
  );
}
