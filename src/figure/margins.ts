/** The time between neighbours in series: bars where it is tightest, and where the upstream relay operates alone. */
import type { Amperes, Seconds } from "../base/units.js";
import { type CurrentRange, coordinationMargin, type MarginAllowance, type SeriesRelay } from "../curve/index.js";
import { calledHere } from "./called-here.js";
import { type Anchor, labelRows, markAt, type Placed, placeLabels } from "./labels.js";
import { brokenInto } from "./lines.js";
import { ink, plainText, soft } from "./look.js";
import { labelLayers, pointLayer, rectLayer, ruleLayer } from "./marks.js";
import { pixelOf, type Scale, valueAtPixel } from "./scale.js";
import type { FigureLayer } from "./specification.js";
import { besidePanel, type DrawnSeries, HEIGHT, linesOf, type TimeAxes, WIDTH } from "./time-panel.js";

/** Two neighbours. */
export interface Margin {
  /** `F12 to Incomer` */
  readonly name: string;
  /** Where the margin is tightest; absent where there is none, or where it falls without bound towards a start. */
  readonly bar?: { readonly current: Amperes; readonly downstream: Seconds; readonly upstream: Seconds };
  /** The margin in figures. */
  readonly size: string;
  /** What is required of it, `, 0.3 s required`; empty where nothing is. */
  readonly required: string;
  /** Beside the bar: the same without what is required where that is one figure for all. */
  readonly beside: string;
  readonly aloneUpTo?: Amperes;
  /** What is to be said of currents at which there is no such margin. */
  readonly remark: string;
}

/** From the load towards the source. */
export interface NamedRelay {
  readonly name: string;
  readonly relay: SeriesRelay;
}

/** What is asked about all pairs. */
export interface MarginsAsked {
  readonly currents: CurrentRange;
  readonly required?: Seconds | MarginAllowance;
}

/** The margins between each two neighbours, on an axis of times. */
export const marginsOf = (relays: readonly NamedRelay[], asked: MarginsAsked, times: Scale): Margin[] =>
  relays
    .slice(1)
    .map((up, i) =>
      calledHere({ upstream: `relays[${i + 1}].relay`, downstream: `relays[${i}].relay` }, () =>
        marginOf([relays[i] as NamedRelay, up], asked, times),
      ),
    );

function marginOf(
  [down, up]: readonly [NamedRelay, NamedRelay],
  { currents, required }: MarginsAsked,
  times: Scale,
): Margin {
  const { tightest, smallest, aloneUpTo } = coordinationMargin({
    upstream: up.relay,
    downstream: down.relay,
    currents,
    ...(required !== undefined && { required }),
  });
  const name = `${down.name} to ${up.name}`;
  const loud = required === undefined ? "" : ", NOT KEPT";
  const alone = aloneUpTo === undefined ? "" : `up to ${short(aloneUpTo)} A ${up.name} operates alone${loud}`;
  const shade = aloneUpTo === undefined ? {} : { aloneUpTo };
  const without = { name, size: "", required: "", beside: "", ...shade };
  const point = tightest ?? smallest;
  if (point?.upstream === undefined || point.downstream === undefined || point.margin === undefined)
    return { ...without, remark: alone };
  const { current, upstream, downstream, margin } = point;
  // Right beyond its start the downstream relay takes any time, and the margin there says nothing.
  if (margin < 0 && downstream > times.domain[1])
    return { ...without, remark: alone || `right above ${short(current)} A ${up.name} operates first${loud}` };
  const size = `${short(margin)} s`;
  const kept = (point.spare ?? 0) < 0 ? ", NOT KEPT" : "";
  const need = point.required === undefined ? "" : `, ${short(point.required)} s required`;
  const beside = typeof required === "number" ? `${size}${kept}` : `${size}${need}${kept}`;
  const bar = { current, upstream, downstream };
  return { name, bar, size, required: `${need}${kept}`, beside, ...shade, remark: alone };
}

const short = (x: number): number => Number(x.toPrecision(4));

/** `F12 to Incomer 0.4479 s at 6000 A, 0.3 s required` */
export const inAllWords = ({ name, bar, size, required, remark }: Margin): string =>
  [
    ...(bar === undefined ? [] : [`${name} ${size} at ${short(bar.current)} A${required}`]),
    ...(remark === "" ? [] : [`${name}: ${remark}`]),
  ].join("; ");

/** The panel in which margins are drawn. */
export interface MarginPanel {
  readonly series: readonly DrawnSeries[];
  readonly scale: Scale;
  readonly times: Scale;
}

/** What is said of a margin beside its bar, or of the currents at which there is none. */
interface Said {
  readonly margin: Margin;
  readonly anchor: Anchor;
  /** Absent where there is no room. */
  readonly place: Placed | undefined;
}

