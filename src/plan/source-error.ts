import { halfWidth } from "../base/band.js";
import { fail, finite, options } from "../base/check.js";
import { onOwnData } from "../base/own-data.js";
import type { ChannelState, ChannelStates, Wiring } from "../base/sequence.js";
import { type Edge, type ElementSetting, inputsOf } from "../element/index.js";
import { band } from "../grading/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { definition } from "./started.js";

/** A level of an element, what is put out to make it, and how that is wired. */
export interface PutOut {
  /** The id of an element of the sheet. */
  readonly element: string;
  /** The name of a place on its boundary, such as `leading`, where the level leads to that and not to the pickup. */
  readonly edge?: string;
  /** In the unit of its setting, or of the place. */
  readonly level: number;
  readonly channels: ChannelStates;
  readonly wiring: Wiring;
}

/**
 * How far off a level may be because of the source: half-widths, one for each of its accuracies and each group of channels
 * that are set alike. Such channels are taken to err alike, and move the level as far as they do together: three voltages in
 * phase, each 0.1 V off, are 0.3 V of 3V0; where their errors would cancel they count as those of each by itself. Channels
 * that are set to different values err by themselves: of two currents that nearly cancel, each brings the whole of its error
 * into the difference.
 *
 * @param settings - From {@link settingsOf}.
 * @returns Half-widths in the unit of the level; none where the sheet declares no accuracy that moves it. What an error
 * of angle moves is not in it: a sheet declares none.
 * @throws A {@link InputError} for an element or a place that the sheet does not have, a level that is no number, and for settings and
 * channels that are none.
 * Accuracy: ten digits of the mean of what the accuracy moves upwards and downwards.
 * @source JCGM 100:2008 5.1.3
 *
 * @example
 * import { readSheet, settingsOf, sourceErrors } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 2 }, time: { percent: 5, absolute: "40 ms" } };
 * const settings = settingsOf(readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", vt: "11 kV/110 V",
 *   source: { accuracy: { voltage: { percent: 0.5 }, frequency: { absolute: "0.05 Hz" } } },
 *   elements: [{ id: "24", function: "24", watches: "line-to-neutral", pickup: 1.1, delay: "2 s", accuracy }],
 * }));
 * const channels = { v: { rms: 69.86, frequency: 50 } };
 * const wiring = { v: { quantity: "voltage", feeds: { va: 1, vb: 1, vc: 1 } } } as const;
 * const halves = sourceErrors(settings, { element: "24", level: 1.1, channels, wiring });
 * halves.map((half) => half.toFixed(4)); // → ["0.0055", "0.0011"]
 */
export function sourceErrors(settings: RelaySettings, putOut: PutOut): readonly number[] {
  const { level } = options(putOut, ["element", "edge", "level", "channels", "wiring"]);
  finite(level, "level", "a level");
  return onOwnData("settings", "settings, as `settingsOf` makes them", () => errorsAt(settings, putOut));
}

/** Less than this share of a level is rounding. */
const ROUNDING = 1e-11;

function errorsAt(settings: RelaySettings, putOut: PutOut): number[] {
  const { channels, level } = putOut;
  const shift = shiftOf(placeOf(settings, putOut), putOut);
  const halves = MOVES.flatMap((move) => {
    const tolerance = settings.sourceAccuracy[move.unit];
    if (tolerance === undefined) return [];
    const to = (names: readonly string[], sign: 1 | -1): number => {
      const moved = names.map((name): [string, ChannelState] => {
        const state = channels[name] as ChannelState;
        const value = state[move.of];
        return [name, { ...state, [move.of]: Math.max(0, value + sign * halfWidth(band(value, tolerance))) }];
      });
      return Math.abs(shift({ ...channels, ...Object.fromEntries(moved) }));
    };
    // Where one phase of several decides, a channel by itself moves the level one way only.
    const bothWays = (names: readonly string[]): number => (to(names, 1) + to(names, -1)) / 2;
    // Errors that are not quite alike are left where those that are would cancel.
    return setAlike(putOut, move).map((names) =>
      Math.max(bothWays(names), Math.hypot(...names.map((name) => bothWays([name])))),
    );
  });
  return halves.filter((half) => half > ROUNDING * Math.abs(level)).map((half) => Number(half.toPrecision(10)));
}

/** The setting of the element, and the place on its boundary to which the level leads, where it does not lead to the pickup. */
interface Place {
  readonly setting: ElementSetting;
  readonly edge?: Edge;
}

function placeOf({ elements, setup }: RelaySettings, { element, edge: name }: PutOut): Place {
  const setting = elements.find(({ id }) => id === element);
  if (setting === undefined) return fail("unknown-name", "element", "an element of the sheet", element);
  if (name === undefined) return { setting };
  const edge = definition(setting)
    .edges?.(setting, setup)
    .find((one) => one.name === name);
  return edge === undefined ? fail("unknown-name", "edge", `an edge of ${element}`, name) : { setting, edge };
}

/** By how much channels that differ a little move the level. */
function shiftOf({ setting, edge }: Place, { channels, level, wiring }: PutOut): (moved: ChannelStates) => number {
  const { unit, read } = definition(setting);
  const { movesWith } = edge ?? {};
  if (movesWith) {
    const nominal = movesWith(inputsOf(channels, wiring));
    return (moved) => movesWith(inputsOf(moved, wiring)) - nominal;
  }
  // A limit in degrees of a function in amperes: a source declares no error of angle.
  if (edge !== undefined && edge.unit !== unit) return () => 0;
  const quantityOf = (states: ChannelStates) =>
    finite(
      read(inputsOf(states, wiring), setting).quantity,
      "channels",
      "channels of which the function makes a quantity",
    );
  const nominal = quantityOf(channels);
  // Beside the pickup the quantity is counted as if it lay on the line of the pickup: both move by the same share.
  const perQuantity = nominal === 0 ? 1 : level / nominal;
  return (moved) => (quantityOf(moved) - nominal) * perQuantity;
}

interface Move {
  readonly unit: "A" | "V" | "Hz";
  readonly of: "rms" | "frequency";
  readonly quantity?: "current" | "voltage";
}

const MOVES: readonly Move[] = [
  { unit: "A", of: "rms", quantity: "current" },
  { unit: "V", of: "rms", quantity: "voltage" },
  { unit: "Hz", of: "frequency" },
];

/** Values that differ by less than this share were meant to be alike: two voltages of a fault that a cosine made. */
const ALIKE = 1e-9;

/** Channels in groups that are set to one value; what is set to 0 puts out nothing. */
function setAlike({ channels, wiring }: PutOut, { of, quantity }: Move): readonly (readonly string[])[] {
  const set = Object.entries(channels)
    .filter(([name, { [of]: value }]) => value > 0 && (quantity === undefined || wiring[name]?.quantity === quantity))
    .sort(([, one], [, other]) => one[of] - other[of]);
  const groups: string[][] = [];
  let last = 0;
  for (const [name, { [of]: value }] of set) {
    const group = groups.at(-1);
    if (group !== undefined && value - last <= ALIKE * value) group.push(name);
    else groups.push([name]);
    last = value;
  }
  return groups;
}
