import type { TroubleCode } from '../../model/trouble-code.ts';
import { CellFault, instant, integer, name, type Parse } from './cell.ts';
import type { TableReader } from '../reader.ts';
import type { Field } from './record-rows.ts';
import { recordReading } from './record-table.ts';

/** SAE J2012: a letter for the system, a digit 0–3, three hexadecimal digits; a failure type may follow (`P0562-00`). */
const j2012: Parse<string> = (cell) => {
  const code = cell.toUpperCase();
  return /^[PBCU][0-3][0-9A-F]{3}(-[0-9A-F]{2})?$/.test(code) ? code : new CellFault('a code such as P0562');
};

const FIELDS: readonly Field<TroubleCode>[] = [
  { column: 'unit', name: 'unit', required: true, parse: name, missing: '' },
  { column: 'time', name: 'timeUs', required: true, parse: instant, missing: 0 },
  { column: 'position', name: 'position', required: false, parse: name, missing: '' },
  { column: 'code', name: 'code', required: false, parse: j2012, missing: null },
  // SAE J1939: an SPN has 19 bits, an FMI 5.
  { column: 'spn', name: 'spn', required: false, parse: integer(0, 524_287, 'SPN'), missing: null },
  { column: 'fmi', name: 'fmi', required: false, parse: integer(0, 31, 'FMI'), missing: null },
];

/** Trouble codes, by SAE J2012 or by SAE J1939. */
export const codesCsv: TableReader = {
  name: 'codes-csv',
  kind: 'codes',
  version: 2,
  needed: ['unit', 'time', 'code'],
  orNeeded: ['unit', 'time', 'spn', 'fmi'],
  ...recordReading<TroubleCode>({
    kind: 'codes',
    fields: FIELDS,
    complete(row) {
      const whole = row.code !== null || (row.spn !== null && row.fmi !== null);
      return whole ? row : new CellFault('a code, or both spn and fmi').at('code', '');
    },
    deliver: async (rows, sink) => sink.troubleCodes(rows),
  }),
};