/** The lines under the title: what bars and shades mean, and what found no room in the panel. */
export function marginKey(
  margins: readonly Margin[],
  panel: MarginPanel,
  required: MarginsAsked["required"],
): string[] {
  const bars = margins.some(({ bar }) => bar !== undefined);
  const shades = margins.some(({ aloneUpTo }) => aloneUpTo !== undefined);
  const wanted = typeof required === "number" ? `, ${short(required)} s required` : "";
  const key = [
    ...(bars
      ? [`Bars: the ${required === undefined ? "smallest" : "tightest"} margin between neighbours${wanted}`]
      : []),
    ...(shades ? [`${bars ? "s" : "S"}haded: the upstream relay operates alone`] : []),
  ];
  const unplaced = saidIn(margins, panel).flatMap(({ margin, place }) => (place === undefined ? [margin] : []));
  return [...(key.length === 0 ? [] : [key.join(" · ")]), ...[...new Set(unplaced)].map(inAllWords)];
}

/** Labels are no wider than so many characters. */
const MOST_CHARACTERS = 30;
const lines = (text: string): string => brokenInto(plainText(text), MOST_CHARACTERS).join("\n");

function saidIn(margins: readonly Margin[], { series, scale, times }: MarginPanel): Said[] {
  const across = (current: Amperes) => pixelOf(scale, current, WIDTH);
  const heightOf = (time: Seconds) => pixelOf(times, held(time, times), HEIGHT);
  const nameOf = ({ name }: Margin) => (margins.length > 1 ? `${lines(name)}\n` : "");
  const bars = margins.flatMap((margin) => {
    if (margin.bar === undefined) return [];
    const { current, downstream, upstream } = margin.bar;
    const [low, high] = [heightOf(downstream), heightOf(upstream)].sort((a, b) => a - b) as [number, number];
    return [{ margin, x: across(current), low, high }];
  });
  const said = [
    ...bars.map(({ margin, x, low, high }) => ({
      margin,
      anchor: { x, y: (low + high) / 2, text: `${nameOf(margin)}${lines(margin.beside)}` },
    })),
    ...margins
      .filter(({ remark }) => remark !== "")
      .map((margin, i) => ({
        margin,
        anchor: {
          x: across(margin.aloneUpTo ?? scale.domain[0]),
          y: HEIGHT * (0.1 + 0.15 * i),
          text: `${nameOf(margin)}${lines(margin.remark)}`,
        },
      })),
  ].map(({ margin, anchor }) => ({ margin, anchor: { ...anchor, isBold: true, reach: 12 } }));
  const places = placeLabels(
    said.map(({ anchor }) => anchor),
    {
      width: WIDTH,
      height: HEIGHT,
      avoid: linesOf(series, scale, times),
      blocked: [
        ...bars.flatMap(({ x, low, high }) => [
          { left: x - 4, right: x + 4, low, high },
          markAt({ x, y: low }),
          markAt({ x, y: high }),
        ]),
        besidePanel,
      ],
    },
  );
  return said.map((one, i) => ({ ...one, place: places[i] }));
}

/** A bar from curve to curve with its length beside it; a shade over the currents at which one relay operates alone. */
export function marginLayers(margins: readonly Margin[], panel: MarginPanel, { x, y }: TimeAxes): FigureLayer[] {
  const { scale, times } = panel;
  const on = { x: x("current"), y: y("time") };
  const rows = margins.flatMap(({ bar }) =>
    bar === undefined
      ? []
      : [{ current: bar.current, time: held(bar.downstream, times), upstream: held(bar.upstream, times) }],
  );
  const ends = rows.flatMap(({ current, time, upstream }) => [time, upstream].map((end) => ({ current, time: end })));
  const shades = margins.flatMap(({ aloneUpTo }) =>
    aloneUpTo === undefined ? [] : [{ current: scale.domain[0], to: aloneUpTo }],
  );
  const said = saidIn(margins, panel);
  const labels = labelRows(
    said.map(({ anchor }) => anchor),
    said.map(({ place }) => place),
    (place) => ({ current: valueAtPixel(scale, place.x, WIDTH), time: valueAtPixel(times, place.y, HEIGHT) }),
  );
  return [
    rectLayer("alone", shades, { x: on.x, x2: { field: "to" } }, { color: soft, opacity: 0.14 }),
    ruleLayer(
      "alone up to",
      shades.map(({ to }) => ({ current: to })),
      { x: on.x },
      { strokeDash: [3, 3], strokeWidth: 1.5 },
    ),
    ruleLayer("margins", rows, { ...on, y2: { field: "upstream" } }, { strokeWidth: 3, color: ink }),
    pointLayer("margin ends", ends, on, { shape: "stroke", size: 180, strokeWidth: 3, filled: false }),
    ...labelLayers("margin labels", labels, on, { fontWeight: "bold" }),
  ];
}

/** No bar leaves the panel. */
const held = (time: Seconds, { domain: [low, high] }: Scale): Seconds => Math.min(Math.max(time, low), high);
