/** A number with its unit: a ratio, whose unit is "1", stands alone, and a degree sign right behind its number (ISO 80000-1). */
export const written = (value: number | string, unit: string): string => {
  if (unit === "1") return `${value}`;
  return unit === "°" ? `${value}°` : `${value} ${unit}`;
};

/** A number in so many significant digits at most, without an exponent within reason. */
export const plain = (x: number, digits: number): string => String(Number(x.toPrecision(digits)));
