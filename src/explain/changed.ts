/** What a cause makes different: fields of the setting, its time law, or where the leads of the source go. */
import { eachChannel, type Wiring } from "../base/sequence.js";
import type { CurveSetting } from "../curve/index.js";
import { definitionOf, type ElementSetting, type LevelUnit } from "../element/index.js";
import type { Situation } from "./situation.js";

/** The unit of a setting. */
export const unitOf = (setting: ElementSetting): LevelUnit => definitionOf(setting.function).unit;

/** Fields that the relay has otherwise than the sheet; they are those of its function. */
export const changed = (fields: object): Partial<Situation> => ({
  setting: (asOnSheet) => ({ ...asOnSheet, ...fields }) as ElementSetting,
});

/** A time law that the relay has otherwise than the sheet. */
export const changedLaw = (fields: Partial<CurveSetting>): Partial<Situation> => ({
  setting: (asOnSheet) => ({ ...asOnSheet, law: { ...asOnSheet.law, ...fields } }),
});

/** Every lead of the source, to another input or by another factor. */
export const eachLead = (
  wiring: Wiring,
  lead: (input: string, factor: number) => [input: string, factor: number],
): Wiring =>
  eachChannel(wiring, ({ quantity, feeds }) => ({
    quantity,
    feeds: Object.fromEntries(Object.entries(feeds).map(([input, factor]) => lead(input, factor))),
  }));
