/** Waves of known Fourier series, over a phase in cycles. */
export const cosine = (cycles: number): number => Math.cos(2 * Math.PI * cycles);
export const fraction = (x: number): number => x - Math.floor(x);

/** One cycle of each shape with peak 1, and what its Fourier series has: rms, mean, rms of the fundamental. */
export const SHAPES = {
  sine: { at: cosine, rms: Math.SQRT1_2, mean: 0, fundamental: Math.SQRT1_2 },
  square: {
    at: (c: number) => (fraction(c) < 0.5 ? 1 : -1),
    rms: 1,
    mean: 0,
    fundamental: (4 / Math.PI) * Math.SQRT1_2,
  },
  triangle: {
    at: (c: number) => 4 * Math.abs(fraction(c) - 0.5) - 1,
    rms: 1 / Math.sqrt(3),
    mean: 0,
    fundamental: (8 / Math.PI ** 2) * Math.SQRT1_2,
  },
  sawtooth: {
    at: (c: number) => 2 * fraction(c) - 1,
    rms: 1 / Math.sqrt(3),
    mean: 0,
    fundamental: (2 / Math.PI) * Math.SQRT1_2,
  },
  "half-wave": {
    at: (c: number) => Math.max(0, cosine(c)),
    rms: 0.5,
    mean: 1 / Math.PI,
    fundamental: 0.5 * Math.SQRT1_2,
  },
  "full-wave": {
    at: (c: number) => Math.abs(cosine(c / 2)),
    rms: Math.SQRT1_2,
    mean: 2 / Math.PI,
    fundamental: (4 / 3 / Math.PI) * Math.SQRT1_2,
  },
} as const;
export type Shape = keyof typeof SHAPES;
