/** Sheets for tests: the invented feeder Tannery Lane, and generated ones. */
import fc from "fast-check";
import { type Check, plan, readSheet, type Sheet } from "tripwright/plan";

/** Accuracies as relays usually declare them. */
export const usual = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };

/** Elements of Tannery Lane that many tests share. */
export const inverse51 = {
  id: "51P",
  function: "51",
  pickup: "4 A",
  curve: "iec-very-inverse",
  multiplier: 0.2,
  startContact: "start",
  dropoutRatio: 0.95,
  accuracy: usual,
};
export const instantaneous50 = { id: "50P", function: "50", pickup: "40 A", dropoutRatio: 0.95, accuracy: usual };
export const undervoltage27 = {
  id: "27",
  function: "27",
  watches: "line-to-line",
  pickup: "88 V",
  delay: "1.5 s",
  dropoutRatio: 1.05,
  accuracy: usual,
};
export const underfrequency81 = {
  id: "81U",
  function: "81U",
  pickup: "49 Hz",
  delay: "0.2 s",
  dropoutDifference: "20 mHz",
  accuracy: { pickup: { absolute: "0.01 Hz" }, time: { percent: 5 } },
};

export const directional67 = {
  id: "67P",
  function: "67",
  watches: "phase",
  pickup: "4 A",
  delay: "0.3 s",
  startContact: "start",
  polarising: "quadrature",
  characteristicAngle: "45°",
  operates: "forward",
  accuracy: { ...usual, angle: { absolute: "3°" } },
};

export const synchronism25 = {
  id: "25",
  function: "25",
  watches: "a",
  pickup: "20°",
  voltageDifference: "5 V",
  slip: "0.1 Hz",
  delay: "0.5 s",
  accuracy: {
    pickup: { absolute: "2°" },
    time: { percent: 2, absolute: "40 ms" },
    voltage: { absolute: "1 V" },
    frequency: { absolute: "0.02 Hz" },
  },
};

/** Zones of a distance relay, line of 75°: all loops, a mho without delay, and a quadrilateral behind it in time. */
export const distance21 = {
  id: "21-1",
  function: "21",
  watches: "phase-and-earth-loops",
  pickup: "4 ohm",
  zone: { form: "mho", lineAngle: "75°" },
  operates: "forward",
  earth: { z1: { size: "0.4 ohm", angle: "75°" }, z0: { size: "1.2 ohm", angle: "70°" } },
  minimumCurrent: "0.5 A",
  startContact: "start",
  dropoutRatio: 1.05,
  accuracy: { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } },
};
export const distanceZone2 = {
  ...distance21,
  id: "21-2",
  pickup: "6 ohm",
  delay: "0.4 s",
  zone: {
    form: "quadrilateral",
    lineAngle: "75°",
    resistance: "5 ohm",
    tilt: "-3°",
    forward: { from: "-15°", to: "115°" },
  },
};

/** The transformer that feeds Tannery Lane: 10 MVA, 33/11 kV, Dyn11. */
export const differential87T = {
  id: "87T",
  function: "87T",
  pickup: "0.3 × rated",
  restraint: "average",
  slopes: [
    { slope: "25 %", line: "through-origin" },
    { slope: "60 %", line: "from-knee", begins: "2 × rated" },
  ],
  secondHarmonic: "15 %",
  dropoutRatio: 0.9,
  accuracy: usual,
};
export const unrestrained87U = { id: "87U", function: "87U", pickup: "5 × rated", accuracy: usual };
export const dyn11 = {
  ct: "200/5",
  zone: {
    power: "10 MVA",
    first: { voltage: "33 kV", zeroSequence: "kept" },
    second: { ct: "600/5", voltage: "11 kV", clock: 11 },
  },
};

/** A sheet of Tannery Lane with these elements; anything else can be replaced. */
export const tanneryLane = (elements: readonly object[], other: object = {}): object => ({
  format: "tripwright/sheet@1",
  substation: "Corriedale Junction 33/11 kV",
  feeder: "Tannery Lane",
  relay: "F12",
  frequency: "50 Hz",
  values: "secondary",
  ct: "400/5",
  vt: "11 kV/110 V",
  elements,
  ...other,
});

