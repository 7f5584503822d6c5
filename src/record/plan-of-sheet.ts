/** Whether a plan is that of a sheet: no reading is held against two settings at once. */
import type { Band } from "../base/band.js";
import { fail } from "../base/check.js";
import { signedAngle } from "../base/degrees.js";
import { InputError } from "../base/input-error.js";
import type { Problem } from "../base/problem.js";
import { plain, written } from "../base/written.js";
import { definitionOf, type ElementSetting } from "../element/index.js";
import {
  type Check,
  expectDropout,
  expectPickup,
  expectTime,
  type Plan,
  type RelaySettings,
  type Sheet,
  type Unit,
} from "../plan/index.js";

/** What the sheet makes of a check, and what the plan has instead. */
interface Difference {
  readonly ofSheet: string;
  readonly ofPlan: string;
}

/**
 * Refuses a plan of other settings, such as those of an earlier version of the sheet, by the first check that differs. Checks
 * that were left out or added, as by `timedAt`, do not matter: each is held against the sheet by itself. Nothing is planned anew,
 * which would take longer than to judge; that is enough to see whatever moves a level or a band.
 */
export function checkPlanOf(settings: RelaySettings, { checks, impossible, frequency }: Plan): void {
  checkElements(settings, { checks, impossible });
  if (frequency !== settings.setup.frequency)
    refuse({ ofSheet: `at ${written(settings.setup.frequency, "Hz")}`, ofPlan: `at ${written(frequency, "Hz")}` });
  for (const setting of settings.elements) {
    const places = placesOf(setting, settings);
    for (const check of checks) {
      if (check.element !== setting.id) continue;
      const difference = differenceOf(check, { setting, settings, places });
      if (difference !== undefined)
        refuse({
          ofSheet: `where ${check.id} ${difference.ofSheet}`,
          ofPlan: `where ${check.id} ${difference.ofPlan}`,
        });
    }
  }
}

function checkElements({ elements }: RelaySettings, lists: Pick<Plan, "checks" | "impossible">): void {
  const ids = new Set(elements.map(({ id }) => id));
  for (const name of ["checks", "impossible"] as const)
    lists[name].forEach(({ element }, i) => {
      if (!ids.has(element)) fail("unknown-name", `plan.${name}[${i}].element`, "an element of the sheet", element);
    });
}

function refuse({ ofSheet, ofPlan }: Difference): never {
  const received = `a plan ${ofPlan}; plan the sheet as it is now`;
  throw new InputError([{ code: "conflict", path: "plan", expected: `a plan of this sheet, ${ofSheet}`, received }]);
}

/** What a plan of this sheet leaves open: elements without any check, such as one that was added since, and another relay's name. */
export function notPlanned(sheet: Sheet, { elements }: RelaySettings, { about, checks, impossible }: Plan): Problem[] {
  const planned = new Set([...checks, ...impossible].map(({ element }) => element));
  const missing = elements.filter(({ id }) => !planned.has(id)).map(({ id }) => id);
  const problems: Problem[] = [];
  if (missing.length > 0)
    problems.push({
      code: "missing",
      path: "plan",
      expected: "a check of every element of the sheet",
      received: `none of ${missing.join(", ")}`,
    });
  const told = (["substation", "feeder", "relay"] as const).find((field) => about?.[field] !== sheet[field]);
  if (told !== undefined && about !== undefined)
    problems.push({
      code: "conflict",
      path: `plan.about.${told}`,
      expected: `a plan of ${sheet[told]}`,
      received: `a plan of ${about[told]}`,
    });
  return problems;
}

/** Where a function is proved beside its pickup, by the id of the check. */
type Places = ReadonlyMap<string, number>;

function placesOf(setting: ElementSetting, { setup }: RelaySettings): Places {
  const { edges, stills } = definitionOf(setting.function);
  return new Map([
    ...(edges?.(setting, setup) ?? []).map(({ name, at }) => [`${setting.id}/edge@${name}`, at] as const),
    ...(stills?.(setting, setup) ?? []).map(({ name, level }) => [`${setting.id}/quiet@${name}`, level] as const),
  ]);
}

/** An element as the sheet has it. */
interface OnSheet {
  readonly setting: ElementSetting;
  readonly settings: RelaySettings;
  readonly places: Places;
}

function differenceOf(check: Check, onSheet: OnSheet): Difference | undefined {
  const { setting } = onSheet;
  if (check.function !== setting.function)
    return { ofSheet: `is of function ${setting.function}`, ofPlan: `is of function ${check.function}` };
  if (check.contact !== setting.contact && check.contact !== setting.startContact)
    return {
      ofSheet: `is read on ${[setting.startContact, setting.contact].filter((name) => name !== undefined).join(" or ")}`,
      ofPlan: `is read on ${check.contact}`,
    };
  return ofTransformers(check, onSheet) ?? ofExpectation(check, onSheet);
}

