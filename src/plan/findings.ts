/** Settings that make no sense together, or on this system. */

import { decimal } from "../base/exact.js";
import type { Problem } from "../base/problem.js";
import type { Seconds } from "../base/units.js";
import { plain, written } from "../base/written.js";
import {
  dropoutLevel,
  type ElementSetting,
  inputsOf,
  type RelayInputs,
  standingAt,
  startLevel,
} from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { expectPickup, expectTime } from "./expect.js";
import { findingsBetween } from "./findings-between.js";
import { toleranceInWords } from "./in-words.js";
import { atEarlyPickup } from "./interference.js";
import { armingLevelOf, blockingLevelOf, definition, inItsUnit, isInverse, isStartedBy } from "./started.js";
import { timedPoints } from "./timed-points.js";

/** Every finding, each with the field that it is about. None of them keeps a plan from being made. */
export function findingsOf(settings: RelaySettings): Problem[] {
  const each = settings.elements.flatMap((element) => [
    ...onHealthySystem(element, settings),
    ...ceilingAtStart(element),
    ...fasterThanMeasuringDelay(element),
    ...betweenSteps(element),
    ...outOfReach(element, settings),
    ...startsAtNothing(element),
    ...doubtful(element),
  ]);
  return [...each, ...findingsBetween(settings.elements)];
}

/** What it makes of the healthy system, in all three phases, whatever the source at hand can make of that. */
function onHealthySystem(element: ElementSetting, { setup }: RelaySettings): Problem[] {
  const { pose, healthyLevel } = definition(element);
  const threePhase = { ...setup, currentChannels: 3, voltageChannels: 3 } as const;
  const posed = pose(element, threePhase);
  if (posed.kind === "none") return [];
  const healthy = inputsOf(posed.healthy ?? standingAt(posed, healthyLevel(element, threePhase)), posed.wiring);
  return [operatesThere, staysOperatedThere, blockedThere, neverArmedThere].flatMap((find) => find(element, healthy));
}

/** It operates on the healthy system, or may do so within its tolerance. */
function operatesThere(element: ElementSetting, healthy: RelayInputs): Problem[] {
  if (!isStartedBy(atEarlyPickup(element), healthy)) return [];
  const setting = inItsUnit(element.pickup, element);
  const finding = { code: "conflict", path: `${element.id}.pickup` } as const;
  if (isStartedBy(element, healthy))
    return [{ ...finding, expected: "a setting at which the element is quiet on a healthy system", received: setting }];
  const expected =
    "a setting further from the healthy system than its tolerance, within which the element may operate there";
  return [{ ...finding, expected, received: setting }];
}

/** Rounding is no dropout. */
const HAIR = 1e-9;

/** It lets go only beyond the healthy system, so that what has operated once stays so. */
function staysOperatedThere(element: ElementSetting, healthy: RelayInputs): Problem[] {
  if (element.dropout === undefined || isStartedBy(element, healthy)) return [];
  const { read, side, unit } = definition(element);
  // Nobody knows the current of a healthy system.
  if (unit === "A") return [];
  const { quantity, blocked } = read(healthy, element);
  const lets = dropoutLevel(element);
  const stays = side === "over" ? quantity > lets * (1 + HAIR) : quantity < lets * (1 - HAIR);
  if (blocked || !stays) return [];
  const [field, typed] =
    "ratio" in element.dropout
      ? ["dropoutRatio", `${element.dropout.ratio}`]
      : ["dropoutDifference", inItsUnit(element.dropout.difference, element)];
  return [
    {
      code: "conflict",
      path: `${element.id}.${field}`,
      expected: `a dropout ${side === "over" ? "above" : "below"} ${inItsUnit(plain(quantity, 6), element)}, which the healthy system has, so that the element lets go there`,
      received: `${typed}, which is ${inItsUnit(plain(lets, 6), element)}`,
    },
  ];
}

/** It is blocked on the healthy system, or wherever it would start. */
function blockedThere(element: ElementSetting, healthy: RelayInputs): Problem[] {
  const blockBelow = blockingLevelOf(element);
  if (blockBelow === undefined) return [];
  const { read, side, unit } = definition(element);
  const finding = {
    code: "conflict",
    path: `${element.id}.blockBelow`,
    // A frequency is blocked by a voltage.
    received: written(blockBelow, unit === "A" ? "A" : "V"),
  } as const;
  if (read(healthy, element).blocked)
    return [
      { ...finding, expected: "a level that the healthy system is above, so that the element is not blocked there" },
    ];
  const start = startLevel(element);
  if (side === "over" || unit === "Hz" || blockBelow < start) return [];
  return [{ ...finding, expected: `a level below where the element starts, ${written(plain(start, 6), unit)}` }];
}

/** It waits for more than the healthy system has. */
function neverArmedThere(element: ElementSetting, healthy: RelayInputs): Problem[] {
  const armAbove = armingLevelOf(element);
  if (armAbove === undefined || definition(element).read(healthy, element).arms) return [];
  return [
    {
      code: "conflict",
      path: `${element.id}.armAbove`,
      expected: "a level that the healthy system is above, which arms the element",
      received: inItsUnit(armAbove, element),
    },
  ];
}