/** The same, read. */
export const read = (elements: readonly object[], other: object = {}): Sheet => readSheet(tanneryLane(elements, other));

/** The check of a sheet that has this id. */
export const checkNamed = (sheet: Sheet, id: string): Check =>
  plan(sheet).checks.find((check) => check.id === id) as Check;

/** Why a check of a sheet is impossible; nothing where it is not listed so. */
export const reasonFor = (sheet: Sheet, id: string): string | undefined =>
  plan(sheet).impossible.find((item) => item.id === id)?.reason;

/** The band of a check that has one. */
export function bandOf({ id, expect }: Check) {
  if (expect.form !== "band") throw new Error(`${id} has no band`);
  return expect.band;
}

const decimals = (low: number, high: number, places: number) =>
  fc
    .integer({ min: Math.round(low * 10 ** places), max: Math.round(high * 10 ** places) })
    .map((n) => n / 10 ** places);

const tolerance = (unit: string) =>
  fc.oneof(
    fc.record({ percent: decimals(0.5, 10, 1) }),
    fc.record({ percent: decimals(0.5, 10, 1), absolute: decimals(0.01, 0.2, 2).map((x) => `${x} ${unit}`) }),
  );

const timeAccuracy = fc.oneof(tolerance("s"), fc.record({ absolute: fc.constant("40 ms"), side: fc.constant("high") }));

const accuracy = (unit: string) => fc.record({ pickup: tolerance(unit), time: timeAccuracy });

const delay = decimals(0.01, 5, 2).map((x) => `${x} s`);

const current = fc.record({
  function: fc.constant("51"),
  pickup: decimals(0.5, 10, 2).map((x) => `${x} A`),
  curve: fc.constantFrom("iec-inverse", "iec-very-inverse", "iec-extremely-inverse", "ieee-moderately-inverse"),
  multiplier: decimals(0.05, 1, 2),
  startContact: fc.constant("start"),
  accuracy: accuracy("A"),
});
const instantaneous = fc.record({
  function: fc.constant("50"),
  pickup: decimals(5, 60, 1).map((x) => `${x} A`),
  delay,
  accuracy: accuracy("A"),
});
/** Where an under function waits to be armed, which the healthy system must do. */
const armed = (low: number, high: number, unit: string) =>
  fc.oneof(
    fc.constant(undefined),
    decimals(low, high, 2).map((x) => `${x} ${unit}`),
  );
const voltage = (name: "27" | "59", low: number, high: number) =>
  fc.record({
    function: fc.constant(name),
    watches: fc.constantFrom("line-to-line", "line-to-neutral"),
    phases: fc.constantFrom("any", "all"),
    pickup: decimals(low, high, 2).map((x) => `${x} × rated`),
    ...(name === "27" && { armAbove: armed(0.5, 0.98, "× rated") }),
    delay,
    accuracy: accuracy("V"),
  });
const frequency = (name: "81O" | "81U", low: number, high: number) =>
  fc.record({
    function: fc.constant(name),
    pickup: decimals(low, high, 2).map((x) => `${x} Hz`),
    delay,
    accuracy: fc.record({ pickup: fc.record({ absolute: fc.constant("0.02 Hz") }), time: timeAccuracy }),
  });

const definite = (
  functions: readonly string[],
  more: { readonly [field: string]: fc.Arbitrary<unknown> },
  unit: string,
) => fc.record({ function: fc.constantFrom(...functions), ...more, delay, accuracy: accuracy(unit) });
const amperes = (low: number, high: number) => decimals(low, high, 2).map((x) => `${x} A`);

