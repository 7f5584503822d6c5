import { type InputError, operateTime, type Seconds } from "tripwright";
import type { CurveSetting } from "tripwright/curve";
import { type Grade, grade } from "tripwright/grading";
import type { Hertz } from "tripwright/timeline";

const setting: CurveSetting = { curve: "iec-inverse", multiplier: 0.2 };
const time: Seconds = operateTime(setting, 3);
const verdict: Grade["verdict"] = grade(time, { nominal: 1.26, low: 1.2, high: 1.32 }).verdict;
const problems = (error: InputError): number => error.problems.length;
// @ts-expect-error A time is no frequency.
const frequency: Hertz = time;
// @ts-expect-error Not the name of a curve.
operateTime({ curve: "inverse" }, 3);

export { frequency, problems, verdict };
