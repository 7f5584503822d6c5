import type { Answer } from "../base/answer.js";
import { decimal } from "../base/exact.js";
import type { Edge, ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { inFrontOfHealthy } from "./bench.js";
import type { Check } from "./check.js";
import { crossingCheck } from "./crossing-check.js";
import { definition, expectEdge } from "./expect.js";

/** The places on the boundary of a function, beside its pickup, that are to be proved. */
export const edgesOf = (setting: ElementSetting, { setup }: RelaySettings): readonly Edge[] =>
  definition(setting).edges?.(setting, setup) ?? [];

/** A sweep through one of them. */
export function edgeCheck(
  edge: Edge,
  setting: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
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
