/**
 * One seed for the properties of a whole run, printed before it and replayed by TRIPWRIGHT_SEED=… npm test. Runs before
 * the workers start, so that they inherit it.
 */
export default function chooseSeed(): void {
  process.env["TRIPWRIGHT_SEED"] ??= String(Math.floor(Math.random() * 2 ** 31));
  console.log(
    `property seed ${process.env["TRIPWRIGHT_SEED"]} (replay with TRIPWRIGHT_SEED=${process.env["TRIPWRIGHT_SEED"]} npm test)`,
  );
}
