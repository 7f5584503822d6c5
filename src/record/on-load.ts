/** After restoring: whether real load puts on the relay what it should, in size and in direction. */
import { above, atLeast, fail, finite, object, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import type { Degrees } from "../base/units.js";
import { band, type Grade, grade, type Tolerance } from "../grading/index.js";
import { angle, divide, magnitude, normalizeAngle, type Phases, scale, threePhase } from "../phasor/index.js";
import { type Sheet, settingsOf } from "../plan/index.js";

/** The load of a feeder on the primary side, three-phase; positive into the feeder. */
export interface Load {
  /** Watts and vars. */
  readonly active: number;
  readonly reactive: number;
  /** Line to line, volts. */
  readonly voltage: number;
  /** Primary over secondary of the current and voltage transformers; needed where the sheet does not name them. */
  readonly ctRatio?: number;
  readonly vtRatio?: number;
}

/** A magnitude with its angle, phase a to neutral at 0°. */
export interface LoadPhasor {
  readonly input: "ia" | "ib" | "ic" | "va" | "vb" | "vc";
  readonly magnitude: number;
  readonly angle: Degrees;
}

/** One input, expected and measured. */
export interface LoadLine {
  readonly expected: LoadPhasor;
  readonly measured: LoadPhasor;
  readonly magnitude: Grade;
  /** Absent where nothing is expected or measured: it has no angle. */
  readonly angle?: Grade;
}

/** What the on-load check comes to. */
export interface LoadCheck {
  readonly lines: readonly LoadLine[];
  /** What the pattern of the angles looks like, as a possibility for a qualified person to check. */
  readonly pattern?: "all currents reversed" | "one current reversed" | "two phases exchanged";
  readonly input?: LoadPhasor["input"];
}

/** How near measured values must be; angles in degrees. */
export interface LoadTolerance {
  readonly magnitude: Tolerance;
  readonly angle: Degrees;
}

const INPUTS = ["va", "vb", "vc", "ia", "ib", "ic"] as const;

/**
 * The secondary values and angles that a load puts on the relay's inputs: V = voltage/√3 to neutral, I = (S/(3·V))*, balanced in
 * the rotation of the sheet. An angle of a current against its voltage is minus that of the power: a lagging load lags.
 *
 * @throws A {@link InputError} for a load that is not finite, a voltage or a ratio that is not above 0, a sheet that is not
 * good, and for a ratio that neither the sheet nor the load gives, or that they give differently.
 * Accuracy: a few units in the last place.
 * @source definition of complex power
 *
 * @example
 * import { readSheet } from "tripwright/plan";
 * import { expectOnLoad } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5", vt: "11 kV/110 V",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", accuracy }],
 * });
 * const [va, , , ia] = expectOnLoad(sheet, { active: 3e6, reactive: 0, voltage: 11000 });
 * [va?.magnitude.toFixed(2), ia?.magnitude.toFixed(3), ia?.angle]; // → ["63.51", "1.968", 0]
 */
export function expectOnLoad(sheet: Sheet, load: Load): LoadPhasor[] {
  const { active, reactive, voltage } = options(load, ["active", "reactive", "voltage", "ctRatio", "vtRatio"], "load");
  finite(active, "load.active", "an active power in watts");
  finite(reactive, "load.reactive", "a reactive power in vars");
  above(voltage, 0, "load.voltage", "a voltage", "V");
  const { setup, ratios } = settingsOf(sheet);
  const { rotation } = setup;
  const volts = threePhase(voltage / Math.sqrt(3), 0, rotation);
  // I = (P + jQ)*/(3·V*): with phase a to neutral at 0°, V* is V.
  const line = within("load", () => divide({ re: active, im: -reactive }, scale(volts.a, 3)));
  const amperes = threePhase(magnitude(line), magnitude(line) === 0 ? 0 : angle(line), rotation);
  return [
    ...phasors("v", volts, ratioOf("vtRatio", load.vtRatio, ratios.vt)),
    ...phasors("i", amperes, ratioOf("ctRatio", load.ctRatio, ratios.ct)),
  ];
}

/** That of the sheet; what is said beside it must be the same. */
function ratioOf(name: "ctRatio" | "vtRatio", given: number | undefined, known: number | undefined): number {
  const path = `load.${name}`;
  if (given === undefined) return known ?? fail("missing", path, "a ratio, as the sheet has none", given);
  above(given, 0, path, "a ratio");
  if (known !== undefined && Math.abs(given - known) > 1e-9 * known)
    fail("conflict", path, `${known}, the ratio on the sheet`, given);
  return given;
}

const phasors = (letter: "v" | "i", phases: Phases, ratio: number): LoadPhasor[] =>
  (["a", "b", "c"] as const).map((phase) => ({
    input: `${letter}${phase}`,
    magnitude: finite(magnitude(phases[phase]) / ratio, "load", "a load whose secondary values fit a double"),
    angle: magnitude(phases[phase]) === 0 ? 0 : angle(phases[phase]),
  }));

/**
 * Measured values against those that the load should give, input by input; and what the pattern looks like where the angles are
 * off: reversed currents (polarity, or load the other way) and exchanged phases are told apart from a wrong ratio, which leaves
 * the angles.
 *
 * @param expected - From {@link expectOnLoad}.
 * @param read - What the relay or a meter shows, and how near it must be.
 * @throws A {@link InputError} for an input that is missing, values that are not finite, a bad tolerance.
 * Accuracy: grades are exact at the limit.
 * @source common practice
 *
 * @example
 * import { checkOnLoad } from "tripwright/record";
 * const currents = (turned: number) => (["ia", "ib", "ic"] as const).map((input, i) => ({ input, magnitude: 2, angle: -20 - 120 * i + turned }));
 * const tolerance = { magnitude: { percent: 5 }, angle: 5 };
 * checkOnLoad(currents(0), { measured: currents(180), tolerance }).pattern; // → "all currents reversed"
 */
export function checkOnLoad(
  expected: readonly LoadPhasor[],
  read: { readonly measured: readonly LoadPhasor[]; readonly tolerance: LoadTolerance },
): LoadCheck {
  const { measured, tolerance } = options(read, ["measured", "tolerance"]);
  above(
    object(tolerance, "tolerance", "a tolerance { magnitude, angle }").angle,
    0,
    "tolerance.angle",
    "an angle",
    "°",
  );
  const wanted = readEach(expected, "expected", "a list, as `expectOnLoad` makes it", checkedPhasor);
  const seen = readEach(measured, "measured", "a list of { input, magnitude, angle }", checkedPhasor);
  const lines = wanted.map((one) => lineOf(one, seen, tolerance));
  return { lines, ...patternOf(lines, tolerance.angle) };
}

function checkedPhasor(given: LoadPhasor): LoadPhasor {
  const { input, magnitude: size, angle: turned } = object(given, "", "a value { input, magnitude, angle }");
  text(input, "input", "the name of a relay input");
  atLeast(size, 0, "magnitude", "a magnitude", "V or A");
  finite(turned, "angle", "an angle in degrees");
  return given;
}

function lineOf(expected: LoadPhasor, all: readonly LoadPhasor[], tolerance: LoadTolerance): LoadLine {
  const [measured, ...more] = all.filter(({ input }) => input === expected.input);
  const inputs = all.map(({ input }) => input);
  if (measured === undefined) return fail("missing", "measured", `a value of ${expected.input}`, inputs);
  if (more.length > 0) return fail("duplicate", "measured", `one value of ${expected.input}`, inputs);
  const accepted = within("tolerance.magnitude", () => band(expected.magnitude, tolerance.magnitude));
  const line = { expected, measured, magnitude: grade(measured.magnitude, accepted) };
  if (expected.magnitude === 0 || measured.magnitude === 0) return line;
  return { ...line, angle: grade(measured.angle, band(expected.angle, { absolute: tolerance.angle, period: 360 })) };
}

/** By how much each current is turned from where it should be. */
function patternOf(lines: readonly LoadLine[], near: Degrees): Pick<LoadCheck, "pattern" | "input"> {
  const all = lines.filter(({ expected }) => INPUTS.indexOf(expected.input) >= 3);
  const currents = all.filter(({ angle }) => angle !== undefined);
  const turned = currents.map(({ expected, measured }) => normalizeAngle(measured.angle - expected.angle));
  const isAt = (degrees: number) => (turn: number) => Math.abs(normalizeAngle(turn - degrees)) <= near;
  const reversed = turned.filter(isAt(180));
  if (all.length > 0 && reversed.length === all.length) return { pattern: "all currents reversed" };
  const off = turned.filter((turn) => !isAt(0)(turn));
  if (reversed.length === 1 && off.length === 1) {
    const input = currents[turned.findIndex(isAt(180))]?.expected.input;
    return { pattern: "one current reversed", ...(input !== undefined && { input }) };
  }
  const isExchange = off.length === 2 && off.some(isAt(120)) && off.some(isAt(-120));
  return isExchange ? { pattern: "two phases exchanged" } : {};
}