const earthFault = fc.oneof(
  definite(["50N", "50G", "51N", "51G"], { pickup: amperes(0.1, 5) }, "A"),
  fc.record({
    function: fc.constantFrom("51N", "51G"),
    pickup: amperes(0.1, 5),
    curve: fc.constantFrom("iec-inverse", "long-time-inverse", "ieee-extremely-inverse"),
    multiplier: decimals(0.05, 1, 2),
    startContact: fc.constant("start N"),
    accuracy: accuracy("A"),
  }),
);
const undercurrent = definite(
  ["37"],
  { pickup: amperes(0.2, 2), phases: fc.constantFrom("any", "all"), armAbove: armed(0.2, 4, "A") },
  "A",
);
const negativeSequence = fc.oneof(
  definite(["46"], { watches: fc.constantFrom("I2", "3I2"), pickup: amperes(0.2, 3) }, "A"),
  fc.record({
    function: fc.constant("46"),
    watches: fc.constant("I2"),
    pickup: amperes(0.2, 3),
    curve: fc.record({ form: fc.constant("energy"), k: decimals(5, 40, 0) }),
    accuracy: accuracy("A"),
  }),
  definite(["47"], { pickup: decimals(2, 30, 1).map((x) => `${x} V`) }, "V"),
);
const thermal = fc.record({
  function: fc.constant("49"),
  watches: fc.constantFrom("phase", "I1-and-I2"),
  pickup: amperes(1, 6),
  curve: fc.record({ form: fc.constant("thermal"), tau: decimals(1, 60, 0).map((x) => `${x} min`) }),
  accuracy: accuracy("A"),
});
const residualVoltage = definite(
  ["59N"],
  { watches: fc.constantFrom("V0", "3V0", "open-delta"), pickup: decimals(2, 40, 1).map((x) => `${x} V`) },
  "V",
);
const frequencyRate = fc.record({
  function: fc.constant("81R"),
  direction: fc.constantFrom("rising", "falling", "both"),
  pickup: decimals(0.2, 5, 1).map((x) => `${x} Hz/s`),
  delay: decimals(0.1, 1, 2).map((x) => `${x} s`),
  accuracy: fc.record({ pickup: fc.record({ absolute: fc.constant("0.05 Hz/s") }), time: timeAccuracy }),
});
const flux = fc.record({
  function: fc.constant("24"),
  watches: fc.constantFrom("line-to-line", "line-to-neutral"),
  pickup: decimals(105, 130, 0).map((x) => `${x} %`),
  curve: fc.record({ form: fc.constant("excess"), k: decimals(0.1, 10, 1), power: fc.constantFrom(1, 2) }),
  startContact: fc.constant("start V/Hz"),
  accuracy: fc.record({ pickup: fc.record({ percent: fc.constantFrom(1, 2) }), time: timeAccuracy }),
});

const polarised = fc.constantFrom(
  { function: "67", watches: "phase", polarising: "self" },
  { function: "67", watches: "phase", polarising: "quadrature" },
  { function: "67", watches: "negative-sequence", polarising: "-V2" },
  { function: "67N", polarising: "-3V0" },
  { function: "67N", polarising: "3V0" },
);
const degrees = (low: number, high: number) => fc.integer({ min: low, max: high }).map((x) => `${x}°`);
const directional = fc
  .tuple(
    polarised,
    fc.record({
      pickup: amperes(0.5, 8),
      delay,
      characteristicAngle: degrees(-180, 180),
      leading: degrees(40, 100),
      lagging: degrees(40, 100),
      operates: fc.constantFrom("forward", "reverse"),
      measures: fc.constantFrom("current", "current-cosine"),
      accuracy: fc.record({
        pickup: tolerance("A"),
        time: timeAccuracy,
        angle: fc.record({ absolute: decimals(1, 4, 1) }),
      }),
    }),
  )
  .map(([kind, rest]) => ({ ...kind, ...rest }));
const power = fc.record({
  function: fc.constant("32"),
  pickup: decimals(2, 200, 1).map((x) => `${x} W`),
  delay,
  operates: fc.constantFrom("forward", "reverse"),
  accuracy: fc.record({ pickup: fc.record({ percent: decimals(1, 10, 1) }), time: timeAccuracy }),
});

