import type { Answer } from "../base/answer.js";
import { decimal, toNumber } from "../base/exact.js";
import type { Edge, ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { inFrontOfHealthy } from "./bench.js";
import type { Check } from "./check.js";
import { crossingCheck } from "./crossing-check.js";
import { definition, expectEdge } from "./expect.js";

/** The places on the boundary of a function, beside its pickup, that are to be proved. */
export const edgesOf = (setting: ElementSetting, { setup }: RelaySettings): readonly Edge[] =>
  definition(setting).edges?.(setting, setup) ?? [];

/** An angle as a source is set to it: 448° is 88°. */
function asSet(at: number, unit: Edge["unit"]): number {
  if (unit !== "°" || (at > -180 && at <= 180)) return at;
  const turns = Math.ceil((at - 180) / 360);
  return toNumber(decimal(at, "edge").minus(360 * turns), "edge");
}

/** A sweep through one of them. */
export function edgeCheck(
  given: Edge,
  setting: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const edge = { ...given, at: asSet(given.at, given.unit) };
  const expected = expectEdge(edge, setting);
  if (expected.kind === "none") return expected;
  const posed = inFrontOfHealthy(edge.pose, edge.at, settings);
  if (posed.kind === "none") return posed;
  const { unit, side, around, at, waits } = edge;
  return crossingCheck(
    {
      name: `edge@${edge.name}`,
      proves: "edge",
      unit,
      side,
      at: decimal(at, "edge"),
      around,
      expected,
      posed,
      ...(waits && { waits }),
      fromRest: false,
    },
    setting,
    settings,
  );
}
