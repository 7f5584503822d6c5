/** One dial with arrows, and the list of what they are. */
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Phasor } from "../phasor/index.js";
import { type Anchor, labelRows, markAt, placeLabels, widthOf } from "./labels.js";
import { plainText, soft, styleOf } from "./look.js";
import { labelLayers, lineLayer, ruleLayer, textLayer } from "./marks.js";
import { pixelOf, positionOn, type Scale, valueAtPixel } from "./scale.js";
import type { FigureLayer, FigureRow, FigureView } from "./specification.js";

/** A phasor that is drawn, or only listed where it is noise. */
export interface DrawnPhasor {
  readonly name: string;
  /** Magnitude and angle in figures. */
  readonly written: string;
  /** Whether it belongs to the inner circles. */
  readonly inner: boolean;
  /** The phasor itself. */
  readonly value?: Phasor;
  /** Its tip on the dial, whose outer circle has the radius 1. */
  readonly tip?: Phasor;
}

/** What a dial shows. */
export interface Dial {
  readonly name: string;
  readonly phasors: readonly DrawnPhasor[];
  readonly rings: readonly { readonly radius: number; readonly label: string; readonly inner: boolean }[];
}

const SIDE = 300;
/** The dial from its centre to the edge of the panel; spoke labels stand between 1 and this. */
const REACH = 1.22;
/** Where the numbers of the spokes stand, and at which angle those of the circles. */
const OUTSIDE = 1.11;
const SIZES_AT = 82;
const LINE = 18;
/** A longer name would lie across other arrows; it stands in the list alone. */
const WIDEST = 120;

const place = (x: number, y: number): { readonly x: number; readonly y: number } => ({ x: x + 0, y: y + 0 });
const onCircle = (radius: number, degrees: number) => place(radius * cosDegrees(degrees), radius * sinDegrees(degrees));

/** The panel; the list below the dial has room for so many lines. */
export function dialView({ name, phasors, rings }: Dial, panel: string, lines: number): FigureView {
  const height = SIDE + LINE * lines + 6;
  const bottom = REACH - (height / SIDE) * 2 * REACH;
  const across: Scale = { type: "linear", domain: [-REACH, REACH], ticks: [], labelled: [] };
  const up: Scale = { type: "linear", domain: [bottom, REACH], ticks: [], labelled: [] };
  const bare = { grid: false, domain: false, ticks: false, labels: false };
  const on = {
    x: positionOn(across, { title: "", more: bare })("x"),
    y: positionOn(up, { title: "", more: bare })("y"),
  };
  const drawing = { on, across, up, height };
  return {
    name: panel,
    title: { text: plainText(name), fontSize: 13, fontWeight: "normal", anchor: "middle", offset: 0 },
    width: SIDE,
    height,
    layer: [
      ...gridLayers(rings, on),
      ...phasors.flatMap((phasor, i) => arrowLayers(phasor, i, on)),
      ...tipLabels(phasors, rings, drawing),
      ...listLayers(phasors, drawing),
    ],
  };
}

type On = { readonly x: FigureLayer["encoding"][string]; readonly y: FigureLayer["encoding"][string] };

interface Drawing {
  readonly on: On;
  readonly across: Scale;
  readonly up: Scale;
  readonly height: number;
}

const SPOKES = Array.from({ length: 12 }, (_, i) => 30 * i);

/** Circles, spokes, and their numbers; angles as they are written elsewhere, from −150° to 180°. */
function gridLayers(rings: Dial["rings"], on: On): FigureLayer[] {
  const circle = Array.from({ length: 121 }, (_, i) => 3 * i);
  const circles = rings.map(({ radius, inner }, i) =>
    lineLayer(
      `circle ${i + 1}`,
      circle.map((degrees) => onCircle(radius, degrees)),
      on,
      { color: "#a6a6a6", strokeWidth: 1, strokeDash: inner ? [5, 3] : [1, 0] },
    ),
  );
  const spokes = SPOKES.map((degrees): FigureRow => {
    const { x, y } = onCircle(1, degrees);
    return { x: 0, y: 0, x2: x, y2: y };
  });
  const angles = SPOKES.map((degrees) => ({
    ...onCircle(OUTSIDE, degrees),
    label: `${degrees > 180 ? degrees - 360 : degrees}°`,
  }));
  const sizes = rings.map(({ radius, label }) => ({ ...onCircle(radius, SIZES_AT), label: plainText(label) }));
  return [
    ...circles,
    ruleLayer("spokes", spokes, { ...on, x2: { field: "x2" }, y2: { field: "y2" } }, { color: "#dcdcdc" }),
    textLayer("angles", angles, on, { align: "center", color: soft }),
    ...labelLayers("sizes", sizes, on, { align: "center", color: soft, fontSize: 11 }),
  ];
}