const share = (low: number, high: number) => decimals(low, high, 2).map((x) => `${x} × rated`);
const synchronism = fc
  .record({
    function: fc.constant("25"),
    watches: fc.constantFrom("a", "b", "c", "ab", "bc", "ca"),
    pickup: decimals(5, 45, 1).map((x) => `${x}°`),
    delay,
    limits: fc.record(
      {
        voltageDifference: share(0.02, 0.2),
        slip: decimals(0.02, 0.5, 2).map((x) => `${x} Hz`),
        closingTime: decimals(20, 120, 0).map((x) => `${x} ms`),
      },
      { requiredKeys: [] },
    ),
    // Whether a side may be dead.
    dead: fc.oneof(
      fc.constant({}),
      share(0.6, 0.9).map((liveAbove) => ({ liveAbove })),
      fc.record({
        liveAbove: share(0.6, 0.9),
        deadBelow: share(0.1, 0.3),
        deadClosing: fc.constantFrom("running", "incoming", "either"),
      }),
    ),
    accuracy: fc.record({
      pickup: fc.record({ absolute: decimals(1, 4, 1).map((x) => `${x}°`) }),
      time: timeAccuracy,
      voltage: tolerance("V"),
      frequency: fc.record({ percent: decimals(10, 20, 0) }),
    }),
  })
  .map(({ limits, dead, accuracy: all, ...rest }) => {
    const { voltage, frequency, ...accuracy } = all;
    const hasVoltage = limits.voltageDifference !== undefined || "liveAbove" in dead;
    const held = { ...(hasVoltage && { voltage }), ...(limits.slip !== undefined && { frequency }) };
    return { ...rest, ...limits, ...dead, accuracy: { ...accuracy, ...held } };
  });
const ohms = (low: number, high: number) => decimals(low, high, 2).map((x) => `${x} ohm`);
const impedance = (low: number, high: number) =>
  fc.oneof(
    fc.record({ size: ohms(low, high), angle: degrees(50, 88) }),
    fc.record({ resistance: ohms(0.05, 0.3), reactance: ohms(low, high) }),
  );
const zone = fc.oneof(
  fc.record({ form: fc.constant("mho"), lineAngle: degrees(45, 88) }),
  fc.record({ form: fc.constant("mho"), lineAngle: degrees(45, 88), reverse: ohms(0.1, 5) }),
  fc.record({
    form: fc.constant("quadrilateral"),
    lineAngle: degrees(55, 88),
    resistance: ohms(1, 30),
    tilt: degrees(-8, 8),
    forward: fc.record({ from: degrees(-40, 0), to: degrees(95, 140) }),
  }),
);
const earth = fc.oneof(
  fc.record({ factor: decimals(0, 1.5, 2), angle: degrees(-30, 30) }),
  fc.record({ z1: impedance(0.2, 0.5), z0: impedance(0.5, 2) }),
  fc.record({ resistanceRatio: decimals(0, 2, 2), reactanceRatio: decimals(0, 2, 2) }),
);
/** A reactance line that falls to the right meets the blinder above the axis: else the lines enclose no zone, and are refused. */
function encloses({ pickup, zone }: { readonly pickup: string; readonly zone: object }): boolean {
  const { resistance = "0", tilt = "0", lineAngle } = zone as { resistance?: string; tilt?: string; lineAngle: string };
  const [reach, angle] = [Number.parseFloat(pickup), (Number.parseFloat(lineAngle) * Math.PI) / 180];
  const falls = Math.tan((Math.max(0, -Number.parseFloat(tilt)) * Math.PI) / 180);
  return reach * Math.sin(angle) > 1.5 * (Number.parseFloat(resistance) + reach) * falls;
}

/** Lines between which a zone looks have an accuracy in angle; a mho has none of them. */
const withAngle = ({ zone, accuracy }: { readonly zone: { readonly form: string }; readonly accuracy: object }) =>
  zone.form === "quadrilateral" ? { ...accuracy, angle: { absolute: "3°" } } : accuracy;

/** One zone of a distance relay of any shape, with its loops. */
export const distanceElements = fc
  .tuple(
    fc.oneof(
      fc.constant({ watches: "phase-loops" }),
      earth.map((each) => ({ watches: "earth-loops", earth: each })),
      earth.map((each) => ({ watches: "phase-and-earth-loops", earth: each })),
    ),
    fc.record({
      function: fc.constant("21"),
      pickup: ohms(0.5, 20),
      zone,
      operates: fc.constantFrom("forward", "reverse"),
      delay,
      minimumCurrent: fc.constantFrom("0.1 A", "0.2 × rated"),
      accuracy: fc.record({
        pickup: fc.record({ percent: decimals(2, 8, 1) }),
        time: timeAccuracy,
      }),
    }),
    fc.constantFrom({}, { startContact: "start 21", dropoutRatio: 1.05 }),
  )
  .map(([kind, rest, more]) => ({ ...kind, ...rest, ...more, accuracy: withAngle(rest) }))
  .filter(encloses);
