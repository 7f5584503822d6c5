/** A check, made of what it proves and where it is injected. */
import { finite } from "../base/check.js";
import type { ElementSetting, LevelUnit } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { cautionsOf } from "./cautions.js";
import type { Check } from "./check.js";
import { interferers } from "./interference.js";
import type { Posed } from "./posed.js";
import { definition } from "./started.js";

/** What differs from one kind of check to another. */
export interface Proof extends Pick<Check, "proves" | "contact" | "timeline" | "unit" | "expect" | "because"> {
  /** Behind the name of the element: `pickup`, `time@3`. */
  readonly name: string;
  readonly edge?: string;
  readonly sweep?: Check["sweep"];
  readonly level?: number;
  readonly posed: Posed;
  /** What to mind beside what the timeline asks of source and inputs. */
  readonly cautions?: readonly string[];
}

/** The check of an element, with what to mind and what to block in it. */
export function checkOf(proof: Proof, element: ElementSetting, settings: RelaySettings): Check {
  const { name, edge, proves, contact, timeline, unit, sweep, level, posed, expect, because, cautions = [] } = proof;
  return {
    id: `${element.id}/${name}`,
    element: element.id,
    function: element.function,
    proves,
    ...(edge !== undefined && { edge }),
    contact,
    timeline,
    unit,
    ...(sweep && { sweep }),
    ...(level !== undefined && { level }),
    ...aboutSource(element, posed, settings, unit),
    expect,
    because,
    cautions: [...cautionsOf(timeline, settings), ...cautions],
    block: interferers(element, settings.elements, { timeline, contact }),
  };
}

/** What a check says about its injection: what the channels stand for, and what a level is on the primary side. */
function aboutSource(
  element: ElementSetting,
  { note }: Posed,
  { toPrimary, toPrimaryOfSecond: second }: RelaySettings,
  unit: LevelUnit,
): Pick<Check, "injection" | "toPrimary" | "toPrimaryOfSecond"> {
  // What is not counted as the setting is, such as an angle, is not transformed as the setting is.
  const factor = unit === definition(element).unit ? toPrimary[element.id] : undefined;
  return {
    ...(note !== undefined && { injection: note }),
    ...(factor !== undefined && { toPrimary: finite(factor, `toPrimary.${element.id}`, "a ratio") }),
    ...(element.watches === "differential" &&
      second !== undefined && { toPrimaryOfSecond: finite(second, "toPrimaryOfSecond", "a ratio") }),
  };
}
