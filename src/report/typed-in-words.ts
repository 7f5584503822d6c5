/** Fields of a sheet as people read them. */

/** `voltage 33 kV, zeroSequence kept`; what has fields of its own stands in brackets. */
export const fieldsInWords = (typed: object): string =>
  Object.entries(typed)
    .filter(([, value]) => value !== undefined)
    .map(([field, value]) => `${field} ${typedInWords(value)}`)
    .join(", ");

/** One value, or a list of them. */
export function typedInWords(value: unknown): string {
  if (Array.isArray(value)) return value.map(typedInWords).join(", ");
  return typeof value === "object" && value !== null ? `(${fieldsInWords(value)})` : String(value);
}
