/** From what is typed on a sheet to the settings of a relay in SI units at the relay: once, here, and nowhere else. */
import { fail } from "../base/check.js";
import { collector } from "../base/collect.js";
import { toNumber } from "../base/exact.js";
import type { Problem } from "../base/problem.js";
import { readQuantity } from "../base/quantity.js";
import type { Hertz } from "../base/units.js";
import type { ElementSetting, Setup } from "../element/index.js";
import { definitionOf, functionNumbers } from "../element/index.js";
import { type Ratios, readRatio, TRANSFORMERS, type Transformer, transformerBehind, unity } from "./ratio.js";
import type { RelaySettings } from "./relay-settings.js";
import { plainZone, resolveDifferentialZone, secondRatio } from "./resolve-differential-zone.js";
import { resolveElement } from "./resolve-element.js";
import { accuracyOf, largestCurrent, limitsOf, ratingsOf } from "./resolve-source.js";
import type { Sheet, SheetElement } from "./sheet.js";
import type { System } from "./typed-value.js";

/** What is resolved, and the problems on the way; whatever stands at or below one of the bad paths is passed over. */
export function resolveSheet(
  given: unknown,
  badPaths: readonly string[],
): { settings?: RelaySettings; problems: readonly Problem[] } {
  if (!isSheetLike(given)) return { problems: [] };
  // A stand-in takes the place of what is bad, so that the rest can be looked at; with problems nothing is returned.
  const { attempt, below, problems } = collector(badPaths);

  const frequency = attempt<Hertz>("frequency", 50, () => positiveFrequency(given.frequency));
  const ratios = Object.fromEntries(
    Object.keys(TRANSFORMERS).map((name) => {
      const path = name as Transformer;
      return [path, attempt(path, unity(), () => readRatio(given[path], path, firstBehind(path, given)))];
    }),
  ) as Ratios;
  const values = given.values === "primary" ? "primary" : "secondary";
  const zone = attempt("zone", plainZone(), () => resolveDifferentialZone(given, ratios.ct));
  const system: System = { frequency, rotation: given.rotation ?? "ABC", values, ratios, ...(zone && { zone }) };
  const sourceLimits = attempt<RelaySettings["sourceLimits"]>("source", {}, () => limitsOf(given, system));
  const sourceAccuracy = attempt<RelaySettings["sourceAccuracy"]>("source.accuracy", {}, () =>
    accuracyOf(given, system),
  );
  const inputRatings = attempt<RelaySettings["inputRatings"]>("inputs", {}, () => ratingsOf(given, system));
  const seen = new Set<string>();
  const elements = given.elements.flatMap((element, i) => {
    const place = `elements[${i}]`;
    // Without a good function there is nothing to hold the rest of an element against.
    if (badPaths.includes(place) || badPaths.includes(`${place}.function`)) return [];
    const problemsHere = below(place);
    problemsHere.attempt("id", undefined, () => checkUnseen(element, seen));
    const setting = resolveElement(element, system, problemsHere);
    return element.enabled === false ? [] : [setting];
  });
  if (problems.length > 0 || badPaths.length > 0) return { problems };
  const decisionRule = given.decisionRule ?? "simple";
  const toPrimary = Object.fromEntries(elements.flatMap((element) => primaryOver(element, ratios)));
  return {
    settings: {
      setup: { ...setupOf(given, frequency, ratios), ...largestCurrent(sourceLimits, inputRatings) },
      sourceLimits,
      sourceAccuracy,
      inputRatings,
      decisionRule,
      writtenIn: values,
      ratios: { ...asNumber("ct", ratios), ...asNumber("vt", ratios) },
      toPrimary,
      ...ofSecondSide(given, ratios, elements),
      elements,
    },
    problems,
  };
}

const asNumber = (name: "ct" | "vt", { [name]: ratio }: Ratios) =>
  ratio && { [name]: toNumber(ratio.primary.div(ratio.secondary), name) };

/** Currents and voltages are transformed; a frequency is the same on both sides, and so is a ratio. */
function primaryOver({ id, function: name, watches }: ElementSetting, ratios: Ratios): [string, number][] {
  const { unit } = definitionOf(name);
  const { ct, vt } = ratios;
  if (unit === "W" && ct && vt)
    return [[id, toNumber(ct.primary.times(vt.primary).div(ct.secondary).div(vt.secondary), id)]];
  if (unit === "ohm" && ct && vt)
    return [[id, toNumber(vt.primary.times(ct.secondary).div(vt.secondary).div(ct.primary), id)]];
  const ratio = ratios[transformerBehind(watches, unit)];
  if ((unit !== "A" && unit !== "V") || ratio === undefined) return [];
  return [[id, toNumber(ratio.primary.div(ratio.secondary), id)]];
}

function ofSecondSide({ zone = {} }: Sheet, { ct }: Ratios, elements: readonly ElementSetting[]) {
  if (ct === undefined || !elements.some(({ watches }) => watches === "differential")) return {};
  const { primary, secondary } = secondRatio(zone, ct);
  return { toPrimaryOfSecond: toNumber(primary.div(secondary), "zone.second.ct") };
}

const isSheetLike = (given: unknown): given is Sheet =>
  typeof given === "object" && given !== null && Array.isArray((given as { elements?: unknown }).elements);

function positiveFrequency(typed: unknown): Hertz {
  const frequency = toNumber(readQuantity(typed, "frequency", "frequency"), "frequency");
  return frequency > 0 ? frequency : fail("out-of-range", "frequency", "a frequency above 0 Hz", typed);
}

/** The first element that measures behind a transformer. */
const firstBehind = (transformer: Transformer, { elements }: Sheet): SheetElement | undefined =>
  elements.find((element) => {
    if (!functionNumbers.includes(element?.function)) return false;
    const { watches, unit } = definitionOf(element.function);
    // An impedance is measured behind both.
    if (unit === "ohm" && transformer === "ct") return true;
    return transformerBehind(element.watches ?? (watches[0] as string), unit) === transformer;
  });

function setupOf(sheet: Sheet, frequency: Hertz, { ct, vt }: Ratios): Setup {
  return {
    frequency,
    rotation: sheet.rotation ?? "ABC",
    currentChannels: sheet.source?.currentChannels === 1 ? 1 : 3,
    ...(sheet.source?.currentChannels === 6 && { secondCurrentChannels: 3 }),
    voltageChannels: sheet.source?.voltageChannels ?? 3,
    ...(vt && { ratedVoltage: toNumber(vt.secondary, "vt") }),
    ...(ct && { ratedCurrent: toNumber(ct.secondary, "ct") }),
  };
}

function checkUnseen({ id }: SheetElement, seen: Set<string>): void {
  if (seen.has(id)) fail("duplicate", "id", "a name that no other element has", id);
  seen.add(id);
}
