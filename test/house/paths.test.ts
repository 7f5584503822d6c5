/**
 * The rule of DEVELOPERS.md on paths: fields of the first argument stand bare, those of a further one carry its name. And of
 * several ways to say something all are named where none is given.
 */
import {
  boundaryAlong,
  compensated,
  distanceTo,
  faultAt,
  heightAt,
  outlineOf,
  type Region,
} from "tripwright/characteristic";
import { definiteTimeOf, type ElementSetting, healthy } from "tripwright/element";
import { explain } from "tripwright/explain";
import { phasorFigure, profileFigure, recordFigures, toleranceFigure, waveformFigure } from "tripwright/figure";
import {
  conformanceProbability,
  grade,
  type Line,
  roundTo,
  standardUncertainty,
  uncertaintyRatio,
  valueOnLine,
} from "tripwright/grading";
import { expectDropout, expectPickup, expectTime, type Plan } from "tripwright/plan";
import type { TestRecord } from "tripwright/record";
import { rehearse } from "tripwright/rehearsal";
import { blankReadings, siteCard, summarize, toMarkdown } from "tripwright/report";
import { amplitudes, offsetSinusoid, xOverROf } from "tripwright/sinusoid";
import {
  checkInput,
  checkSource,
  rampError,
  render,
  repeatTimeline,
  staircase,
  stateAt,
  type Timeline,
  thereAndBack,
  totalTime,
  walk,
} from "tripwright/timeline";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const circle: Region = { form: "circle", center: { x: 0, y: 0 }, radius: -1 };
const line: Region = { form: "above", points: [{ x: 0, y: Number.NaN }], slope: 0 };
const none = { re: 0, im: 0 };
const odd = { re: 0, im: Number.NaN };
const timeline: Timeline = {
  wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
  segments: [{ name: "fault", duration: -1, channels: {} }],
};
const setting = (change: object): ElementSetting =>
  ({
    ...{ id: "51P", function: "51", watches: "phase", pickup: 4, dropout: { ratio: 0.95 }, measuringDelay: 0.04 },
    ...{ contact: "trip", law: { curve: "iec-very-inverse", multiplier: 0.2 } },
    accuracy: { pickup: { percent: 5 }, time: { percent: 5 }, ...change },
  }) as ElementSetting;
const slow = { ...setting({}), law: { curve: "iec-very-inverse", multiplier: -1 } } as ElementSetting;
const planned = { about: {}, checks: [] } as unknown as Plan;
const record = (change: object) => ({ sheet: {}, plan: planned, verdicts: [], ...change }) as unknown as TestRecord;
const sheet = { format: "tripwright/sheet@1" };

