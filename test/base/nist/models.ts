/**
 * The models of the sets, as their files print them, with their derivatives: each returns y(x) and writes ∂y/∂b into
 * `slopes`. The derivatives are held against differences by a test of their own.
 */

/** y(x; b) with its derivatives by b. */
export type Model = (b: ArrayLike<number>, x: readonly number[], slopes: Float64Array) => number;

const at = (b: ArrayLike<number>, i: number): number => b[i] as number;

/** y = b1·(1 − exp(−b2·x)) */
const saturation: Model = (b, [x = 0], slopes) => {
  const decay = Math.exp(-at(b, 1) * x);
  slopes[0] = -Math.expm1(-at(b, 1) * x);
  slopes[1] = at(b, 0) * x * decay;
  return at(b, 0) * (slopes[0] as number);
};

/** y = b1·x^b2 */
const power: Model = (b, [x = 0], slopes) => {
  slopes[0] = x ** at(b, 1);
  const y = at(b, 0) * (slopes[0] as number);
  slopes[1] = y * Math.log(x);
  return y;
};

/** y = b1·(1 − (1 + b2·x/2)^−2) */
const inverseSquare: Model = (b, [x = 0], slopes) => {
  const base = 1 + (at(b, 1) * x) / 2;
  slopes[0] = 1 - base ** -2;
  slopes[1] = at(b, 0) * x * base ** -3;
  return at(b, 0) * (slopes[0] as number);
};

/** y = b1·(1 − (1 + 2·b2·x)^−½) */
const inverseRoot: Model = (b, [x = 0], slopes) => {
  const base = 1 + 2 * at(b, 1) * x;
  slopes[0] = 1 - base ** -0.5;
  slopes[1] = at(b, 0) * x * base ** -1.5;
  return at(b, 0) * (slopes[0] as number);
};

/** y = b1·b2·x/(1 + b2·x) */
const hyperbola: Model = (b, [x = 0], slopes) => {
  const base = 1 + at(b, 1) * x;
  slopes[0] = (at(b, 1) * x) / base;
  slopes[1] = (at(b, 0) * x) / base ** 2;
  return at(b, 0) * (slopes[0] as number);
};

/** y = b1 + b2·cos(2πx/12) + b3·sin(2πx/12) + b5·cos(2πx/b4) + b6·sin(2πx/b4) + b8·cos(2πx/b7) + b9·sin(2πx/b7) */
const threeCycles: Model = (b, [x = 0], slopes) => {
  const year = (2 * Math.PI * x) / 12;
  slopes.set([1, Math.cos(year), Math.sin(year)]);
  let y = at(b, 0) + at(b, 1) * (slopes[1] as number) + at(b, 2) * (slopes[2] as number);
  for (const first of [3, 6]) {
    const turn = (2 * Math.PI * x) / at(b, first);
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    slopes.set([(turn / at(b, first)) * (at(b, first + 1) * sin - at(b, first + 2) * cos), cos, sin], first);
    y += at(b, first + 1) * cos + at(b, first + 2) * sin;
  }
  return y;
};

/** y = (b1/b2)·exp(−½·((x − b3)/b2)²) */
const bell: Model = (b, [x = 0], slopes) => {
  const away = (x - at(b, 2)) / at(b, 1);
  slopes[0] = Math.exp(-0.5 * away ** 2) / at(b, 1);
  const y = at(b, 0) * (slopes[0] as number);
  slopes[1] = (y * (away ** 2 - 1)) / at(b, 1);
  slopes[2] = (y * away) / at(b, 1);
  return y;
};

/** y = b1·exp(−b2·x) + b3·exp(−(x − b4)²/b5²) + b6·exp(−(x − b7)²/b8²) */
const twoBells: Model = (b, [x = 0], slopes) => {
  const decay = Math.exp(-at(b, 1) * x);
  slopes.set([decay, -x * at(b, 0) * decay]);
  let y = at(b, 0) * decay;
  for (const first of [2, 5]) {
    const width = at(b, first + 2);
    const away = (x - at(b, first + 1)) / width;
    const shape = Math.exp(-(away ** 2));
    const part = at(b, first) * shape;
    slopes.set([shape, (2 * part * away) / width, (2 * part * away ** 2) / width], first);
    y += part;
  }
  return y;
};

/** y = (b1 + b2·x + b3·x² + b4·x³)/(1 + b5·x + b6·x² + b7·x³) */
const cubicOverCubic: Model = (b, [x = 0], slopes) => {
  const above = at(b, 0) + x * (at(b, 1) + x * (at(b, 2) + x * at(b, 3)));
  const below = 1 + x * (at(b, 4) + x * (at(b, 5) + x * at(b, 6)));
  const y = above / below;
  for (let i = 0; i < 4; i++) slopes[i] = x ** i / below;
  for (let i = 1; i < 4; i++) slopes[3 + i] = (-y * x ** i) / below;
  return y;
};

/** y = b1·exp(−b2·x) + b3·exp(−b4·x) + b5·exp(−b6·x) */
const threeDecays: Model = (b, [x = 0], slopes) => {
  let y = 0;
  for (const first of [0, 2, 4]) {
    const decay = Math.exp(-at(b, first + 1) * x);
    slopes.set([decay, -x * at(b, first) * decay], first);
    y += at(b, first) * decay;
  }
  return y;
};

/** y = b1·exp(b2/(x + b3)) */
const activation: Model = (b, [x = 0], slopes) => {
  const base = x + at(b, 2);
  slopes[0] = Math.exp(at(b, 1) / base);
  const y = at(b, 0) * (slopes[0] as number);
  slopes[1] = y / base;
  slopes[2] = (-y * at(b, 1)) / base ** 2;
  return y;
};

/** log y = b1 − b2·x1·exp(−b3·x2) */
const degradation: Model = (b, [time = 0, temperature = 0], slopes) => {
  const speed = time * Math.exp(-at(b, 2) * temperature);
  slopes.set([1, -speed, at(b, 1) * speed * temperature]);
  return at(b, 0) - at(b, 1) * speed;
};

/** y = b1/(1 + exp(b2 − b3·x)) */
const sigmoid: Model = (b, [x = 0], slopes) => {
  const growth = Math.exp(at(b, 1) - at(b, 2) * x);
  slopes[0] = 1 / (1 + growth);
  const y = at(b, 0) * (slopes[0] as number);
  slopes[1] = (-y * growth) / (1 + growth);
  slopes[2] = (x * y * growth) / (1 + growth);
  return y;
};

/** y = b1 − b2·x − arctan(b3/(x − b4))/π */
const quantumDefect: Model = (b, [x = 0], slopes) => {
  const away = x - at(b, 3);
  const circle = (away ** 2 + at(b, 2) ** 2) * Math.PI;
  slopes.set([1, -x, -away / circle, -at(b, 2) / circle]);
  return at(b, 0) - at(b, 1) * x - Math.atan(at(b, 2) / away) / Math.PI;
};

/** The model of each set. */
export const models: Readonly<Record<string, Model>> = {
  BoxBOD: saturation,
  DanWood: power,
  ENSO: threeCycles,
  Eckerle4: bell,
  Gauss1: twoBells,
  Gauss2: twoBells,
  Hahn1: cubicOverCubic,
  Lanczos3: threeDecays,
  MGH10: activation,
  Misra1a: saturation,
  Misra1b: inverseSquare,
  Misra1c: inverseRoot,
  Misra1d: hyperbola,
  Nelson: degradation,
  Rat42: sigmoid,
  Roszman1: quantumDefect,
  Thurber: cubicOverCubic,
};
