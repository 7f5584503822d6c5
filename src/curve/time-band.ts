import type { Band } from "../base/band.js";
import { atLeast, fail, nameIn, object, options } from "../base/check.js";
import { readEach } from "../base/read-each.js";
import type { Percent, Seconds } from "../base/units.js";
import type { CurveSetting } from "./curve.js";
import { curveSide } from "./form.js";
import { operateTime } from "./operate-time.js";
import { timeOr } from "./table.js";

/** By how much the declared percentage counts at a multiple. */
export interface ErrorFactor {
  readonly multiple: number;
  readonly factor: number;
}

interface Widened {
  /**
   * The error of the pickup, 0 or more: what the relay makes of a multiple M lies from M · (1 − pickupPercent/100) to
   * M · (1 + pickupPercent/100). It counts through the curve itself, before the error of the time. Default 0.
   */
  readonly pickupPercent?: Percent;
}

interface Declared extends Widened {
  /** The declared error in percent of the operate time, 0 or more. */
  readonly percent: Percent;
  /** An error that is accepted in any case ("or 40 ms, whichever is greater"). */
  readonly absolute?: Seconds;
  /**
   * Default: {@link errorFactors}; for an under function there is none. Between the start and the first of them no
   * accuracy is declared.
   */
  readonly factors?: readonly ErrorFactor[];
}

/**
 * The assigned error of IEC 60255-151 and IEC 60255-127: declared at the upper end of the dependent range, times a factor
 * for each band of multiples. A band begins at its multiple, which belongs to it, and goes away from the start up to
 * where the next one begins: at M = 5 the factor is 1.5, at M = 10 it is 1. The last band has no end.
 */
export interface AssignedError extends Declared {
  readonly form: "assigned-error";
}

/**
 * The class index of the older IEC 60255-3: limiting errors at some multiples, as factors on the class index. Between
 * two of them the factor is taken on a straight line over M (a choice of this library); beyond the last it stays.
 */
export interface ClassIndex extends Declared {
  readonly form: "class-index";
}

/** The same error at every multiple: the greater of percent of the operate time and absolute, at least one given. */
export interface ConstantError extends Widened {
  readonly form: "constant";
  readonly percent?: Percent;
  readonly absolute?: Seconds;
}

/** What a relay declares about the accuracy of its operate times. */
export type TimeRule = AssignedError | ClassIndex | ConstantError;

/**
 * The factors on the assigned error (IEC 60255-151:2009 Table 1) and on the class index (IEC 60255-3:1989): 2.5 from twice
 * the setting, 1.5 from five times, 1 from ten times. From memory; what the relay's own documents declare goes before.
 */
export const errorFactors: readonly ErrorFactor[] = /* @__PURE__ */ Object.freeze([
  /* @__PURE__ */ Object.freeze({ multiple: 2, factor: 2.5 }),
  /* @__PURE__ */ Object.freeze({ multiple: 5, factor: 1.5 }),
  /* @__PURE__ */ Object.freeze({ multiple: 10, factor: 1 }),
]);

const KEYS = ["form", "percent", "absolute", "pickupPercent"];
const DECLARED = ["form", "percent", "absolute", "pickupPercent", "factors"];
const FORMS = { "assigned-error": DECLARED, "class-index": DECLARED, constant: KEYS };

/**
 * The operate times that are accepted at a multiple.
 *
 *     low  = t(M · (1 ± pickup)), the faster − its error      error of t = greater of factor · percent/100 · t and absolute
 *     high = t(M · (1 ± pickup)), the slower + its error      factor: that of M; 1 in a constant rule
 *
 * t is {@link operateTime}, with everything that the setting adds; a thermal curve is taken cold. Above a ceiling the time
 * is that of the ceiling. With a pickup error the band is as lopsided as the curve is steep, and where the slower time is
 * never, there is no upper limit. No lower limit is below 0 s.
 *
 * @param multiple - The quantity over its setting, 0 or more; the function operates there, and the rule declares an
 * accuracy there.
 * @param rule - See {@link AssignedError}, {@link ClassIndex}, {@link ConstantError}.
 * @returns Seconds; `high` is absent where M · (1 − pickup) (under functions: 1 + pickup) does not start the function.
 * @throws A {@link InputError} at `multiple` where the function does not operate, and where no accuracy is declared (by
 * default below M = 2): a band without limits would pass every reading. Also for multiples outside a table, the shifted
 * ones included, for rules outside their domain and for unknown keys.
 * Accuracy: within 8 units in the last place of the upper limit where the pickup error is 0.
 * @source IEC 60255-151:2009 5.2 and Table 1, IEC 60255-127:2010 5.2, IEC 60255-3:1989 (factors from memory, by
 * default {@link errorFactors}); the widening by the pickup error: common practice
 *
 * @example
 * import { timeBand } from "tripwright/curve";
 * const setting = { curve: "iec-very-inverse" } as const;
 * timeBand(setting, 10, { form: "assigned-error", percent: 4 }); // → { nominal: 1.5, low: 1.44, high: 1.56 }
 * timeBand(setting, 4, { form: "class-index", percent: 6 }).high?.toFixed(4); // → "4.9950"
 * timeBand(setting, 28, { form: "constant", percent: 5, absolute: 0.04 }); // → { nominal: 0.5, low: 0.46, high: 0.54 }
 * timeBand(setting, 1.1, { form: "constant", percent: 0, pickupPercent: 4 }).high?.toFixed(2); // → "241.07"
 * timeBand(setting, 1.5, { form: "assigned-error", percent: 5 }); // throws InputError
 */
