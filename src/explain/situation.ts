/** What may really be the case: the sheet and the readings, each transformed or left as it is. */
import type { Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../plan/index.js";
import type { CauseName } from "../record/index.js";
import type { Taken } from "./taken.js";

/** How the relay is set, and how what is written stands to what is. */
export interface Situation {
  /** The settings that the relay really has. */
  readonly setting: (asOnSheet: ElementSetting) => ElementSetting;
  /** How the channels of the source are really wired to the relay. */
  readonly wired: (asPlanned: Wiring, taken: Taken) => Wiring;
  /** The quantity that the relay sees where a level is written. */
  readonly seen: (level: number, taken: Taken) => number;
  /** The level that is written where the relay sees a quantity: `seen`, backwards. */
  readonly levelWritten: (quantity: number, taken: Taken) => number;
  /** When the contact that stops the clock closes, where the element operates at a time; `Infinity` for never. */
  readonly contactTime: (time: Seconds, taken: Taken) => Seconds;
  /** What is written for the time of the contact. */
  readonly timeWritten: (time: Seconds, taken: Taken) => Seconds;
}

const same = <T>(x: T): T => x;

/** Everything is as the sheet and the readings say. */
export const AS_WRITTEN: Situation = /* @__PURE__ */ Object.freeze({
  setting: (asOnSheet: ElementSetting) => asOnSheet,
  wired: same,
  seen: same,
  levelWritten: same,
  contactTime: same,
  timeWritten: same,
});

/** A number that the readings are asked for. */
export interface Free {
  readonly name: string;
  readonly unit: string;
  readonly from: number;
  readonly to: number;
  /** What the sheet says: it is looked for by ratio, most closely around this. */
  readonly around?: number;
  /** The step in which it is set. */
  readonly step?: number;
  /** It is an angle that comes round: both ends are the same. */
  readonly turns?: true;
}

/** One way in which a cause may be at work. */
export interface Way {
  /** Which one, where there are several. */
  readonly which?: string;
  readonly free?: Free;
  /** What is different, at a value of the free number. */
  readonly differs: (x: number) => Partial<Situation>;
  /** In words, as a possibility. */
  readonly says: (x: number) => string;
}

/** The element that failed, and the relay that it belongs to. */
export interface Suspect {
  readonly setting: ElementSetting;
  readonly settings: RelaySettings;
}

/** A possible cause as a definition; adding one adds no branch elsewhere. */
export interface Cause {
  readonly name: Exclude<CauseName, "unexplained">;
  /** Which elements it touches beside the suspect one: what they read supports or contradicts it. */
  readonly touches: "element" | "contact" | "relay";
  /** What to look at, in words: never what to change. */
  readonly lookAt: string;
  readonly ways: (suspect: Suspect) => readonly Way[];
}

/** Each setting is made once, so that what follows from it can be kept with it. */
function onceEach(situation: Situation): Situation {
  const made = new Map<ElementSetting, ElementSetting>();
  return {
    ...situation,
    setting: (asOnSheet) => {
      const known = made.get(asOnSheet) ?? situation.setting(asOnSheet);
      made.set(asOnSheet, known);
      return known;
    },
  };
}

/** The situation of one way; what touches the element or its contact alone leaves all others as they are written. */
export function situationOf(cause: Cause, way: Way, x: number, suspect: Suspect): Situation {
  const differs = onceEach({ ...AS_WRITTEN, ...way.differs(x) });
  if (cause.touches === "relay") return differs;
  const { id, contact } = suspect.setting;
  const isOwn = ({ setting, check }: Taken) =>
    cause.touches === "contact" ? check.contact === contact : setting.id === id;
  const own = (taken: Taken) => (isOwn(taken) ? differs : AS_WRITTEN);
  return {
    setting: (asOnSheet) => (asOnSheet.id === id ? differs.setting(asOnSheet) : asOnSheet),
    wired: (asPlanned, taken) => own(taken).wired(asPlanned, taken),
    seen: (level, taken) => own(taken).seen(level, taken),
    levelWritten: (quantity, taken) => own(taken).levelWritten(quantity, taken),
    contactTime: (time, taken) => own(taken).contactTime(time, taken),
    timeWritten: (time, taken) => own(taken).timeWritten(time, taken),
  };
}
