import type { BenchResult } from '../../model/bench-result.ts';
import { BENCH_TESTS } from '../../model/bench-tests.ts';
import { CellFault, instant, name, number, oneOf, text } from './cell.ts';
import type { TableReader } from '../reader.ts';
import type { Field } from './record-rows.ts';
import { recordReading } from './record-table.ts';

/** A row as written: the value is not yet in the unit of measure of its test. */
type Written = BenchResult & { unitOfMeasure: string };

const FIELDS: readonly Field<Written>[] = [
  { column: 'unit', name: 'unit', required: true, parse: name, missing: '' },
  { column: 'time', name: 'timeUs', required: true, parse: instant, missing: 0 },
  {
    column: 'test',
    name: 'test',
    required: true,
    parse: oneOf<string>(BENCH_TESTS.map(({ test }) => test)),
    missing: '',
  },
  { column: 'value', name: 'value', required: true, parse: number(-1e12, 1e12, 'in its unit of measure'), missing: 0 },
  { column: 'unit_of_measure', name: 'unitOfMeasure', required: true, parse: text, missing: '' },
  { column: 'note', name: 'note', required: false, parse: text, missing: null },
  { column: 'position', name: 'position', required: false, parse: name, missing: '' },
  { column: 'entered', name: 'enteredUs', required: false, parse: instant, missing: null },
];

const NEEDED = FIELDS.filter((field) => field.required).map((field) => field.column);

/** How many of the base unit one of these is. */
const SCALES: Readonly<Record<string, { base: string; scale: number }>> = {
  v: { base: 'V', scale: 1 },
  mv: { base: 'V', scale: 1e-3 },
  a: { base: 'A', scale: 1 },
  ma: { base: 'A', scale: 1e-3 },
  ω: { base: 'Ω', scale: 1 },
  ohm: { base: 'Ω', scale: 1 },
  ohms: { base: 'Ω', scale: 1 },
  mω: { base: 'Ω', scale: 1e-3 },
  mohm: { base: 'Ω', scale: 1e-3 },
  mm: { base: 'm', scale: 1e-3 },
  cm: { base: 'm', scale: 1e-2 },
  in: { base: 'm', scale: 0.0254 },
};

/** The same value in the unit of measure of its test; a capital M before the ohm is a million, not a thousandth. */
function inUnitOfTest({ test, value, unitOfMeasure }: Written): number | CellFault {
  const wanted = BENCH_TESTS.find((each) => each.test === test)!.unitOfMeasure;
  const mega = /^M(Ω|ohms?)$/.test(unitOfMeasure) ? { base: 'Ω', scale: 1e6 } : undefined;
  const kilo = /^k(Ω|ohms?)$/i.test(unitOfMeasure) ? { base: 'Ω', scale: 1e3 } : undefined;
  const from = mega ?? kilo ?? SCALES[unitOfMeasure.toLowerCase()];
  const to = SCALES[wanted.toLowerCase()]!;
  return from?.base === to.base
    ? (value * from.scale) / to.scale
    : new CellFault(`${wanted} or a unit of the same kind`);
}

/** Measured values of bench and on-vehicle tests. */
export const benchTestsCsv: TableReader = {
  name: 'bench-tests-csv',
  kind: 'bench_tests',
  version: 2,
  needed: NEEDED,
  ...recordReading<Written>({
    kind: 'bench_tests',
    fields: FIELDS,
    complete(row) {
      const value = inUnitOfTest(row);
      return value instanceof CellFault ? value.at('unit_of_measure', row.unitOfMeasure) : { ...row, value };
    },
    deliver: async (rows, sink) =>
      sink.benchResults(rows.map(({ line, row: { unitOfMeasure: _, ...row } }) => ({ line, row }))),
  }),
};
