import { fail, finite, object, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import {
  angle,
  formatPolar,
  magnitude,
  type Phases,
  type Phasor,
  polar,
  type Rotation,
  scale,
  toComponents,
} from "../phasor/index.js";
import { sideBySide } from "./look.js";
import { type Dial, type DrawnPhasor, dialView } from "./phasor-dial.js";
import { linearScale } from "./scale.js";
import type { SideBySideFigure } from "./specification.js";

/** Phasors that share a unit, and a scale. */
export interface PhasorGroup {
  /** Such as `V`. */
  readonly unit: string;
  readonly phasors: { readonly [name: string]: Phasor };
}

/** One dial. */
export interface PhasorSet {
  readonly name: string;
  /** One group, or two with circles of their own: voltages on the outer, currents on the inner one. */
  readonly groups: readonly PhasorGroup[];
}

/** Which dials. */
export interface PhasorFigureOptions {
  readonly title: string;
  /** One or more, side by side. */
  readonly sets: readonly PhasorSet[];
}

/**
 * Phasors as arrows: 0° to the right, leading angles counter-clockwise, with circles of equal magnitude, spokes every 30°
 * and each value in figures below; the circle of a second group is dashed. A phasor below a millionth of the largest of its group is noise: it has no arrow and is written as 0.
 *
 * @returns A Vega-Lite specification with one dial for each set.
 * @throws A {@link InputError} for phasors that are not finite, for sets without a phasor other than 0, and for more than
 * two groups in a set.
 * @source phase reference of IEC/IEEE 60255-118-1
 *
 * @example
 * import { phasorFigure } from "tripwright/figure";
 * import { threePhase } from "tripwright/phasor";
 * const { a, b, c } = threePhase(63.5);
 * const figure = phasorFigure({
 *   title: "Tannery Lane",
 *   sets: [{ name: "Voltages", groups: [{ unit: "V", phasors: { Va: a, Vb: b, Vc: c } }] }],
 * });
 * figure.description; // → "Tannery Lane. Voltages: Va 63.5 V ∠ 0°, Vb 63.5 V ∠ -120°, Vc 63.5 V ∠ 120°."
 */
export function phasorFigure(given: PhasorFigureOptions): SideBySideFigure {
  const { title, sets } = options(given, ["title", "sets"]);
  text(title, "title", "a title");
  if (!Array.isArray(sets) || sets.length === 0)
    fail(sets === undefined ? "missing" : "wrong-type", "sets", "a list of one set or more", sets);
  const dials = [...sets].map((set: PhasorSet, i) => within(`sets[${i}]`, () => dialOf(set)));
  const words = dials.map(
    ({ name, phasors }) => `${name}: ${phasors.map((one) => `${one.name} ${one.written}`).join(", ")}.`,
  );
  const longest = Math.max(...dials.map(({ phasors }) => phasors.length));
  return sideBySide(
    { title, description: `${title}. ${words.join(" ")}` },
    dials.map((dial, i) => dialView(dial, `dial ${i + 1}`, longest)),
  );
}

/** Three phases, and how they are called. */
export interface PhasesToDraw {
  readonly unit: string;
  /** What stands before a, b, c and 0, 1, 2: `V` gives Va, Vb, Vc and V0, V1, V2. */
  readonly symbol: string;
  readonly phases: Phases;
  /** Default `ABC`. */
  readonly rotation?: Rotation;
}

/**
 * Two dials for {@link phasorFigure}: three phases, and their symmetrical components.
 *
 * @throws A {@link InputError} as `toComponents` does.
 * @source C. L. Fortescue, Trans. AIEE 37 (1918)
 *
 * @example
 * import { phasesAndComponents } from "tripwright/figure";
 * const none = { re: 0, im: 0 };
 * const [, components] = phasesAndComponents({ unit: "A", symbol: "I", phases: { a: { re: 90, im: 0 }, b: none, c: none } });
 * components.groups[0]?.phasors.I0; // → { re: 30, im: 0 }
 */
export function phasesAndComponents(given: PhasesToDraw): [PhasorSet, PhasorSet] {
  const { unit, symbol, phases, rotation = "ABC" } = options(given, ["unit", "symbol", "phases", "rotation"]);
  text(symbol, "symbol", "a symbol such as V");
  text(unit, "unit", "a unit such as V");
  const { zero, positive, negative } = within("phases", () => toComponents(phases, rotation));
  const named = (names: readonly string[], phasors: readonly Phasor[]) =>
    Object.fromEntries(phasors.map((phasor, i) => [`${symbol}${names[i]}`, phasor]));
  const { a, b, c } = phases;
  return [
    { name: `Phases, ${rotation}`, groups: [{ unit, phasors: named(["a", "b", "c"], [a, b, c]) }] },
    { name: "Symmetrical components", groups: [{ unit, phasors: named(["0", "1", "2"], [zero, positive, negative]) }] },
  ];
}

/** The radius of the outer circle of each group, in parts of the dial. */
const RADII = [1, 0.6] as const;
const NOISE = 1e-6;

function dialOf(given: PhasorSet): Dial {
  const { name, groups } = options(given, ["name", "groups"]);
  text(name, "name", "the name of a set");
  if (!Array.isArray(groups) || groups.length < 1 || groups.length > RADII.length)
    fail("wrong-length", "groups", "a list of one or two groups", groups);
  const read = groups.map((group: PhasorGroup, i) =>
    within(`groups[${i}]`, () => groupOf(group, RADII[i] as number, groups.length)),
  );
  const drawn = read.flatMap(({ phasors }) => phasors);
  if (drawn.every(({ tip }) => tip === undefined))
    fail("missing", "groups[0].phasors", "one phasor or more other than 0", groups[0]?.phasors);
  return { name, phasors: drawn, rings: read.flatMap(({ rings }) => rings) };
}

function groupOf(given: PhasorGroup, radius: number, groups: number): Pick<Dial, "phasors" | "rings"> {
  const { unit, phasors } = options(given, ["unit", "phasors"]);
  text(unit, "unit", "a unit");
  const entries = Object.entries(object(phasors, "phasors", "phasors by name, such as { Va: { re: 63.5, im: 0 } }"));
  const sizes = entries.map(([name, phasor]) => within(`phasors.${name}`, () => sizeOf(phasor)));
  const largest = sizes.reduce((a, b) => Math.max(a, b), 0);
  if (entries.length === 0) fail("missing", "phasors", "one phasor or more", phasors);
  // Nothing to measure: what is 0 is listed, with neither arrow nor circle.
  if (!(largest > 0)) {
    const none = (name: string): DrawnPhasor => ({ name, written: `0 ${unit}`, inner: radius < 1 });
    return { rings: [], phasors: entries.map(([name]) => none(name)) };
  }
  const { ticks } = linearScale([0, largest], { count: 4 });
  const full = ticks.at(-1) as number;
  return {
    // Circles of two scales within one another would be mistaken for each other: only the outermost of each is drawn.
    rings: ticks
      .slice(groups === 1 ? 1 : -1)
      .map((tick) => ({ radius: (tick / full) * radius, label: `${tick} ${unit}`, inner: radius < 1 })),
    phasors: entries.map(([name, phasor], i): DrawnPhasor => {
      const size = sizes[i] as number;
      const isNoise = size <= NOISE * largest;
      return {
        name,
        written: formatPolar(phasor, { digits: 4, unit, floor: NOISE * largest }),
        inner: radius < 1,
        ...(!isNoise && { value: phasor, tip: tipOf(phasor, (size / full) * radius) }),
      };
    }),
  };
}

/** The magnitude of a phasor that may be none. */
function sizeOf(phasor: Phasor): number {
  const { re, im } = object(phasor, "", "a phasor { re, im }");
  finite(re, "re", "a real part");
  finite(im, "im", "an imaginary part");
  return magnitude(phasor);
}

/** The phasor on the dial: its own direction, the length that its scale gives it. */
const tipOf = (phasor: Phasor, length: number): Phasor => scale(polar(1, angle(phasor)), length);
