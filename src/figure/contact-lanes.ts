/** What contacts did, one lane for each, and how long the operation took. */
import type { Seconds } from "../base/units.js";
import { type Change, type Lane, standingAt } from "./contact-changes.js";
import { widthOf } from "./labels.js";
import { plainText } from "./look.js";
import { labelLayers, pointLayer, rectLayer, ruleLayer } from "./marks.js";
import { pixelOf, positionOn, type Scale, valueAtPixel } from "./scale.js";
import type { FigureView } from "./specification.js";
import { boundaries, type TimeBase, timeAxis, WIDTH } from "./time-axis.js";

const LANE = 34;

/** An operation with its time. */
export interface TimedOperation {
  readonly operateTime: Seconds;
  /** Seconds since the start of the run. */
  readonly elapsed: Seconds;
}

/** The panel; bars while a contact is closed, a mark and the instant at each change. */
export function contactPanel(lanes: readonly Lane[], timed: readonly TimedOperation[], base: TimeBase): FigureView {
  const count = lanes.length + (timed.length > 0 ? 1 : 0);
  const scale: Scale = { type: "linear", domain: [0, count], ticks: [], labelled: [] };
  const y = positionOn(scale, { title: "Contacts", more: { minExtent: 44, maxExtent: 44, domain: false } });
  const on = { x: timeAxis(base, true)("time"), y: y("value") };
  const window = base.scale.domain;
  const bottomOf = (lane: number) => count - 1 - lane;
  const bars = lanes.flatMap((lane, i) =>
    inWindow(closedIn(lane), window).map((bar) => ({ ...bar, value: bottomOf(i) + 0.12, top: bottomOf(i) + 0.38 })),
  );
  const isSeen = (instant: Seconds) => instant >= window[0] && instant <= window[1];
  const changes = lanes.flatMap(({ changes: own }, i) =>
    own.filter(({ at }) => at > 0 && isSeen(at)).map(({ at }) => ({ at, value: bottomOf(i) })),
  );
  const whole = timed.map(({ operateTime, elapsed }) => ({ time: elapsed - operateTime, end: elapsed, operateTime }));
  const took = inWindow(whole, window).map(({ time, end }) => ({ time, end, value: 0.25 }));
  const labels = [
    ...lanes.flatMap((lane, i) => apart(laneLabels(lane, bottomOf(i), window), base.scale)),
    ...apart(
      inWindow(whole, window).map(({ time, operateTime }, i) =>
        label(time, 0, `${i === 0 ? "operate time " : ""}${short(operateTime)} s`),
      ),
      base.scale,
    ),
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
        changes.map(({ at, value }) => ({ time: at, value: value + 0.05, top: value + 0.45 })),
        { ...on, y2: { field: "top" } },
        { strokeWidth: 2.5 },
      ),
      ruleLayer("operate times", took, { ...on, x2: { field: "end" } }, { strokeWidth: 2 }),
      pointLayer(
        "operate time ends",
        whole.flatMap(({ time, end }) => [time, end].filter(isSeen).map((instant) => ({ time: instant, value: 0.25 }))),
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
  readonly align: "left" | "right";
}

const label = (time: Seconds, bottom: number, text: string): LaneLabel => ({
  time,
  value: bottom + 0.7,
  label: plainText(text),
  align: "left",
});

/** `trip closed 1.36 s, open 1.4 s`: a change, and the one that undoes it; else how the contact stands. */
function laneLabels(lane: Lane, bottom: number, [from, to]: readonly [Seconds, Seconds]): LaneLabel[] {
  const { contact, changes } = lane;
  const labels = changes.flatMap((change, i) => {
    if (change.to === "open" && i > 0) return [];
    const after = change.settles === "closed" ? changes[i + 1] : undefined;
    const end = after?.settledAt ?? (change.settles === "closed" ? Number.POSITIVE_INFINITY : change.settledAt);
    if (change.at > to || end < from) return [];
    const words = [change, ...(after === undefined ? [] : [after])].map(inWords).join(", ");
    return [label(Math.max(from, change.at), bottom, `${contact} ${words}`)];
  });
  return labels.length > 0 ? labels : [label(from, bottom, `${contact} ${standingAt(lane, from)}`)];
}

function inWords({ at, to, settledAt, settles }: Change): string {
  if (at <= 0) return to;
  return settledAt > at
    ? `${to} ${short(at)} s, bounces, ${settles} from ${short(settledAt)} s`
    : `${to} ${short(at)} s`;
}

/** Between two labels of a lane, in pixels. */
const GAP = 8;

/** Those that do not run into the one before; the description of the figure names every change. */
function apart(labels: readonly LaneLabel[], scale: Scale): LaneLabel[] {
  let free = Number.NEGATIVE_INFINITY;
  return labels
    .map((row) => inPanel(row, scale))
    .filter((row) => {
      const [pixel, width] = [pixelOf(scale, row.time, WIDTH), widthOf(row.label)];
      const left = row.align === "left" ? pixel : pixel - width;
      if (left < free) return false;
      free = left + width + GAP;
      return true;
    });
}

/** Begins at its instant; where it would leave the panel, it ends with it. */
function inPanel(row: LaneLabel, scale: Scale): LaneLabel {
  const width = widthOf(row.label);
  if (pixelOf(scale, row.time, WIDTH) + width <= WIDTH) return row;
  if (width > WIDTH) return { ...row, time: scale.domain[0] };
  return { ...row, time: valueAtPixel(scale, WIDTH, WIDTH), align: "right" };
}

/** From when to when a contact was closed; before its first change it stood the other way. */
function closedIn({ events }: Lane): { time: Seconds; end: Seconds }[] {
  const before = events[0]?.to === "open" && events[0].at > 0 ? [{ time: 0, end: events[0].at }] : [];
  return [
    ...before,
    ...events.flatMap(({ at, to }, i) =>
      to === "closed" ? [{ time: at, end: events[i + 1]?.at ?? Number.POSITIVE_INFINITY }] : [],
    ),
  ];
}

/** What can be seen of each stretch. */
const inWindow = <T extends { readonly time: Seconds; readonly end: Seconds }>(
  stretches: readonly T[],
  [from, to]: readonly [Seconds, Seconds],
): T[] =>
  stretches
    .map((stretch) => ({ ...stretch, time: Math.max(stretch.time, from), end: Math.min(stretch.end, to) }))
    .filter(({ time, end }) => end > time);
