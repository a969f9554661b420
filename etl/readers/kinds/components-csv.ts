import type { FittedPart } from '../../model/part.ts';
import { COMPONENTS } from '../../model/words.ts';
import { date, instant, moneyMinor, name, oneOf, text } from './cell.ts';
import type { TableReader } from '../reader.ts';
import type { Field } from './record-rows.ts';
import { recordReading } from './record-table.ts';

const FIELDS: readonly Field<FittedPart>[] = [
  { column: 'unit', name: 'unit', required: true, parse: name, missing: '' },
  { column: 'component', name: 'component', required: true, parse: oneOf(COMPONENTS), missing: 'battery' },
  { column: 'position', name: 'position', required: false, parse: name, missing: '' },
  { column: 'fitted', name: 'fittedOn', required: true, parse: date, missing: '' },
  { column: 'part', name: 'part', required: false, parse: text, missing: null },
  { column: 'rating', name: 'rating', required: false, parse: text, missing: null },
  { column: 'warranty_until', name: 'warrantyUntilOn', required: false, parse: date, missing: null },
  { column: 'cost', name: 'costMinor', required: false, parse: moneyMinor, missing: null },
  { column: 'entered', name: 'enteredUs', required: false, parse: instant, missing: null },
];

const NEEDED = ['unit', 'component', 'fitted'];

/** Parts known to be fitted. */
export const componentsCsv: TableReader = {
  name: 'components-csv',
  kind: 'components',
  version: 2,
  needed: NEEDED,
  ...recordReading<FittedPart>({
    kind: 'components',
    fields: FIELDS,
    deliver: async (rows, sink) => sink.fittedParts(rows),
  }),
};