test.each<readonly [string, string, () => unknown]>([
  ["distanceTo", "radius", () => distanceTo(circle, { x: 0, y: 0 })],
  ["distanceTo", "point.y", () => distanceTo({ ...circle, radius: 1 }, { x: 0, y: Number.NaN })],
  ["outlineOf", "radius", () => outlineOf(circle)],
  ["boundaryAlong", "radius", () => boundaryAlong(circle, { angle: 0 })],
  ["heightAt", "points[0].y", () => heightAt(line, 1)],
  ["compensated", "b.im", () => compensated({ a: none, b: odd, c: none }, { clock: 1 })],
  ["totalTime", "segments[0].duration", () => totalTime(timeline)],
  ["stateAt", "segments[0].duration", () => stateAt(timeline, 0)],
  ["walk", "segments[0].duration", () => walk(timeline, [])],
  ["render", "segments[0].duration", () => render(timeline, { channel: "i", sampleRate: 1000 })],
  ["repeatTimeline", "segments[0].duration", () => repeatTimeline(timeline, { times: 2 })],
  ["checkInput", "segments[0].duration", () => checkInput(timeline, {})],
  ["checkSource", "segments[0].duration", () => checkSource(timeline, {})],
  ["rehearse", "timeline.segments[0].duration", () => rehearse([], timeline)],
  ["profileFigure", "timeline.segments[0].duration", () => profileFigure({ title: "t", timeline })],
  ["waveformFigure", "timeline.segments[0].duration", () => waveformFigure({ title: "t", timeline })],
  ["uncertaintyRatio", "high", () => uncertaintyRatio({ nominal: 1, low: 2, high: 1 }, { expandedUncertainty: 1 })],
  ["grade", "accepted.high", () => grade(1, { nominal: 1, low: 2, high: 1 })],
  [
    "conformanceProbability",
    "band.low",
    () => conformanceProbability(1, { nominal: 1, low: Number.NaN }, { standardUncertainty: 1 }),
  ],
  ["valueOnLine", "middle.y", () => valueOnLine({ slope: 1, middle: { x: 1 } } as Line, 1)],
  ["healthy", "frequency", () => healthy({ frequency: 0, rotation: "ABC", currentChannels: 1, voltageChannels: 1 })],
  ["definiteTimeOf", "curve.time", () => definiteTimeOf({ curve: { form: "definite", time: -1 } })],
  ["expectPickup", "accuracy.pickup.percent", () => expectPickup(setting({ pickup: { percent: -5 } }))],
  ["expectDropout", "accuracy.pickup.percent", () => expectDropout(setting({ pickup: { percent: -5 } }))],
  ["expectDropout", "accuracy.dropout.percent", () => expectDropout(setting({ dropout: { percent: -5 } }))],
  ["expectTime", "accuracy.time.percent", () => expectTime(setting({ time: { percent: -5 } }), 12)],
  ["expectTime", "law.multiplier", () => expectTime(slow, 12)],
  ["siteCard", "impossible", () => siteCard(planned)],
  ["blankReadings", "impossible", () => blankReadings(planned)],
  ["toMarkdown", "plan.impossible", () => toMarkdown(record({}))],
  ["summarize", "sheet", () => summarize(record({ sheet: "tannery-lane" }))],
  ["toleranceFigure", "verdicts", () => toleranceFigure(record({}))],
  ["recordFigures", "verdicts", () => recordFigures(record({}))],
  ["explain", "verdicts", () => explain(record({ verdicts: 5 }))],
  ["explain", "sheet.frequency", () => explain(record({ sheet }))],
  [
    "phasorFigure",
    "sets[0].groups[0].phasors.a.im",
    () => phasorFigure({ title: "t", sets: [{ name: "V", groups: [{ unit: "V", phasors: { a: odd } }] }] }),
  ],
  [
    "phasorFigure",
    "sets[0].groups[0].phasors.a",
    () => phasorFigure({ title: "t", sets: [{ name: "V", groups: [{ unit: "V", phasors: { a: null as never } }] }] }),
  ],
])("%s names %s", (_name, path, work) => {
  expect(problemsOf(work).map((problem) => problem.path)).toContain(path);
});

const fault = { loop: "a", impedance: { re: 1, im: 2 }, k0: none, healthyVoltage: 63.5 } as const;
test.each<readonly [string, readonly string[], () => unknown]>([
  ["amplitudes", ["rms", "peak", "peakToPeak", "averageRectified"], () => amplitudes({} as never)],
  ["xOverROf", ["tau", "powerFactor"], () => xOverROf({} as never)],
  ["offsetSinusoid", ["angle", "inception"], () => offsetSinusoid({ rms: 1, frequency: 50, xOverR: 9 } as never)],
  ["offsetSinusoid", ["xOverR", "tau"], () => offsetSinusoid({ rms: 1, frequency: 50, angle: 0 } as never)],
  ["faultAt", ["current", "loopVoltage", "source"], () => faultAt({ ...fault, held: {} as never })],
  ["standardUncertainty", ["expanded", "halfWidth"], () => standardUncertainty({} as never)],
  ["roundTo", ["decimals", "step"], () => roundTo(1, {} as never)],
  ["staircase", ["dwell", "rate"], () => staircase({ from: 1, to: 2, step: 0.1 } as never)],
  ["thereAndBack", ["rate", "step"], () => thereAndBack({ from: 1, to: 2 } as never)],
  ["rampError", ["rate", "step"], () => rampError({ direction: "rising", operateDelay: 0.1 } as never)],
])("%s names what may be given where nothing of it is: %j", (_name, names, work) => {
  const [problem, ...more] = problemsOf(work);
  expect(more).toEqual([]);
  expect(problem?.code).toBe("missing");
  for (const name of names) expect(problem?.expected).toMatch(new RegExp(`\\b${name}\\b`));
});