/** A curve that is flat from below where it starts has one time, whatever its constants say. */
function ceilingAtStart({ id, law }: ElementSetting): Problem[] {
  const { ceilingMultiple, startRatio = 1 } = law;
  if (ceilingMultiple === undefined || ceilingMultiple > 1.5 * startRatio) return [];
  return [
    {
      code: "conflict",
      path: `${id}.ceilingMultiple`,
      expected: `a ceiling well above the start (${startRatio} × the setting), so that the curve has room to operate on`,
      received: String(ceilingMultiple),
    },
  ];
}

/** No contact closes before the function has seen its quantity; the latest accepted time must leave room for that. */
function fasterThanMeasuringDelay(element: ElementSetting): Problem[] {
  const { id, measuringDelay, pickup } = element;
  const expected = `a time whose upper limit is not below the measuring delay of ${plain(measuringDelay, 4)} s`;
  // A definite time is the same wherever it is timed.
  const points = isInverse(element) ? timedPoints(element) : timedPoints(element).slice(0, 1);
  return points.flatMap(({ level }) => {
    const time = expectTime(element, level);
    if (time.kind === "none") return [];
    const { nominal, high } = time.band;
    if (high === undefined || high >= measuringDelay) return [];
    const multiple = plain(level / pickup, 6);
    if (nominal === 0) return slowerThanItsLimit(element, high);
    return isInverse(element)
      ? {
          code: "conflict",
          path: `${id}.curve`,
          expected,
          received: `${plain(nominal, 4)} s at ${multiple} × the setting, at most ${plain(high, 4)} s`,
        }
      : { code: "conflict", path: `${id}.delay`, expected, received: `${nominal} s, at most ${high} s` };
  });
}

/** Without a delay of its own it is the measuring delay that is wrong, or that the sheet leaves out. */
function slowerThanItsLimit(element: ElementSetting, latest: Seconds): Problem {
  const { id, measuringDelay } = element;
  const { measuringCycles } = definition(element).practice;
  return {
    code: "conflict",
    path: `${id}.measuringDelay`,
    expected: `a measuring delay of at most ${plain(latest, 4)} s, the latest time that is accepted`,
    received: `${plain(measuringDelay, 4)} s (${measuringCycles} cycles where the sheet gives none)`,
  };
}

/** A tolerance as wide as the setting, where an over function that has started at nothing would pass. */
function startsAtNothing(element: ElementSetting): Problem[] {
  const { id, accuracy, pickup } = element;
  const { side = "both" } = accuracy.pickup;
  const { side: operates, unit } = definition(element);
  if (operates === "under" || side === "high" || expectPickup(element).band.low !== undefined) return [];
  const expected = `a tolerance that leaves a lower limit above 0 of ${inItsUnit(pickup, element)}`;
  return [
    { code: "conflict", path: `${id}.accuracy.pickup`, expected, received: toleranceInWords(accuracy.pickup, unit) },
  ];
}

/** A setting that the relay cannot take. */
function betweenSteps(element: ElementSetting): Problem[] {
  const { id, pickup, step } = element;
  if (step === undefined) return [];
  const steps = decimal(pickup, "pickup").div(decimal(step, "step"));
  if (steps.minus(steps.round()).abs().lte(steps.abs().times("1e-12"))) return [];
  return [
    {
      code: "conflict",
      path: `${id}.pickup`,
      expected: `a multiple of the setting step ${inItsUnit(step, element)}`,
      received: inItsUnit(pickup, element),
    },
  ];
}

/** Where the setting itself is more than the source can put out, nothing of the element can be proved. */
function outOfReach(element: ElementSetting, { setup, sourceLimits }: RelaySettings): Problem[] {
  const { pose, unit } = definition(element);
  const posed = pose(element, setup);
  if (posed.kind === "none" || (unit !== "A" && unit !== "V")) return [];
  const most = (unit === "A" ? sourceLimits.current : sourceLimits.voltage)?.rms;
  const quantity = unit === "A" ? "current" : "voltage";
  // Voltages that polarise are no current.
  const needed = Math.max(
    0,
    ...Object.entries(standingAt(posed, element.pickup)).map(([name, { rms }]) =>
      posed.wiring[name]?.quantity === quantity ? rms : 0,
    ),
  );
  if (most === undefined || needed <= most) return [];
  return [
    {
      code: "conflict",
      path: `${element.id}.pickup`,
      expected: `a setting within what one channel of the source can make, ${written(most, unit)}`,
      received: `${written(element.pickup, unit)}, which needs ${plain(needed, 6)} ${unit}`,
    },
  ];
}

/** What the function itself finds odd. */
const doubtful = (element: ElementSetting): Problem[] =>
  (definition(element).doubts?.(element) ?? []).map(({ field, ...rest }) => ({
    code: "conflict",
    path: `${element.id}.${field}`,
    ...rest,
  }));
