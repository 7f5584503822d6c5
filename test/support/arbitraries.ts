/** Shared arbitraries: decimals as people type them, and the settings and benches of protective functions. */
import fc from "fast-check";
import type { ElementSetting, Setup } from "tripwright/element";

/** The decimal units · 10^−places, with the text that a person types for it. */
export interface TypedDecimal {
  readonly units: bigint;
  readonly places: number;
  readonly text: string;
}

export const typedDecimal = (units: bigint, places: number): TypedDecimal => ({
  units,
  places,
  text: textOf(units, places),
});

/** 12345 with two places is "123.45". */
export function textOf(units: bigint, places: number): string {
  const digits = String(units < 0n ? -units : units).padStart(places + 1, "0");
  const point = digits.length - places;
  const text = places === 0 ? digits : `${digits.slice(0, point)}.${digits.slice(point)}`;
  return units < 0n ? `-${text}` : text;
}

/** The same decimal counted in units of 10^−places, for exact comparisons in whole numbers. */
export function unitsAt(places: number, typed: TypedDecimal): bigint {
  if (typed.places > places) throw new Error(`${typed.text} has more than ${places} places`);
  return typed.units * 10n ** BigInt(places - typed.places);
}

/** Typed decimals of up to so many digits, of which up to so many behind the point. */
export function typedDecimals(within: { digits: number; places: number; min?: number }): fc.Arbitrary<TypedDecimal> {
  const most = 10 ** within.digits - 1;
  return fc
    .tuple(fc.integer({ min: within.min ?? -most, max: most }), fc.integer({ min: 0, max: within.places }))
    .map(([units, places]) => typedDecimal(BigInt(units), places));
}

/** Every bench: both rotations, one or three channels of each quantity, both system frequencies; 110 V line to line. */
export const setups: readonly Setup[] = [50, 60].flatMap((frequency) =>
  (["ABC", "ACB"] as const).flatMap((rotation) =>
    ([1, 3] as const).flatMap((currentChannels) =>
      ([1, 3] as const).map((voltageChannels) => ({
        frequency,
        rotation,
        currentChannels,
        voltageChannels,
        ratedVoltage: 110,
      })),
    ),
  ),
);

const common = {
  id: "X1",
  measuringDelay: 0.04,
  contact: "trip",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
} as const;
const over = { curve: { form: "definite", time: 0.3 } } as const;
const under = { curve: { form: "definite", time: 0.3, side: "under" } } as const;

const voltageSettings: readonly ElementSetting[] = (["27", "59"] as const).flatMap((number) =>
  (["line-to-line", "line-to-neutral"] as const).flatMap((watches) =>
    (["any", "all"] as const).map((phases) => {
      const healthy = watches === "line-to-line" ? 110 : 63.5;
      const [pickup, law] = number === "27" ? [0.8 * healthy, under] : [1.2 * healthy, over];
      return { ...common, function: number, watches, phases, pickup, law };
    }),
  ),
);

const current = { ...common, pickup: 4, law: { curve: "iec-very-inverse", multiplier: 0.2 } } as const;
const thermal = { curve: { form: "thermal", tau: 600 }, reset: { form: "cooling", release: 0.9 } } as const;
const flux = {
  ...common,
  function: "24",
  pickup: 1.1,
  ratedFrequency: 50,
  law: { curve: { form: "excess", k: 1, power: 2 } },
} as const;

const currentSettings: readonly ElementSetting[] = [
  { ...current, function: "50N", watches: "residual", law: over },
  { ...current, function: "51N", watches: "residual" },
  { ...current, function: "50G", watches: "ground", law: over },
  { ...current, function: "51G", watches: "ground" },
  { ...common, function: "37", watches: "phase", phases: "any", pickup: 1, law: under },
  { ...common, function: "37", watches: "phase", phases: "all", pickup: 1, law: under, blockBelow: 0.1 },
  ...(["I2", "3I2"] as const).flatMap((watches) =>
    (["ABC", "ACB"] as const).map((rotation) => ({ ...current, function: "46", watches, rotation }) as const),
  ),
  { ...common, function: "49", watches: "phase", rotation: "ABC", pickup: 5, law: thermal },
  ...(["ABC", "ACB"] as const).map(
    (rotation) =>
      ({
        ...common,
        function: "49",
        watches: "I1-and-I2",
        negativeSequenceFactor: 3,
        rotation,
        pickup: 5,
        law: thermal,
      }) as const,
  ),
];

const otherVoltageSettings: readonly ElementSetting[] = [
  ...(["V0", "3V0", "open-delta"] as const).map(
    (watches) => ({ ...common, function: "59N", watches, pickup: 12, law: over }) as const,
  ),
  ...(["ABC", "ACB"] as const).map(
    (rotation) => ({ ...common, function: "47", watches: "V2", rotation, pickup: 6, law: over }) as const,
  ),
  { ...flux, watches: "line-to-line", ratedVoltage: 110 },
  { ...flux, watches: "line-to-neutral", ratedVoltage: 110 / Math.sqrt(3) },
];

