/**
 * Embedded in a tool: a form for a setting sheet that shows its own message at each field. `InputError` carries every
 * problem as data, so that the tool needs no sentence of the library.
 *
 *     node examples/embed.js
 */
import { InputError, plan, readSheet } from "tripwright";

/** What somebody typed into the form, with three slips. */
const typed = {
  format: "tripwright/sheet@1",
  substation: "Corriedale Junction 33/11 kV",
  feeder: "Tannery Lane",
  relay: "F12",
  frequency: "50 Hz",
  values: "secondary",
  ct: "400/5",
  elements: [
    {
      id: "51P",
      function: "51",
      pickup: "4 V",
      curve: "iec-inverse",
      multiplier: -0.2,
      startContact: "start",
      accuracy: { pickup: { percent: "5 %" }, time: { percent: "5 %", absolut: "40 ms" } },
    },
  ],
};

/** The tool's own words, by the code of the problem. @type {{ [code: string]: string }} */
const MESSAGES = {
  "wrong-unit": "That unit does not fit here.",
  "out-of-range": "That value cannot be set.",
  "unknown-key": "There is no such field.",
};

/**
 * What the form shows: a plan, or a message for each field.
 * @param {unknown} sheet
 */
function submitted(sheet) {
  try {
    return { checks: plan(readSheet(sheet)).checks.map(({ id }) => id), fields: [] };
  } catch (error) {
    // Anything else is a defect of the tool or of the library, and must not look like a typing slip.
    if (!(error instanceof InputError)) throw error;
    const fields = error.problems.map(({ code, path, expected, received }) => ({
      field: path,
      message: MESSAGES[code] ?? "Please look at this again.",
      hint: `Expected: ${expected}; you typed ${received}`,
    }));
    return { checks: [], fields };
  }
}

for (const { field, message, hint } of submitted(typed).fields) console.log(`${field}\n  ${message} ${hint}`);

const [element] = typed.elements;
const mended = {
  ...typed,
  elements: [
    { ...element, pickup: "4 A", multiplier: 0.2, accuracy: { pickup: { percent: "5 %" }, time: { percent: "5 %" } } },
  ],
};
console.log(`\nMended: ${submitted(mended).checks.join(", ")}`);
