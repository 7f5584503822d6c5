/** In which unit a check is read. */

/** What must happen in a check: a reading within a band, or nothing at all. */
interface Awaiting<Unit> {
  readonly expect: { readonly form: "band"; readonly unit: Unit } | { readonly form: "stays-quiet" };
}

/** The unit of its readings: where nothing may happen, a number is the time after which something did. */
export const unitOfReading = <Unit>({ expect }: Awaiting<Unit>): Unit | "s" =>
  expect.form === "band" ? expect.unit : "s";
