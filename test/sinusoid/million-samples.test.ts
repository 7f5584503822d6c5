/** What a million samples do to a track and to a fit: nothing. */
import { frequencyTrack, phasorTrack, sample, type TrackOptions, trackWindow } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { type ComplexReference, gap } from "../base/reference.js";
import { degreesApart, found } from "./traces.js";
import { phasorOf, sampled, truth, windowSums } from "./windows.js";

const MILLION = 1_000_000;

const off = (track: ArrayLike<number>, k: number, reference: ComplexReference): number =>
  gap(phasorOf(track, k), reference).toNumber();

const largest = (list: ArrayLike<number>): number =>
  Array.from(list).reduce((most, x) => Math.max(most, Math.abs(x)), 0);

describe("a million samples later", () => {
  /** The greatest distance of any phasor from the reference, as a share of the largest sample. */
  function drift(samples: Float64Array, options: TrackOptions, { re, im }: ComplexReference): number {
    const track = phasorTrack(samples, options);
    const [x, y] = [re.toNumber(), im.toNumber()];
    let most = 0;
    for (let i = 0; i < track.length; i += 2) {
      most = Math.max(most, Math.abs((track[i] as number) - x), Math.abs((track[i + 1] as number) - y));
    }
    return most / largest(samples);
  }

  test("phasors have not drifted by more than 3e-14 of full scale, whole cycles or not", () => {
    // 50 Hz comes again after 80 samples, 60 Hz after 200; harmonics and an offset stand beside it.
    const repeated = (f: number, period: number) => {
      const once = sampled({ f, sampleRate: 4000, angle: 33, count: period, rms: 100 });
      return Float64Array.from({ length: MILLION }, (_, n) => (once[n % period] as number) + 31.7);
    };
    expect(drift(repeated(50, 80), { sampleRate: 4000, frequency: 50 }, truth(100, 33))).toBeLessThanOrEqual(3e-14);
    expect(drift(repeated(60, 200), { sampleRate: 4000, frequency: 60 }, truth(100, 33))).toBeLessThanOrEqual(3e-14);
  });

  test("sums have not drifted either where samples never come again", () => {
    const noise = Float64Array.from({ length: MILLION }, (_, n) => ((n * n * 0.6180339887498949) % 2) - 1);
    for (const cycle of [80, 1000]) {
      const track = phasorTrack(noise, { sampleRate: 50 * cycle, frequency: 50 });
      const sumOf = windowSums(cycle);
      for (const k of [479, 959, 999, 500_639, 998_999, MILLION - cycle]) {
        expect(off(track, k, sumOf(noise, k))).toBeLessThanOrEqual(1e-14);
      }
    }
  });

  test("the angle is still that against a cosine of exactly the nominal frequency", () => {
    for (const [frequency, angle] of [
      [59.97, 12],
      [49.99, -77],
      [1000 / 17, 100],
    ] as const) {
      const options = { sampleRate: 4000, frequency };
      const { cycle } = trackWindow(options);
      const samples = new Float64Array(MILLION);
      const first = MILLION - cycle;
      samples.set(sampled({ f: frequency, sampleRate: 4000, angle, count: cycle, first }), first);
      expect(off(phasorTrack(samples, options), first, truth(1, angle))).toBeLessThanOrEqual(5e-15);
    }
  });

  test("a fit is as good as over a few", () => {
    const wave = { rms: 100, frequency: 49.987, angle: 77, offset: -20 };
    const samples = sample(wave, { sampleRate: 10_000, count: 1_000_000 });
    const fit = found(samples, { sampleRate: 10_000, frequency: 50 });
    expect(Math.abs(fit.frequency / wave.frequency - 1)).toBeLessThan(1e-15);
    expect(Math.abs(fit.rms / wave.rms - 1)).toBeLessThan(1e-12);
    expect(degreesApart(fit.angle, wave.angle)).toBeLessThan(1e-10);
    const kept = found(samples, { sampleRate: 10_000, frequency: 49.987, fixedFrequency: true });
    expect(degreesApart(kept.angle, wave.angle)).toBeLessThan(1e-10);
    expect(kept.iterations).toBe(0);
  });

  test("the frequency of phasors that have turned a thousand times is still that", () => {
    const phasors = Float64Array.from({ length: 2 * MILLION }, (_, i) => {
      const turned = (Math.PI / 180) * ((0.45 * Math.floor(i / 2)) % 360);
      return i % 2 === 0 ? Math.cos(turned) : Math.sin(turned);
    });
    const track = frequencyTrack(phasors, { sampleRate: 4000, frequency: 50 });
    // 0.45° a sample are 5 turns a second.
    for (const f of track.subarray(track.length - 50_000)) expect(Math.abs(f - 55)).toBeLessThan(1e-10);
  });
});
