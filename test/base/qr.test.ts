import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { backSubstitute, covarianceOf, dot, triangularize } from "../../src/base/qr.js";
import { holds } from "../support/holds.js";
import { D, exactly } from "./reference.js";

const entry = fc.integer({ min: -1_000_000, max: 1_000_000 }).map((n) => n / 100_003);
/** A matrix of full rank, column by column: something large on the diagonal, in every unit. */
const systems = fc
  .integer({ min: 1, max: 6 })
  .chain((columns) => fc.tuple(fc.constant(columns), fc.integer({ min: columns, max: 30 })))
  .chain(([columns, rows]) =>
    fc.record({
      columns: fc.constant(columns),
      rows: fc.constant(rows),
      matrix: fc
        .tuple(
          fc.array(entry, { minLength: rows * columns, maxLength: rows * columns }),
          fc.array(fc.integer({ min: -20, max: 20 }), { minLength: columns, maxLength: columns }),
        )
        .map(([entries, units]) =>
          entries.map((x, at) => {
            const [i, j] = [at % rows, Math.floor(at / rows)];
            return (x + (i === j ? 100 : 0)) * 2 ** (units[j] as number);
          }),
        ),
      side: fc.array(entry, { minLength: rows, maxLength: rows }),
    }),
  );

const column = (matrix: readonly number[], rows: number, j: number) => matrix.slice(j * rows, (j + 1) * rows);

/** (AᵀA)⁻¹ in 50-digit decimals, by elimination. */
function inverseOfNormal(matrix: readonly number[], rows: number, columns: number) {
  const indices = Array.from({ length: columns }, (_, j) => j);
  const product = (i: number, j: number) =>
    column(matrix, rows, i).reduce(
      (sum, x, at) => sum.plus(exactly(x).times(exactly(matrix[j * rows + at] as number))),
      new D(0),
    );
  const table = indices.map((i) => [
    ...indices.map((j) => product(i, j)),
    ...indices.map((j) => new D(i === j ? 1 : 0)),
  ]);
  for (const k of indices) {
    const pivot = table[k]?.[k] as InstanceType<typeof D>;
    table[k] = (table[k] ?? []).map((x) => x.div(pivot));
    for (const i of indices.filter((i) => i !== k)) {
      const factor = table[i]?.[k] as InstanceType<typeof D>;
      table[i] = (table[i] ?? []).map((x, at) => x.minus(factor.times(table[k]?.[at] ?? 0)));
    }
  }
  return table.map((row) => row.slice(columns));
}

describe("the triangle of a matrix", () => {
  test("has the same products of columns as the matrix", () => {
    holds(
      fc.property(systems, ({ matrix, rows, columns, side }) => {
        const [r, q] = [Float64Array.from(matrix), Float64Array.from(side)];
        triangularize(r, q, columns);
        const upper = (j: number) =>
          Float64Array.from({ length: columns }, (_, i) => (i <= j ? r[j * rows + i] : 0) ?? 0);
        const own = (j: number) => Float64Array.from(column(matrix, rows, j));
        for (let j = 0; j < columns; j++) {
          for (let i = 0; i <= j; i++) {
            const [a, b] = [own(i), own(j)];
            const size = Math.sqrt(dot(a, a) * dot(b, b));
            expect(Math.abs(dot(upper(i), upper(j)) - dot(a, b)) / size).toBeLessThan(1e-14);
          }
          const [a, b] = [own(j), Float64Array.from(side)];
          const size = Math.sqrt(dot(a, a) * dot(b, b)) || 1;
          expect(Math.abs(dot(upper(j), q.subarray(0, columns)) - dot(a, b)) / size).toBeLessThan(1e-14);
        }
        expect(Math.abs(dot(q, q) - dot(Float64Array.from(side), Float64Array.from(side)))).toBeLessThanOrEqual(
          1e-13 * dot(q, q),
        );
      }),
    );
  });

  test("solves least squares and their covariance as 50-digit decimals do", () => {
    holds(
      fc.property(systems, ({ matrix, rows, columns, side }) => {
        const [r, q, solution] = [Float64Array.from(matrix), Float64Array.from(side), new Float64Array(columns)];
        triangularize(r, q, columns);
        backSubstitute(r, rows, q, solution);
        const covariance = covarianceOf(r, rows, columns);
        const exact = inverseOfNormal(matrix, rows, columns);
        const length = Math.sqrt(dot(Float64Array.from(side), Float64Array.from(side)));
        exact.forEach((row, i) => {
          const deviation = (row[i] as InstanceType<typeof D>).sqrt().toNumber();
          row.forEach((value, j) => {
            const other = exact[j]?.[j]?.sqrt().toNumber() as number;
            const gap = value.minus(exactly(covariance[i]?.[j] as number)).toNumber();
            expect(Math.abs(gap) / (deviation * other)).toBeLessThan(1e-12);
          });
          const best = row.reduce(
            (sum, weight, j) =>
              sum.plus(
                column(matrix, rows, j).reduce(
                  (total, x, at) => total.plus(weight.times(exactly(x)).times(exactly(side[at] as number))),
                  new D(0),
                ),
              ),
            new D(0),
          );
          const gap = best.minus(exactly(solution[i] as number)).toNumber();
          expect(Math.abs(gap)).toBeLessThanOrEqual(1e-12 * deviation * length);
        });
      }),
      60,
    );
  });
});

test("a product of many terms counts every one of them, from where it begins", () => {
  for (let length = 0; length < 12; length++) {
    const powers = Float64Array.from({ length }, (_, i) => 2 ** i);
    const ones = new Float64Array(length).fill(1);
    for (let from = 0; from <= length; from++) expect(dot(powers, ones, from)).toBe(2 ** length - 2 ** from);
  }
});