/** From the centre to the tip, and the head as one stroke with it. */
function arrowLayers({ tip, inner }: DrawnPhasor, i: number, on: On): FigureLayer[] {
  if (tip === undefined) return [];
  const length = Math.hypot(tip.re, tip.im);
  const head = Math.min(0.09, length / 2);
  const barb = (degrees: number) => {
    const back = head / length;
    const [cos, sin] = [cosDegrees(degrees) * back, sinDegrees(degrees) * back];
    return place(tip.re - tip.re * cos + tip.im * sin, tip.im - tip.im * cos - tip.re * sin);
  };
  const end = place(tip.re, tip.im);
  const { color, strokeDash } = styleOf(i);
  return [
    lineLayer(`arrow ${i + 1}`, [place(0, 0), end], on, { color, strokeDash, strokeWidth: inner ? 3 : 2.2 }),
    lineLayer(`head ${i + 1}`, [barb(24), end, barb(-24)], on, { color, strokeWidth: inner ? 3 : 2.2 }),
  ];
}

function tipLabels(
  phasors: readonly DrawnPhasor[],
  rings: Dial["rings"],
  { on, across, up, height }: Drawing,
): FigureLayer[] {
  const pixel = ({ x, y }: { readonly x: number; readonly y: number }) => ({
    x: pixelOf(across, x, SIDE),
    y: pixelOf(up, y, height),
  });
  const drawn = phasors.flatMap(({ name, tip }) => (tip === undefined ? [] : [{ name: plainText(name), tip }]));
  const anchors: Anchor[] = drawn
    .filter(({ name }) => widthOf(name, true) <= WIDEST)
    .map(({ name, tip }) => ({ ...pixel(place(tip.re, tip.im)), text: name, isBold: true }));
  const numbers = [
    ...SPOKES.map((degrees) => onCircle(OUTSIDE, degrees)),
    ...rings.map(({ radius }) => onCircle(radius, SIZES_AT)),
  ];
  const avoid = [
    ...drawn.flatMap(({ tip }) =>
      Array.from({ length: 30 }, (_, i) => pixel(place((tip.re * (i + 1)) / 30, (tip.im * (i + 1)) / 30))),
    ),
    // Each number is as wide as several points of a line.
    ...numbers.flatMap((number) => [-12, -6, 0, 6, 12].map((dx) => ({ x: pixel(number).x + dx, y: pixel(number).y }))),
  ];
  const list = { left: 0, right: SIDE, low: 0, high: height - SIDE };
  const blocked = [list, ...drawn.map(({ tip }) => markAt(pixel(place(tip.re, tip.im))))];
  const places = placeLabels(anchors, { width: SIDE, height, avoid, blocked });
  const rows = labelRows(anchors, places, (label) => ({
    x: valueAtPixel(across, label.x, SIDE),
    y: valueAtPixel(up, label.y, height),
  }));
  return labelLayers("tips", rows, on, { fontWeight: "bold" });
}

/** A piece of each line with name, magnitude and angle. */
function listLayers(phasors: readonly DrawnPhasor[], { on, across, up, height }: Drawing): FigureLayer[] {
  const heightOf = (i: number) => valueAtPixel(up, height - SIDE - 6 - LINE * i, height);
  const [from, to, text] = [50, 82, 92].map((pixel) => valueAtPixel(across, pixel, SIDE)) as [number, number, number];
  const samples = phasors.flatMap(({ tip, inner }, i) =>
    tip === undefined
      ? []
      : [
          ruleLayer(
            `sample ${i + 1}`,
            [{ x: from, y: heightOf(i), x2: to }],
            { ...on, x2: { field: "x2" } },
            { ...styleOf(i), strokeWidth: inner ? 3 : 2.2 },
          ),
        ],
  );
  const rows = phasors.map(({ name, written }, i) => ({
    x: text,
    y: heightOf(i),
    label: plainText(`${name}  ${written}`),
  }));
  return [...samples, textLayer("list", rows, on)];
}