const slope = (line: string, low: number, high: number) =>
  fc.record({ slope: decimals(low, high, 2).map((x) => `${x * 100} %`), line: fc.constant(line) });
const firstSlope = fc.oneof(
  slope("through-origin", 0.15, 0.5),
  slope("from-knee", 0.1, 0.4).map((one) => ({ ...one, begins: "0.5 × rated" })),
);
const secondSlope = fc.tuple(
  fc.oneof(slope("through-origin", 0.5, 0.9), slope("from-knee", 0.5, 0.9)),
  decimals(4, 6, 1),
);
const restrained = (name: "87" | "87T") =>
  fc
    .record({
      function: fc.constant(name),
      pickup: decimals(0.15, 0.6, 2).map((x) => `${x} × rated`),
      restraint: fc.constantFrom("average", "sum", "maximum", "difference"),
      first: firstSlope,
      second: fc.option(secondSlope, { nil: undefined }),
      harmonic: fc.option(decimals(10, 30, 0), { nil: undefined }),
      delay: fc.option(delay, { nil: undefined }),
      accuracy: fc.record({
        pickup: fc.record({ percent: decimals(2, 10, 1) }),
        time: fc.constant({ percent: 5, absolute: "40 ms" }),
      }),
    })
    .map(({ first, second, harmonic, delay: given, ...rest }) => ({
      ...rest,
      ...(given !== undefined && { delay: given }),
      ...(harmonic !== undefined && { secondHarmonic: `${harmonic} %` }),
      slopes: second === undefined ? [first] : [first, { ...second[0], begins: `${second[1]} × rated` }],
    }));
const unrestrained = definite(["87U"], { pickup: decimals(4, 12, 1).map((x) => `${x} × rated`) }, "A");
const zeroSequence = fc.constantFrom("kept", "removed");
const clock = fc.integer({ min: 0, max: 11 });
/** 33/11 kV, 10 MVA, of any vector group; 5 A or 1 A on the second side. */
const onOneSide = fc.oneof(fc.tuple(clock, fc.constant(0)), fc.tuple(fc.constant(0), clock));
const transformer = fc
  .tuple(onOneSide, zeroSequence, zeroSequence, fc.constantFrom("600/5", "600/1"))
  .map(([[one, other], kept, keptToo, ct]) => ({
    power: "10 MVA",
    first: { voltage: "33 kV", clock: one, zeroSequence: kept },
    second: { ct, voltage: "11 kV", clock: other, zeroSequence: keptToo },
  }));

/** Sheets of one zone, with and without a transformer in it, on sources of one, three and six current channels. */
export const zoneSheets: fc.Arbitrary<Sheet> = fc
  .record({
    own: fc.oneof(
      fc.tuple(restrained("87T"), transformer),
      fc.tuple(restrained("87"), fc.constantFrom({}, { second: { ct: "500/1" } })),
    ),
    high: fc.option(
      fc.record({
        function: fc.constant("87U"),
        pickup: decimals(4, 12, 1).map((x) => `${x} × rated`),
        accuracy: fc.constant(usual),
      }),
      { nil: undefined },
    ),
    currentChannels: fc.constantFrom(1, 3, 6),
    rotation: fc.constantFrom("ABC", "ACB"),
    frequency: fc.constantFrom("50 Hz", "60 Hz"),
    values: fc.constantFrom("primary", "secondary"),
  })
  .map(({ own: [element, zone], high, currentChannels, ...other }) =>
    read([{ id: "E0", ...element }, ...(high === undefined ? [] : [{ id: "E1", ...high }])], {
      ct: "200/5",
      zone,
      source: { currentChannels },
      ...other,
    }),
  );

