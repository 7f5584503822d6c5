/** What to mind in a check: ratings that are exceeded, or that nobody gave. */

import type { Timeline } from "../base/sequence.js";
import { plain } from "../base/written.js";
import type { RelaySettings } from "../sheet/index.js";
import { type ChannelLimits, checkInput } from "../timeline/index.js";
import { exceedancesOf } from "./beyond-source.js";

const SUSTAINED = 4;

/** Whether a current is more than an input usually carries for long; what the input really stands is not on the sheet. */
export const heats = (current: number, { setup: { ratedCurrent } }: RelaySettings): boolean =>
  ratedCurrent !== undefined && current > SUSTAINED * ratedCurrent;

/** What to mind in one check. */
export function cautionsOf(timeline: Timeline, settings: RelaySettings): string[] {
  const { exceedances, notChecked } = checkInput(timeline, settings.inputRatings);
  const tooMuch = exceedances.map(
    ({ rating, input, at, amount, allowed, unit }) =>
      `Beyond the ${rating === "shortTime" ? "short-time" : rating} rating of input ${input} after ${plain(at, 4)} s: ${plain(amount, 4)} of ${plain(allowed, 4)} ${unit}. Do not inject it as it is.`,
  );
  // A voltage is there for as long as it takes: its continuous rating is the one that counts.
  const unknown = (input: string) =>
    (input.startsWith("v") ? ["continuous"] : ["continuous", "shortTime"]).some((rating) =>
      notChecked.includes(`inputs.${input}.${rating}`),
    );
  const fed = Object.values(timeline.wiring);
  const isUnknown = (quantity: "current" | "voltage") =>
    fed.some(({ quantity: own, feeds }) => own === quantity && Object.keys(feeds).some(unknown));
  return [...tooMuch, ...tooLong(timeline, settings), ...unchecked(timeline, settings, isUnknown)];
}

const dutyAlone = ({ duty }: ChannelLimits = {}): ChannelLimits => (duty === undefined ? {} : { duty });

/** What the source holds only for a time. */
function tooLong(timeline: Timeline, { sourceLimits: { current, voltage } }: RelaySettings): string[] {
  return exceedancesOf(timeline, { current: dutyAlone(current), voltage: dutyAlone(voltage) }).map(
    ({ channel, above, amount, allowed, unit }) =>
      `Up to ${plain(amount, 4)} s above ${plain(above as number, 4)} ${timeline.wiring[channel]?.quantity === "voltage" ? "V" : "A"} on channel ${channel}, the source holds it for ${plain(allowed, 4)} ${unit}: let it rest, and do not wait longer than that for the relay.`,
  );
}

/** Of rated voltage: inputs usually stand a little more for ever, and no default is known. */
const HIGH = 1.2;

/** The largest rms value that one channel puts on an input to neutral. */
function largestToNeutral({ segments, wiring }: Timeline): number {
  const shares = (name: string) =>
    ["va", "vb", "vc"].map((input) => Math.abs(wiring[name]?.feeds[input] ?? 0)).reduce((a, b) => Math.max(a, b));
  const values = segments.flatMap(({ channels }) =>
    Object.entries(channels).map(([name, { rms }]) => rms * shares(name)),
  );
  return Math.max(0, ...values);
}

/** The largest rms value that a timeline asks of a channel of a quantity. */
function largest({ segments, wiring }: Timeline, quantity: "current" | "voltage"): number {
  const values = segments.flatMap(({ channels }) =>
    Object.entries(channels).map(([name, { rms }]) => (wiring[name]?.quantity === quantity ? rms : 0)),
  );
  return Math.max(0, ...values);
}

/** High levels on inputs whose ratings nobody gave. */
function unchecked(
  timeline: Timeline,
  settings: RelaySettings,
  isUnknown: (quantity: "current" | "voltage") => boolean,
): string[] {
  const current = largest(timeline, "current");
  const voltage = largest(timeline, "voltage");
  const { setup } = settings;
  const toNeutral = largestToNeutral(timeline);
  return [
    ...(heats(current, settings) && isUnknown("current")
      ? [
          `${plain(current, 4)} A is ${plain(current / (setup.ratedCurrent as number), 4)} × rated; the thermal rating of the input is not on the sheet and was not checked.`,
        ]
      : []),
    ...(setup.ratedVoltage !== undefined &&
    (voltage > HIGH * setup.ratedVoltage || toNeutral > (HIGH * setup.ratedVoltage) / Math.sqrt(3)) &&
    isUnknown("voltage")
      ? [
          `${plain(voltage, 4)} V on one channel; the continuous rating of the input is not on the sheet and was not checked.`,
        ]
      : []),
  ];
}
