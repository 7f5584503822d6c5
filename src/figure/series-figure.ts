import { fail, finite, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Amperes, Seconds } from "../base/units.js";
import {
  type CurrentRange,
  coordinationMargin,
  type MarginAllowance,
  type MarginPoint,
  type SeriesRelay,
} from "../curve/index.js";
import { type AcceptedTimes, bandsAt, cornersOf, evenMultiples, timesAt } from "./curve-samples.js";
import { placeLabels } from "./labels.js";
import { ink, single } from "./look.js";
import { labelLayers, pointLayer, ruleLayer } from "./marks.js";
import { logScale, pixelOf, type Scale, valueAtPixel } from "./scale.js";
import type { FigureLayer, SingleFigure } from "./specification.js";
import { type DrawnSeries, HEIGHT, type TimeAxes, timePanel, WIDTH } from "./time-panel.js";

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
 * `coordinationMargin`.
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
  const checked = [...relays].map((relay: RelayInSeries, i) =>
    within(`relays[${i}]`, () => checkedRelay(relay, currents)),
  );
  const margins = checked.slice(1).flatMap((upstream, i) => marginOf(checked[i] as RelayInSeries, upstream, i, given));
  const series = checked.map((relay, i) => within(`relays[${i}]`, () => seriesOf(relay, currents)));
  const scale = logScale([currents.from, currents.to], true);
  const panel = timePanel({
    field: "current",
    title: "Primary current (A)",
    scale,
    series,
    more: (axes) => marginLayers(margins, axes, scale),
  });
  const ends = series.map(({ name, curve }) => {
    const last = curve.at(-1) as { at: number; time: number };
    return `${name}: ${short(last.time)} s at ${short(last.at)} A.`;
  });
  const between = margins.map(
    ({ name, point, required: need }) => `${name} ${marginInWords(point)} at ${short(point.current)} A${need}`,
  );
  const words = between.length === 0 ? "" : ` Margins: ${between.join("; ")}.`;
  const subtitle =
    margins.length === 0
      ? []
      : [`Bars: the ${required === undefined ? "smallest" : "tightest"} margin between neighbours`];
  return single({ title, subtitle, description: `${title}. ${ends.join(" ")}${words}` }, panel);
}

function checkedRelay(given: RelayInSeries, currents: CurrentRange): RelayInSeries {
  const { name, relay } = options(given, ["name", "relay", "accepted"]);
  text(name, "name", "the name of a relay");
  options(currents, ["from", "to"], "currents");
  finite(currents.from, "currents.from", "a current in A");
  finite(currents.to, "currents.to", "a current in A");
  if (!(currents.to > currents.from))
    fail("out-of-range", "currents.to", `a current above ${currents.from} A`, currents.to);
  // Held against itself it is checked as coordinationMargin checks its relays.
  within("relay", () => within("", () => coordinationMargin({ upstream: relay, downstream: relay, currents })));
  return given;
}

interface Margin {
  readonly name: string;
  readonly point: MarginPoint & { readonly upstream: Seconds; readonly downstream: Seconds; readonly margin: Seconds };
  readonly required: string;
}

function marginOf(
  down: RelayInSeries,
  up: RelayInSeries,
  i: number,
  { currents, required }: SeriesFigureOptions,
): Margin[] {
  const asked = { upstream: up.relay, downstream: down.relay, currents, ...(required !== undefined && { required }) };
  const { tightest, smallest } = within(`relays[${i + 1}]`, () => coordinationMargin(asked));
  const point = tightest ?? smallest;
  if (point?.upstream === undefined || point.downstream === undefined || point.margin === undefined) return [];
  const { upstream, downstream, margin, required: need, spare = 0 } = point;
  const wanted = need === undefined ? "" : `, ${short(need)} s required${spare < 0 ? ", NOT KEPT" : ""}`;
  return [{ name: `${down.name} to ${up.name}`, point: { ...point, upstream, downstream, margin }, required: wanted }];
}

const short = (x: number): number => Number(x.toPrecision(4));
const marginInWords = ({ margin }: Margin["point"]): string => `${short(margin)} s`;

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

/** A bar from curve to curve, with its length beside it. */
function marginLayers(margins: readonly Margin[], { x, y, times }: TimeAxes, scale: Scale): FigureLayer[] {
  const on = { x: x("current"), y: y("time") };
  const rows = margins.map(({ point }) => ({
    current: point.current,
    time: point.downstream,
    upstream: point.upstream,
  }));
  const ends = margins.flatMap(({ point }) =>
    [point.downstream, point.upstream].map((time) => ({ current: point.current, time })),
  );
  const anchors = margins.map(({ point, required }) => ({
    x: pixelOf(scale, point.current, WIDTH),
    y: pixelOf(times, Math.sqrt(point.downstream * point.upstream), HEIGHT),
    text: `${marginInWords(point)}${required}`,
  }));
  const labels = placeLabels(anchors, { width: WIDTH, height: HEIGHT, avoid: [] }).map((place, i) => ({
    current: valueAtPixel(scale, place.x, WIDTH),
    time: valueAtPixel(times, place.y, HEIGHT),
    label: anchors[i]?.text ?? "",
  }));
  return [
    ruleLayer("margins", rows, { ...on, y2: { field: "upstream" } }, { strokeWidth: 3, color: ink }),
    pointLayer("margin ends", ends, on, { shape: "stroke", size: 180, strokeWidth: 3, filled: false }),
    ...labelLayers("margin labels", labels, on, { fontWeight: "bold" }),
  ];
}
