/** A number with its unit; a ratio, whose unit is "1", stands alone. */
export const written = (value: number | string, unit: string): string =>
  unit === "1" ? `${value}` : `${value} ${unit}`;
