/** Dates and times as ISO 8601 writes them. */
import { fail } from "./check.js";

const ISO_8601 = /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})?)?$/;

/** Whether text is a date, with or without a time, as ISO 8601 writes it. Days beyond the end of a month are none. */
const isInstant = (text: unknown): text is string =>
  typeof text === "string" && ISO_8601.test(text) && !Number.isNaN(Date.parse(text)) && isDay(dayOf(text));

/** The day of an instant, as it is written. */
export const dayOf = (instant: string): string => instant.slice(0, 10);

/** Dates beyond the end of a month roll over when they are parsed, and come back as another day. */
const isDay = (day: string): boolean => new Date(day).toISOString().startsWith(day);

/** Text that is a date, with or without a time. */
export function checkInstant(text: unknown, path: string): string {
  return isInstant(text) ? text : fail("unreadable", path, "a date and time such as 2026-11-25T09:30", text);
}

/** Milliseconds since 1970. A time without a zone is taken as UTC, so that no answer depends on where it is computed. */
export function instantOf(text: string, path: string): number {
  if (!isInstant(text))
    return fail(text === undefined ? "missing" : "unreadable", path, "a date such as 2026-11-25", text);
  return Date.parse(/T\d{2}:[\d:.]+$/.test(text) ? `${text}Z` : text);
}