/** The ratios of a sheet change nothing of secondary settings, but what stands on the primary side. */
function ofTransformers({ unit, toPrimary, toPrimaryOfSecond }: Check, { setting, settings }: OnSheet) {
  const isAsSet = unit === definitionOf(setting.function).unit;
  const own = isAsSet ? settings.toPrimary[setting.id] : undefined;
  const second = setting.watches === "differential" ? settings.toPrimaryOfSecond : undefined;
  const inWords = (ratio: number | undefined) =>
    ratio === undefined ? "has no transformer before it" : `is behind a ratio of ${plain(ratio, 6)}`;
  if (!isSame(own, toPrimary)) return { ofSheet: inWords(own), ofPlan: inWords(toPrimary) };
  return isSame(second, toPrimaryOfSecond)
    ? undefined
    : { ofSheet: inWords(second), ofPlan: inWords(toPrimaryOfSecond) };
}

function ofExpectation(check: Check, { setting, places }: OnSheet): Difference | undefined {
  const { expect, level, proves, unit } = check;
  switch (proves) {
    case "pickup":
      return ofBand(expect, expectPickup(setting).band, unit);
    case "dropout": {
      const expected = expectDropout(setting);
      return ofBand(expect, expected.kind === "found" ? expected.band : undefined, unit);
    }
    case "operate-time": {
      const expected = level === undefined ? undefined : expectTime(setting, level);
      return ofBand(expect, expected?.kind === "found" ? expected.band : undefined, "s");
    }
    case "edge":
      return ofPlace(check, expect.form === "band" ? expect.band.nominal : undefined, places);
    case "no-operation":
      return check.id === `${setting.id}/quiet` ? ofQuiet(check, setting) : ofPlace(check, level, places);
  }
}

function ofBand(expect: Check["expect"], ofSheet: Band | undefined, unit: Unit): Difference | undefined {
  const ofPlan = expect.form === "band" ? expect.band : undefined;
  const isAlike = (["nominal", "low", "high"] as const).every((limit) => isSame(ofSheet?.[limit], ofPlan?.[limit]));
  return isAlike ? undefined : { ofSheet: accepted(ofSheet, unit), ofPlan: accepted(ofPlan, unit) };
}

function accepted(band: Band | undefined, unit: Unit): string {
  if (band === undefined) return "has nothing to be held against";
  const { nominal, low, high } = band;
  const limits = [low === undefined ? "" : `from ${plain(low, 6)}`, high === undefined ? "" : `to ${plain(high, 6)}`];
  return `is ${written(plain(nominal, 6), unit)}, accepted ${written(limits.filter((limit) => limit).join(" "), unit)}`;
}

/** Beside the pickup: the place on the boundary, or the level beside which something else keeps it quiet. */
function ofPlace({ id, unit }: Check, ofPlan: number | undefined, places: Places): Difference | undefined {
  // A check of a name of somebody's own stands for itself.
  if (!places.has(id) && !/\/(edge|quiet)@/.test(id)) return undefined;
  const ofSheet = places.get(id);
  const turned = (place: number | undefined) => (place === undefined || unit !== "°" ? place : signedAngle(place));
  if (isSame(turned(ofSheet), turned(ofPlan))) return undefined;
  const inWords = (place: number | undefined) =>
    place === undefined ? "is no check" : `is at ${written(plain(place, 6), unit)}`;
  return { ofSheet: inWords(ofSheet), ofPlan: inWords(ofPlan) };
}

/** The quiet side of the setting begins where its tolerance ends. */
function ofQuiet({ because, unit }: Check, setting: ElementSetting): Difference | undefined {
  const { low, high } = expectPickup(setting).band;
  const limit = definitionOf(setting.function).side === "over" ? low : high;
  const ofPlan = because.numbers["limit"];
  if (isSame(limit, ofPlan)) return undefined;
  const inWords = (place: number | undefined) =>
    place === undefined ? "has no limit" : `has its limit at ${written(plain(place, 6), unit)}`;
  return { ofSheet: inWords(limit), ofPlan: inWords(ofPlan) };
}

/** A plan may have been made elsewhere: powers differ in their last digits from one engine to the next. */
const SAME = 1e-9;

const isSame = (a: number | undefined, b: number | undefined): boolean =>
  a === undefined || b === undefined ? a === b : Math.abs(a - b) <= SAME * Math.max(1, Math.abs(a), Math.abs(b));
