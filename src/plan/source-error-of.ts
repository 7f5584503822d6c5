import { finite, object, options } from "../base/check.js";
import { onOwnData } from "../base/own-data.js";
import type { ChannelStates } from "../base/sequence.js";
import { askedState } from "../base/states.js";
import { standingAt } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import type { Check } from "./check.js";
import { sourceErrors } from "./source-error.js";
import { definition } from "./started.js";

/** A check, and a level of it that was read or injected. */
export interface LevelOfCheck {
  readonly check: Check;
  /** In the unit of the check. One beyond a sweep counts as its nearer end; a check that nothing happens has its own alone. */
  readonly level: number;
}

/**
 * What {@link sourceErrors} says of the level of a check, on the channels that make it there.
 *
 * @param settings - From {@link settingsOf}.
 * @throws A {@link InputError} for a check of another sheet, and for a level that its channels cannot make.
 * Accuracy: as {@link sourceErrors}.
 * @source JCGM 100:2008 5.1.3
 *
 * @example
 * import { plan, readSheet, settingsOf, sourceErrorsOf } from "tripwright/plan";
 * const accuracy = { pickup: { absolute: "0.5 V" }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", vt: "11 kV/110 V",
 *   source: { accuracy: { voltage: { absolute: "0.1 V" } } },
 *   elements: [{ id: "59N", function: "59N", watches: "3V0", pickup: "10 V", delay: "1 s", accuracy }],
 * });
 * const pickup = plan(sheet).checks.find(({ id }) => id === "59N/pickup");
 * pickup && sourceErrorsOf(settingsOf(sheet), { check: pickup, level: 10 }); // → [0.3]
 */
export function sourceErrorsOf(settings: RelaySettings, at: LevelOfCheck): readonly number[] {
  const { check, level } = options(at, ["check", "level"]);
  finite(level, "level", "a level");
  const { element, edge, sweep, timeline } = object(check, "check", "a check of a plan");
  const { A, V, Hz } = settings.sourceAccuracy;
  if (A === undefined && V === undefined && Hz === undefined) return [];
  return onOwnData("check", "a check, as `plan` makes it", () => {
    const [low, high] = sweep === undefined ? [level, level] : [sweep.from, sweep.to].toSorted((a, b) => a - b);
    const reached = Math.min(Math.max(level, low as number), high as number);
    const channels = { ...askedState(timeline)?.channels, ...channelsAt(reached, { check, settings }) };
    return sourceErrors(settings, {
      element,
      ...(edge !== undefined && { edge }),
      level: reached,
      channels,
      wiring: timeline.wiring,
    });
  });
}

interface Around {
  readonly check: Check;
  readonly settings: RelaySettings;
}

/** Those that the level moves; none where the level is the one that the timeline stands at. */
function channelsAt(level: number, { check, settings: { elements, setup } }: Around): ChannelStates {
  const setting = elements.find(({ id }) => id === check.element);
  if (setting === undefined || check.proves === "no-operation") return {};
  const { pose, edges } = definition(setting);
  const place = edges?.(setting, setup).find(({ name }) => name === check.edge);
  const posed = place?.pose ?? pose(setting, setup);
  return posed.kind === "none" ? {} : standingAt(posed, level);
}
