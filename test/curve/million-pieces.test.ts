/** A million pieces keep their digits, and so does a record of as many samples that no kernel takes. */
import { type CurveSetting, operateInstant, operateInstantOfSamples, operateTime } from "tripwright/curve";
import { expect, test } from "vitest";

const COUNT = 1_000_000;
const curves: readonly (readonly [string, CurveSetting["curve"]])[] = [
  ["an inverse curve", "iec-very-inverse"],
  ["an energy curve", { form: "energy", k: 10 }],
  ["an excess curve", { form: "excess", k: 10, power: 1.5 }],
];

test.each(curves)("%s at one multiple operates at its operate time", (_what, curve) => {
  const time = operateTime({ curve }, 3);
  const sampleRate = (0.9995 * COUNT) / time;
  const pieces = Array.from({ length: COUNT }, () => ({ duration: 1 / sampleRate, from: 3, to: 3 }));
  const { operatedAt = 0 } = operateInstant({ curve }, pieces);
  expect(Math.abs(operatedAt - time)).toBeLessThanOrEqual(1e-14 * time);
  const ofSamples = operateInstantOfSamples({ curve }, new Float64Array(COUNT).fill(3), { sampleRate });
  expect(Math.abs((ofSamples.operatedAt ?? 0) - time)).toBeLessThanOrEqual(1e-13 * time);
});
