/** What contacts did, one lane for each, and how long the operation took. */
import type { Seconds } from "../base/units.js";
import type { ContactEvent } from "../timeline/index.js";
import { widthOf } from "./labels.js";
import { plainText } from "./look.js";
import { labelLayers, pointLayer, rectLayer, ruleLayer } from "./marks.js";
import { pixelOf, positionOn, type Scale, valueAtPixel } from "./scale.js";
import type { FigureView } from "./specification.js";
import { boundaries, type TimeBase, timeAxis, WIDTH } from "./time-axis.js";

const LANE = 34;

interface Lane {
  readonly contact: string;
  /** In order of time. */
  readonly events: readonly ContactEvent[];
}

/** An operation with its time. */
export interface TimedOperation {
  readonly operateTime: Seconds;
  /** Seconds since the start of the run. */
  readonly elapsed: Seconds;
}

/** The panel; bars while a contact is closed, a mark and the instant at each change. */
export function contactPanel(
  events: readonly ContactEvent[],
  timed: readonly TimedOperation[],
  base: TimeBase,
): FigureView {
  const lanes = lanesOf(events);
  const count = lanes.length + (timed.length > 0 ? 1 : 0);
  const scale: Scale = { type: "linear", domain: [0, count], ticks: [], labelled: [] };
  const y = positionOn(scale, { title: "Contacts", more: { minExtent: 44, maxExtent: 44, domain: false } });
  const on = { x: timeAxis(base, true)("time"), y: y("value") };
  const bottomOf = (lane: number) => count - 1 - lane;
  const bars = lanes.flatMap((lane, i) =>
    closedIn(lane, base.scale.domain[1]).map((bar) => ({ ...bar, value: bottomOf(i) + 0.12, top: bottomOf(i) + 0.38 })),
  );
  const changes = lanes.flatMap(({ events: own }, i) =>
    own.filter(({ at }) => at > 0).map((event) => ({ event, value: bottomOf(i) })),
  );
  const took = timed.map(({ operateTime, elapsed }) => ({ time: elapsed - operateTime, end: elapsed, value: 0.25 }));
  const labels = [
    ...lanes.flatMap((lane, i) => apart(laneLabels(lane, bottomOf(i)), base.scale)),
    ...timed
      .map(({ operateTime, elapsed }) => label(elapsed - operateTime, 0, `operate time ${short(operateTime)} s`))
      .map((row) => inPanel(row, base.scale)),
  ];
  return {
    name: "contacts",
    width: WIDTH,
    height: LANE * count,
    layer: [
      ...boundaries(base, scale, false, on),
      rectLayer("closed", bars, { ...on, x2: { field: "end" }, y2: { field: "top" } }, { color: "#7f7f7f" }),
      ruleLayer(
        "changes",
        changes.map(({ event, value }) => ({ time: event.at, value: value + 0.05, top: value + 0.45 })),
        { ...on, y2: { field: "top" } },
        { strokeWidth: 2.5 },
      ),
      ruleLayer("operate times", took, { ...on, x2: { field: "end" } }, { strokeWidth: 2 }),
      pointLayer(
        "operate time ends",
        took.flatMap(({ time, end, value }) => [
          { time, value },
          { time: end, value },
        ]),
        on,
        { shape: "stroke", angle: 90, filled: false, size: 80, strokeWidth: 2 },
      ),
      ...labelLayers(
        "contact labels",
        labels.map((row) => ({ ...row })),
        on,
      ),
    ],
  };
}

const short = (x: number): number => Number(x.toPrecision(6));

interface LaneLabel {
  readonly time: Seconds;
  readonly value: number;
  readonly label: string;
}

const label = (time: Seconds, bottom: number, text: string): LaneLabel => ({
  time,
  value: bottom + 0.7,
  label: plainText(text),
});

/** `trip closed 1.36 s, open 1.4 s`: a change, and the one that undoes it. */
function laneLabels({ contact, events }: Lane, bottom: number): LaneLabel[] {
  const inWords = ({ at, to }: ContactEvent) => (at <= 0 ? to : `${to} ${short(at)} s`);
  return events.flatMap((event, i) => {
    const [before, after] = [events[i - 1], events[i + 1]];
    if (event.to === "open" && before !== undefined) return [];
    const back = event.to === "closed" && after !== undefined ? `, ${inWords(after)}` : "";
    return [label(Math.max(0, event.at), bottom, `${contact} ${inWords(event)}${back}`)];
  });
}

/** Those that do not run into the one before; the description of the figure names every change. */
function apart(labels: readonly LaneLabel[], scale: Scale): LaneLabel[] {
  let free = Number.NEGATIVE_INFINITY;
  return labels
    .map((row) => inPanel(row, scale))
    .filter((row) => {
      const left = pixelOf(scale, row.time, WIDTH);
      if (left < free) return false;
      free = left + widthOf(row.label);
      return true;
    });
}

/** Begins at its instant, or further left where it would leave the panel. */
function inPanel(row: LaneLabel, scale: Scale): LaneLabel {
  const pixel = Math.min(pixelOf(scale, row.time, WIDTH), WIDTH - widthOf(row.label));
  return { ...row, time: valueAtPixel(scale, Math.max(0, pixel), WIDTH) };
}

function lanesOf(events: readonly ContactEvent[]): Lane[] {
  const sorted = [...events].sort((a, b) => a.at - b.at);
  return [...new Set(sorted.map(({ contact }) => contact))].map((contact) => ({
    contact,
    events: sorted.filter((event) => event.contact === contact).filter((event, i, own) => event.to !== own[i - 1]?.to),
  }));
}

/** From when to when a contact was closed; before its first change it stood the other way. */
function closedIn({ events }: Lane, end: Seconds): { time: Seconds; end: Seconds }[] {
  const before = events[0]?.to === "open" && events[0].at > 0 ? [{ time: 0, end: events[0].at }] : [];
  return [
    ...before,
    ...events.flatMap(({ at, to }, i) =>
      to === "closed" ? [{ time: Math.max(0, at), end: events[i + 1]?.at ?? end }] : [],
    ),
  ];
}
