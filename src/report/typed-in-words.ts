/** Fields of a sheet as people read them. */

/** What each field of an element and of a differential zone is called; a form names itself. */
export const WORDS: Readonly<Record<string, string>> = {
  function: "function",
  watches: "watches",
  enabled: "enabled",
  values: "written as",
  pickup: "pickup",
  step: "setting step",
  dropoutRatio: "dropout ratio",
  dropoutDifference: "dropout difference",
  contact: "contact named",
  startContact: "start contact named",
  measuringDelay: "measuring delay",
  // The time law
  delay: "delay",
  curve: "curve",
  multiplier: "time multiplier",
  startRatio: "start ratio",
  ceilingMultiple: "ceiling multiple",
  minimumTime: "minimum time",
  addedTime: "added time",
  reset: "reset",
  form: "",
  k: "k",
  alpha: "alpha",
  c: "c",
  power: "power",
  maximumTime: "longest time",
  tau: "time constant",
  coolingTau: "cooling time constant",
  points: "points",
  multiple: "multiple",
  time: "time",
  release: "release ratio",
  // What some functions have of their own
  phases: "phases",
  blockBelow: "blocked below",
  armAbove: "armed above",
  direction: "direction",
  negativeSequenceFactor: "negative-sequence factor",
  polarising: "polarising quantity",
  characteristicAngle: "characteristic angle",
  leading: "leading limit",
  lagging: "lagging limit",
  operates: "operates",
  measures: "measures",
  minimumVoltage: "minimum voltage",
  minimumCurrent: "minimum current",
  voltageDifference: "voltage difference",
  slip: "slip",
  liveAbove: "live above",
  deadBelow: "dead below",
  deadClosing: "side that may be dead",
  closingTime: "closing time",
  restraint: "restraint",
  slopes: "slopes",
  slope: "slope",
  line: "line",
  begins: "begins at",
  secondHarmonic: "second harmonic",
  // Distance zones
  zone: "zone",
  lineAngle: "line angle",
  reverse: "reverse reach",
  resistance: "resistance",
  reactance: "reactance",
  tilt: "tilt",
  blinderAngle: "blinder angle",
  forward: "forward",
  from: "from",
  to: "to",
  earth: "earth return",
  factor: "factor k0",
  z1: "Z1",
  z0: "Z0",
  size: "size",
  angle: "angle",
  resistanceRatio: "RE/RL",
  reactanceRatio: "XE/XL",
  // Differential zones
  first: "first side",
  second: "second side",
  ct: "CT",
  voltage: "voltage",
  ratedCurrent: "rated current",
  clock: "clock number",
  zeroSequence: "zero sequence",
};

/** `voltage 33 kV, zero sequence kept`; what has fields of its own stands in brackets. */
export const fieldsInWords = (typed: object): string =>
  Object.entries(typed)
    .filter(([, value]) => value !== undefined)
    .map(([field, value]) => `${wordsFor(field)} ${typedInWords(value)}`.trim())
    .join(", ");

/** A field that this version does not know keeps its name. */
const wordsFor = (field: string): string => (Object.hasOwn(WORDS, field) ? (WORDS[field] as string) : field);

/** One value, or a list of them. */
function typedInWords(value: unknown): string {
  if (Array.isArray(value)) return value.map(typedInWords).join(", ");
  if (typeof value === "boolean") return value ? "yes" : "no";
  return typeof value === "object" && value !== null ? `(${fieldsInWords(value)})` : String(value);
}
