/** One measured value of a bench or on-vehicle test (kind `bench_tests`), in the unit of measure of its test. */
export type BenchResult = {
  unit: string;
  position: string;
  timeUs: number;
  /** A name of the list in `bench-tests.ts`. */
  test: string;
  value: number;
  note: string | null;
  enteredUs: number | null;
};