const element = fc.oneof(
  current,
  instantaneous,
  voltage("27", 0.4, 0.9),
  voltage("59", 1.06, 1.4),
  frequency("81O", 50.2, 53),
  frequency("81U", 47, 49.8),
  earthFault,
  undercurrent,
  negativeSequence,
  thermal,
  residualVoltage,
  frequencyRate,
  flux,
  directional,
  power,
  synchronism,
  distanceElements,
  restrained("87"),
  unrestrained,
);

/** Sheets with one to six elements of any kind, on sources of one and three channels, and six for currents. */
export const sheets: fc.Arbitrary<Sheet> = fc
  .record({
    elements: fc.array(element, { minLength: 1, maxLength: 6 }),
    source: fc.record({ currentChannels: fc.constantFrom(1, 3, 6), voltageChannels: fc.constantFrom(1, 3) }),
    rotation: fc.constantFrom("ABC", "ACB"),
  })
  .map(({ elements, ...other }) =>
    read(
      elements.map((each, i) => ({ id: `E${i}`, ...each })),
      { groundCt: "100/1", openDeltaVt: "11 kV/110 V", ...other },
    ),
  );

/** Sheets with one synchronism check, at both frequencies, on sources of one and three voltage channels. */
export const synchronismSheets: fc.Arbitrary<Sheet> = fc
  .record({
    each: synchronism,
    source: fc.record({ voltageChannels: fc.constantFrom(3, 3, 1) }),
    rotation: fc.constantFrom("ABC", "ACB"),
    frequency: fc.constantFrom("50 Hz", "60 Hz"),
  })
  .map(({ each, ...other }) => read([{ id: "25", ...each }], other));

/** Fields that need not be there, each mostly absent. */
const sometimes = (fields: { readonly [name: string]: fc.Arbitrary<unknown> }) =>
  fc.record(fields, { requiredKeys: [] });
const added = { addedTime: fc.constantFrom("10 ms", "0.5 cycles", "1 s") };
const measuring = { measuringDelay: fc.constantFrom("20 ms", "1 cycles", "100 ms") };
const startContact = { startContact: fc.constant("start") };
const optionalLaw = {
  ceilingMultiple: decimals(4, 20, 1),
  minimumTime: fc.constantFrom("0.1 s", "0.5 s", "2 s"),
  reset: fc.constantFrom({ form: "instantaneous" }, { form: "definite", time: "0.5 s" }, { form: "disk", time: "9 s" }),
  ...added,
};
const overDropout = { dropoutRatio: fc.constantFrom(0.3, 0.7, 0.95, "98 %", 0.999, 1) };
const underDropout = { dropoutRatio: fc.constantFrom(1, 1.001, "102 %", 1.1) };
const voltageDropout = { dropoutRatio: fc.constantFrom(0.97, "98 %", 0.999, 1) };
const levels = (unit: string) =>
  fc.record({ pickup: fc.record({ percent: decimals(1, 6, 1) }), time: fc.constant(usual.time) }).map((each) => ({
    ...each,
    ...(unit === "Hz" && { pickup: { absolute: "10 mHz" } }),
  }));
const timedOver = fc.oneof(
  fc.tuple(fc.record({ delay }), sometimes(added)),
  fc.tuple(
    fc.record({ curve: fc.constantFrom("iec-inverse", "iec-extremely-inverse", "ieee-very-inverse") }),
    sometimes({ ...optionalLaw, startRatio: decimals(1.05, 1.3, 2), multiplier: decimals(0.1, 1, 2) }),
  ),
);
const timedUnder = fc.oneof(
  fc.tuple(fc.record({ delay }), sometimes(added)),
  fc.tuple(
    fc.record({
      curve: fc.constantFrom("undervoltage-inverse", { form: "under", k: "2 s", alpha: 0.5, c: "0.1 s" }),
    }),
    sometimes({ minimumTime: fc.constantFrom("0.5 s"), startRatio: decimals(0.85, 0.95, 2), ...added }),
  ),
);
const withOptions = (
  needed: { readonly [name: string]: fc.Arbitrary<unknown> },
  timed: fc.Arbitrary<readonly object[]>,
  optional: { readonly [name: string]: fc.Arbitrary<unknown> },
) =>
  fc
    .tuple(fc.record(needed), timed, sometimes({ ...measuring, ...startContact, ...optional }))
    .map(([fixed, law, more]) => Object.assign({}, fixed, ...law, more) as object);