const directional = { ...current, rotation: "ABC", operates: "forward", characteristicAngle: -45 } as const;
const directionalSettings: readonly ElementSetting[] = [
  { ...directional, function: "67", watches: "phase", polarising: "self", leading: 80, lagging: 80 },
  { ...directional, function: "67", watches: "phase", polarising: "quadrature", characteristicAngle: 30 },
  { ...directional, function: "67", watches: "phase", polarising: "self", operates: "reverse", minimumVoltage: 5 },
  { ...directional, function: "67", watches: "negative-sequence", polarising: "-V2", measures: "current-cosine" },
  { ...directional, function: "67N", watches: "residual", polarising: "-3V0", law: over },
  { ...directional, function: "67N", watches: "residual", polarising: "3V0", characteristicAngle: 135, law: over },
  { ...common, function: "32", watches: "active-power", operates: "forward", pickup: 100, law: over },
  { ...common, function: "32", watches: "active-power", operates: "reverse", pickup: 20, law: over },
];

const distance = { ...common, function: "21", operates: "forward", pickup: 4, law: under } as const;
const mhoZone = { form: "mho", lineAngle: 75 } as const;
const quadrilateralZone = {
  form: "quadrilateral",
  lineAngle: 75,
  resistanceRatio: 0.8,
  tilt: -3,
  forward: { from: -15, to: 115 },
} as const;
const k0 = { factor: { re: 0.66, im: -0.09 } } as const;
const distanceSettings: readonly ElementSetting[] = [
  { ...distance, watches: "phase-loops", zone: mhoZone, minimumCurrent: 0.1 },
  { ...distance, watches: "phase-loops", zone: { ...mhoZone, reverseRatio: 0.25 } },
  { ...distance, watches: "earth-loops", zone: mhoZone, earth: k0, operates: "reverse" },
  {
    ...distance,
    watches: "earth-loops",
    zone: quadrilateralZone,
    earth: { resistanceRatio: 0.5, reactanceRatio: 0.9 },
  },
  { ...distance, watches: "phase-and-earth-loops", zone: quadrilateralZone, earth: k0, operates: "reverse" },
  {
    ...distance,
    watches: "phase-and-earth-loops",
    zone: { ...quadrilateralZone, forward: { from: -80, to: 170 } },
    earth: k0,
  },
];

const rateSettings: readonly ElementSetting[] = (["rising", "falling", "both"] as const).map((direction) => ({
  ...common,
  function: "81R",
  watches: "frequency-rate",
  direction,
  pickup: 0.5,
  law: over,
}));

const synchronism = { ...common, function: "25", pickup: 20, law: under } as const;
const synchronismSettings: readonly ElementSetting[] = [
  { ...synchronism, watches: "a", voltageDifference: 5, slip: 0.1, liveAbove: 50 },
  { ...synchronism, watches: "c" },
  { ...synchronism, watches: "bc", liveAbove: 88, deadBelow: 20, deadClosing: "running", closingTime: 0.08 },
];

const side = { ratedCurrent: 4.37, clock: 0, zeroSequence: "kept" } as const;
const plainZone = { first: side, second: side } as const;
/** 33/11 kV: 5 A current transformers on the first side, 1 A on the second. */
const transformer = (clock: number, zeroSequence: "kept" | "removed") => ({
  first: { ...side, zeroSequence },
  second: { ratedCurrent: 0.73, clock, zeroSequence: "removed" } as const,
});
const knees = [
  { slope: 0.25, line: "through-origin" },
  { slope: 0.6, line: "from-knee", begins: 9 },
] as const;
const differential = {
  ...common,
  watches: "differential",
  pickup: 1.3,
  restraint: "average",
  slopes: knees,
  law: over,
} as const;
const differentialSettings: readonly ElementSetting[] = [
  { ...differential, function: "87", zone: plainZone },
  {
    ...differential,
    function: "87",
    zone: plainZone,
    restraint: "maximum",
    slopes: [{ slope: 0.3, line: "from-knee", begins: 0 }],
  },
  ...[0, 1, 6, 11].map(
    (clock) =>
      ({
        ...differential,
        function: "87T",
        zone: transformer(clock, "removed"),
        restraint: "sum",
        secondHarmonic: 0.15,
      }) as const,
  ),
  { ...differential, function: "87T", zone: transformer(5, "kept"), restraint: "difference" },
  { ...common, function: "87U", watches: "differential", pickup: 35, zone: transformer(11, "removed"), law: over },
];

/** A 51 with a start contact. */
export const relay51 = {
  id: "51P",
  function: "51",
  watches: "phase",
  pickup: 4,
  law: { curve: "iec-very-inverse", multiplier: 0.2 },
  measuringDelay: 0.04,
  contact: "trip",
  startContact: "start",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
} as const satisfies ElementSetting;

/** Every function in every way that it can watch, with settings as they are common at 110 V and 50 Hz. */
export const usualSettings: readonly ElementSetting[] = [
  { ...common, function: "50", watches: "phase", pickup: 20, law: over },
  { ...common, function: "51", watches: "phase", pickup: 4, law: { curve: "iec-very-inverse", multiplier: 0.2 } },
  ...voltageSettings,
  { ...common, function: "81O", watches: "frequency", pickup: 51, law: over, blockBelow: 30 },
  { ...common, function: "81U", watches: "frequency", pickup: 49, law: under, blockBelow: 30 },
  ...currentSettings,
  ...otherVoltageSettings,
  ...directionalSettings,
  ...rateSettings,
  ...synchronismSettings,
  ...distanceSettings,
  ...differentialSettings,
];
