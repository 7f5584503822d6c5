import { halfWidth } from "../base/band.js";
import { fail, finite, options } from "../base/check.js";
import { onOwnData } from "../base/own-data.js";
import type { ChannelState, ChannelStates, Wiring } from "../base/sequence.js";
import { inputsOf } from "../element/index.js";
import { band } from "../grading/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { definition } from "./started.js";

/** A level of an element, what is put out to make it, and how that is wired. */
export interface PutOut {
  /** The id of an element of the sheet. */
  readonly element: string;
  /** In the unit of its setting. */
  readonly level: number;
  readonly channels: ChannelStates;
  readonly wiring: Wiring;
}

/**
 * How far off a level may be because of the source, a half-width for each of its accuracies. A level in amperes, volts or
 * hertz is what the source puts out, and has the accuracy of that. One that is made of several, such as volts per hertz, a
 * power or an impedance, moves as far as each of them can move it, all channels of a quantity together.
 *
 * @param settings - From {@link settingsOf}.
 * @returns Half-widths in the unit of the setting; none where the sheet declares no accuracy that moves it. What an error
 * of angle moves is not in it: a sheet declares none.
 * @throws A {@link InputError} for an element that the sheet does not have, a level that is no number, and for settings and
 * channels that are none.
 * Accuracy: that of a difference over the accuracy itself, in which the quantity is taken to be straight.
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
  const { level } = options(putOut, ["element", "level", "channels", "wiring"]);
  finite(level, "level", "a level");
  return onOwnData("settings", "settings, as `settingsOf` makes them", () => errorsAt(settings, putOut));
}

function errorsAt({ elements, sourceAccuracy }: RelaySettings, putOut: PutOut): number[] {
  const { element, level } = putOut;
  const setting = elements.find(({ id }) => id === element);
  if (setting === undefined) return fail("unknown-name", "element", "an element of the sheet", element);
  const { unit, read } = definition(setting);
  const own = sourceAccuracy[unit];
  if (own !== undefined) return [halfWidth(band(level, own))];
  if (unit !== "1" && unit !== "W" && unit !== "ohm") return [];
  const quantityOf = (channels: ChannelStates) =>
    finite(
      read(inputsOf(channels, putOut.wiring), setting).quantity,
      "channels",
      "channels of which the function makes a quantity",
    );
  const nominal = quantityOf(putOut.channels);
  const moves = MOVES.flatMap((move) => {
    const tolerance = sourceAccuracy[move.unit];
    if (tolerance === undefined) return [];
    return [Math.abs(quantityOf(moved(putOut, move, (x) => x + halfWidth(band(x, tolerance)))) - nominal)];
  });
  return moves.filter((half) => half > 0);
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

function moved({ channels, wiring }: PutOut, { of, quantity }: Move, by: (x: number) => number): ChannelStates {
  const isMoved = (name: string) => quantity === undefined || wiring[name]?.quantity === quantity;
  return Object.fromEntries(
    Object.entries(channels).map(([name, state]): [string, ChannelState] => [
      name,
      isMoved(name) ? { ...state, [of]: by(state[of]) } : state,
    ]),
  );
}