const optionElement = fc.oneof(
  withOptions(
    { function: fc.constantFrom("51", "51N"), pickup: amperes(0.5, 8), accuracy: levels("A") },
    timedOver,
    overDropout,
  ),
  withOptions(
    { function: fc.constantFrom("50", "50N"), pickup: amperes(2, 40), accuracy: levels("A") },
    fc.tuple(sometimes({ delay, ...added })),
    { ...overDropout, measuringDelay: fc.constantFrom("20 ms", "1 cycles") },
  ),
  withOptions(
    { function: fc.constant("37"), pickup: amperes(1, 2), accuracy: levels("A") },
    fc.tuple(fc.record({ delay }), sometimes(added)),
    {
      ...underDropout,
      phases: fc.constantFrom("any", "all"),
      blockBelow: amperes(0.1, 0.6),
      armAbove: amperes(0.5, 4),
    },
  ),
  withOptions(
    {
      function: fc.constant("27"),
      watches: fc.constantFrom("line-to-line", "line-to-neutral"),
      pickup: decimals(0.5, 0.85, 2).map((x) => `${x} × rated`),
      accuracy: levels("V"),
    },
    timedUnder,
    {
      ...underDropout,
      phases: fc.constantFrom("any", "all"),
      blockBelow: decimals(0.05, 0.3, 2).map((x) => `${x} × rated`),
      armAbove: decimals(0.5, 0.95, 2).map((x) => `${x} × rated`),
    },
  ),
  withOptions(
    {
      function: fc.constant("59"),
      watches: fc.constantFrom("line-to-line", "line-to-neutral"),
      pickup: decimals(1.1, 1.3, 2).map((x) => `${x} × rated`),
      accuracy: levels("V"),
    },
    fc.tuple(fc.record({ delay }), sometimes(added)),
    {
      ...voltageDropout,
      phases: fc.constantFrom("any", "all"),
      blockBelow: decimals(0.1, 0.8, 2).map((x) => `${x} × rated`),
    },
  ),
  withOptions(
    { function: fc.constantFrom("81O", "81U"), accuracy: levels("Hz") },
    fc.tuple(fc.record({ delay: fc.constantFrom("0.2 s", "30 cycles", "2 s") }), sometimes(added)),
    {
      dropoutDifference: fc.constantFrom("20 mHz", "50 mHz", "0.2 Hz"),
      blockBelow: decimals(0.2, 0.95, 2).map((x) => `${x} × rated`),
      measuringDelay: fc.constantFrom("4 cycles", "100 ms"),
    },
  ).map((each) => ({
    ...each,
    pickup: (each as { function: string }).function === "81O" ? "1.02 × rated" : "0.98 × rated",
  })),
  withOptions(
    {
      function: fc.constant("67N"),
      polarising: fc.constantFrom("-3V0", "3V0"),
      pickup: amperes(0.5, 4),
      characteristicAngle: degrees(-180, 180),
      operates: fc.constantFrom("forward", "reverse"),
      accuracy: levels("A").map((each) => ({ ...each, angle: { absolute: "2°" } })),
    },
    timedOver,
    {
      ...overDropout,
      leading: degrees(20, 150),
      lagging: degrees(20, 150),
      minimumVoltage: fc.constantFrom("1 V", "10 V"),
      measures: fc.constant("current-cosine"),
    },
  ),
);

/** Sheets of one element with what need not be there: limits that block or arm, extremes of dropouts, laws with bounds. */
export const optionSheets: fc.Arbitrary<Sheet> = fc
  .record({
    each: optionElement,
    source: fc.record({ currentChannels: fc.constantFrom(1, 3), voltageChannels: fc.constantFrom(1, 3) }),
    rotation: fc.constantFrom("ABC", "ACB"),
    frequency: fc.constantFrom("50 Hz", "60 Hz"),
    ct: fc.constantFrom("400/5", "400/1"),
  })
  .map(({ each, ...other }) => read([{ id: "E", ...each }], other));