export function timeBand(setting: CurveSetting, multiple: number, rule: TimeRule): Band {
  const { percent = 0, absolute = 0, pickupPercent = 0 } = checked(rule);
  const nominal = operateTime(setting, multiple);
  if (nominal === Number.POSITIVE_INFINITY)
    fail("out-of-range", "multiple", "a multiple at which the function operates", multiple);
  const share = (percent / 100) * (rule.form === "constant" ? 1 : factorAt(rule, multiple, curveSide(setting.curve)));
  const shift = pickupPercent / 100;
  const times = [
    nominal,
    ...[Math.max(0, 1 - shift), 1 + shift].map((by) => shiftedTime(setting, { multiple, by }, rule)),
  ];
  const [fast, slow] = [Math.min(...times), Math.max(...times)];
  const low = Math.max(0, fast - Math.max(share * fast, absolute));
  if (slow === Number.POSITIVE_INFINITY) return { nominal, low };
  const high = slow + Math.max(share * slow, absolute);
  if (high === Number.POSITIVE_INFINITY) fail("out-of-range", "rule", "errors whose band fits a double", rule);
  return { nominal, low, high };
}

interface Shifted {
  readonly multiple: number;
  readonly by: number;
}

/** The multiple itself has a time: where the shifted one has none, the shift leads out of the table. */
const shiftedTime = (setting: CurveSetting, { multiple, by }: Shifted, { pickupPercent }: TimeRule): Seconds =>
  timeOr(
    () => operateTime(setting, multiple * by),
    () => fail("out-of-range", "multiple", `a multiple in the table, also ${pickupPercent} % off`, multiple),
  );

function checked(rule: TimeRule): TimeRule {
  const form = nameIn(object(rule, "rule", "a rule { form, percent }").form, FORMS, "rule.form");
  const { percent, absolute, pickupPercent } = options(rule, FORMS[form], "rule");
  const needed = percent ?? (form === "constant" && absolute !== undefined ? 0 : undefined);
  atLeast(needed, 0, "rule.percent", "an error", "%");
  atLeast(absolute ?? 0, 0, "rule.absolute", "an error", "s");
  atLeast(pickupPercent ?? 0, 0, "rule.pickupPercent", "an error", "%");
  return rule;
}

/** Seen from the start, "beyond" is up for an over function and down for an under function. */
function factorAt(rule: AssignedError | ClassIndex, multiple: number, side: "over" | "under"): number {
  const outward = side === "over" ? 1 : -1;
  const { factors = side === "over" ? errorFactors : [] } = rule;
  const what = "a list of { multiple, factor }";
  const read = readEach(factors, "rule.factors", what, (given) => {
    const { multiple, factor } = options(given, ["multiple", "factor"]);
    atLeast(multiple, 0, "multiple", "a multiple of the setting");
    atLeast(factor, 0, "factor", "a factor");
    return given;
  });
  if (read.length === 0) fail("missing", "rule.factors", what, rule.factors);
  const sorted = read.sort((a, b) => outward * (a.multiple - b.multiple));
  const reached = sorted.filter((band) => outward * (multiple - band.multiple) >= 0).length;
  const [left, right] = [sorted[reached - 1], sorted[reached]];
  if (!left)
    return fail(
      "out-of-range",
      "multiple",
      `a multiple from ${right?.multiple} on, where an accuracy is declared`,
      multiple,
    );
  if (rule.form === "assigned-error" || !right) return left.factor;
  const along = (multiple - left.multiple) / (right.multiple - left.multiple);
  return left.factor + along * (right.factor - left.factor);
}
