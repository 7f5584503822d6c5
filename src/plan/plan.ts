import type { Answer } from "../base/answer.js";
import { decimal, toNumber } from "../base/exact.js";
import type { ElementSetting } from "../element/index.js";
import { type RelaySettings, readSheet, type Sheet, settingsOf } from "../sheet/index.js";
import { totalTime } from "../timeline/index.js";
import type { Check, Impossible, Plan } from "./check.js";
import { dropoutCheck } from "./dropout-check.js";
import { edgeCheck, edgesOf } from "./edge-check.js";
import { findingsOf } from "./findings.js";
import { inOrder } from "./order.js";
import { pickupCheck } from "./pickup-check.js";
import { asideCheck, quietCheck, stillsOf } from "./quiet-check.js";
import { definition } from "./started.js";
import { timeCheck } from "./time-check.js";
import { timedPoints } from "./timed-points.js";

/** What every piece of this work begins and ends with. */
const CAUTIONS: readonly string[] = [
  "Work only on equipment that is released to you, isolated and proved so; local rules, the owner's procedures and licensed practice come first.",
  "Block or isolate trip and intertrip circuits before injecting, and remember breaker-failure initiation, teleprotection and remote-control points.",
  "Never open a CT secondary: short it first.",
  "Open or withdraw the VT secondary fuses or links before injecting voltage on the relay side, or the VT is energised backwards.",
  "Keep within the thermal limits of the relay's inputs; let them cool between high currents.",
  "One person controls the source. Keep a list of what was blocked or changed, restore it, and prove that it is restored.",
];

/**
 * Plans what is to be proved of one relay: for each element where it starts, where it lets go, that it stays quiet where
 * it should, and in which time it operates. Every check carries its timeline, what must happen, the band, why, what to
 * mind and what to block; what cannot be made is listed with the reason.
 *
 * Measuring checks come before timing ones, and of each kind those first that heat the relay least.
 *
 * @param sheet - From {@link readSheet}; a sheet that was not read is read first.
 * @throws A {@link InputError} with every problem of a sheet that is not good.
 * Accuracy: levels and limits are the doubles nearest to exact decimals.
 * @source common practice; IEC 60255-151, IEC 60255-127 and IEC 60255-181 for the laws
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "51P", function: "51", pickup: "4 A", curve: "iec-very-inverse", multiplier: 0.2, startContact: "start", accuracy }],
 * });
 * plan(sheet).checks.map((check) => check.id); // → ["51P/pickup", "51P/quiet", "51P/time@3", "51P/time@7", "51P/time@15"]
 * plan(sheet).checks[2]?.expect; // → { form: "band", unit: "s", band: { nominal: 1.35, low: 1.2825, high: 1.4175 } }
 * plan(sheet).impossible[0]?.reason; // → "the sheet declares no dropout that a reading could be held against"
 */
export function plan(sheet: Sheet): Plan {
  const settings = settingsOf(sheet);
  const { substation, feeder, relay } = sheet;
  const { elements, setup } = settings;
  const planned = elements.flatMap((element) => everyCheckOf(element, settings));
  const checks = inOrder(planned.flatMap((item) => ("check" in item ? [item.check] : [])));
  const impossible = planned.flatMap((item) => ("impossible" in item ? [item.impossible] : []));
  const total = checks.reduce((sum, { timeline }) => sum.plus(decimal(totalTime(timeline), "")), decimal(0, ""));
  return {
    about: { substation, feeder, relay },
    frequency: setup.frequency,
    checks,
    impossible,
    findings: findingsOf(settings),
    cautions: [...CAUTIONS, ...new Set(elements.flatMap((element) => definition(element).cautions ?? []))],
    totalTime: toNumber(total, ""),
  };
}

type Planned = { readonly check: Check } | { readonly impossible: Impossible };

function everyCheckOf(element: ElementSetting, settings: RelaySettings): Planned[] {
  return [
    plannedAs(`${element.id}/pickup`, element, pickupCheck(element, settings)),
    ...edgesOf(element, settings).map((edge) =>
      plannedAs(`${element.id}/edge@${edge.name}`, element, edgeCheck(edge, element, settings)),
    ),
    plannedAs(`${element.id}/dropout`, element, dropoutCheck(element, settings)),
    plannedAs(`${element.id}/quiet`, element, quietCheck(element, settings)),
    ...stillsOf(element, settings).map((still) =>
      plannedAs(`${element.id}/quiet@${still.name}`, element, asideCheck(still, element, settings)),
    ),
    ...timedPoints(element).map((point) =>
      plannedAs(`${element.id}/${point.name}`, element, timeCheck(point, element, settings)),
    ),
  ];
}

function plannedAs(id: string, { id: element }: ElementSetting, answer: Answer<{ check: Check }, string>): Planned {
  return answer.kind === "found" ? { check: answer.check } : { impossible: { id, element, reason: answer.reason } };
}
