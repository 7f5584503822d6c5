import { above, fail, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Amperes, Seconds } from "../base/units.js";
import { type CurrentRange, coordinationMargin, type MarginAllowance, type SeriesRelay } from "../curve/index.js";
import { calledHere } from "./called-here.js";
import { type AcceptedTimes, bandsAt, cornersOf, evenMultiples, timesAt } from "./curve-samples.js";
import { single } from "./look.js";
import { inAllWords, marginKey, marginLayers, marginsOf } from "./margins.js";
import { logScale } from "./scale.js";
import type { SingleFigure } from "./specification.js";
import { type DrawnSeries, scaleOfTimes, timePanel } from "./time-panel.js";

/** One of several relays in series. */
export interface RelayInSeries {
  readonly name: string;
  readonly relay: SeriesRelay;
  /** Where this is given, what is accepted of its times is drawn as a band. */
  readonly accepted?: AcceptedTimes;
}

/** Which relays, over which currents. */
export interface SeriesFigureOptions {
  readonly title: string;
  /** One relay or more, from the load towards the source. */
  readonly relays: readonly RelayInSeries[];
  /** Primary amperes, above 0. */
  readonly currents: CurrentRange;
  /** The margin that is required between neighbours: seconds, or what it allows for. */
  readonly required?: Seconds | MarginAllowance;
}

/**
 * The curves of relays in series over one axis of primary current, with the margin between each two neighbours where it is
 * tightest: against what is required where that is given, else where it is smallest.
 *
 * Every point of a line is `operateTime` at current over pickup in primary amperes; the margins are those of
 * `coordinationMargin`. Where the upstream relay operates alone, the currents are shaded and the figure says up to where;
 * where the margin falls without bound towards a start, it has no bar.
 *
 * @returns A Vega-Lite specification.
 * @throws A {@link InputError} as `coordinationMargin` does, and for a relay that operates nowhere in the range.
 * @source common practice; colours: Okabe and Ito, Color Universal Design (2008)
 *
 * @example
 * import { seriesFigure } from "tripwright/figure";
 * const very = (multiplier: number) => ({ curve: "iec-very-inverse", multiplier }) as const;
 * const figure = seriesFigure({
 *   title: "Tannery Lane and its incomer",
 *   relays: [
 *     { name: "F12", relay: { setting: very(0.2), pickup: 320 } },
 *     { name: "Incomer", relay: { setting: very(0.4), pickup: 600 } },
 *   ],
 *   currents: { from: 800, to: 6000 },
 *   required: 0.3,
 * });
 * figure.description.split(" Margins: ")[1]; // → "F12 to Incomer 0.4479 s at 6000 A, 0.3 s required."
 */
export function seriesFigure(given: SeriesFigureOptions): SingleFigure {
  const { title, relays, currents, required } = options(given, ["title", "relays", "currents", "required"]);
  text(title, "title", "a title");
  if (!Array.isArray(relays) || relays.length === 0)
    fail(relays === undefined ? "missing" : "wrong-type", "relays", "a list of one relay or more", relays);
  checkRange(currents);
  const checked = [...relays].map((relay: RelayInSeries, i) => checkedRelay(relay, `relays[${i}]`, currents));
  const series = checked.map((relay, i) => within(`relays[${i}]`, () => seriesOf(relay, currents)));
  const times = scaleOfTimes(series);
  const margins = marginsOf(checked, given, times);
  const scale = logScale([currents.from, currents.to], true);
  const panel = timePanel({
    field: "current",
    title: "Primary current (A)",
    scale,
    series,
    more: (axes) => marginLayers(margins, { series, scale, times }, axes),
  });
  const ends = series.map(({ name, curve }) => {
    const last = curve.at(-1) as { at: number; time: number };
    return `${name}: ${short(last.time)} s at ${short(last.at)} A.`;
  });
  const between = margins.map(inAllWords).filter((words) => words !== "");
  const words = between.length === 0 ? "" : ` Margins: ${between.join("; ")}.`;
  const subtitle = marginKey(margins, { series, scale, times }, required);
  return single({ title, subtitle, description: `${title}. ${ends.join(" ")}${words}` }, panel);
}

function checkRange(currents: CurrentRange): void {
  options(currents, ["from", "to"], "currents");
  above(currents.from, 0, "currents.from", "a current", "A");
  above(currents.to, currents.from, "currents.to", "a current", "A");
}

function checkedRelay(given: RelayInSeries, path: string, currents: CurrentRange): RelayInSeries {
  const { name, relay } = options(given, ["name", "relay", "accepted"], path);
  text(name, `${path}.name`, "the name of a relay");
  // Held against itself it is checked as coordinationMargin checks its relays.
  calledHere({ upstream: `${path}.relay` }, () => coordinationMargin({ upstream: relay, downstream: relay, currents }));
  return given;
}

const short = (x: number): number => Number(x.toPrecision(4));

/** Primary amperes at the multiple 1. */
const baseOf = ({ pickup, ct = { primary: 1, secondary: 1 } }: SeriesRelay): Amperes =>
  (pickup * ct.primary) / ct.secondary;

function seriesOf({ name, relay, accepted }: RelayInSeries, { from, to }: CurrentRange): DrawnSeries {
  const base = baseOf(relay);
  const { setting } = relay;
  const starts = (setting.startRatio ?? 1) * 1.02 * base;
  const currents = [
    ...evenMultiples([Math.max(from, Math.min(starts, to)), to], "log"),
    ...cornersOf(setting, accepted).map((multiple) => multiple * base),
  ]
    .filter((current) => current >= from && current <= to)
    .sort((a, b) => a - b);
  const at = (current: Amperes) => current / base;
  const curve = within("relay.setting", () =>
    currents.flatMap((current) => timesAt(setting, [at(current)]).map(({ time }) => ({ at: current, time }))),
  );
  if (curve.length < 2) fail("out-of-range", "relay", `a relay that operates between ${from} and ${to} A`, name);
  const band = currents.flatMap((current) =>
    accepted === undefined
      ? []
      : within("accepted", () => bandsAt(setting, [at(current)], accepted)).map(({ multiple: _, ...limits }) => ({
          at: current,
          ...limits,
        })),
  );
  return { name, curve, band, readings: [] };
}
