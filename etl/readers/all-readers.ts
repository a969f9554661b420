import { benchTestsCsv } from './bench-tests-csv.ts';
import { codesCsv } from './codes-csv.ts';
import { componentsCsv } from './components-csv.ts';
import { crankCsv } from './crank-csv.ts';
import type { TableReader } from './reader.ts';
import { baysCsv, shopVisitsCsv } from './shop-csv.ts';
import { unitsCsv } from './units-csv.ts';
import { waveformCsv } from './waveform-csv.ts';
import { workOrdersCsv } from './work-orders-csv.ts';

/** Every kind of table; the first that recognises a file's columns reads it. */
export const TABLE_READERS: readonly TableReader[] = [
  workOrdersCsv,
  unitsCsv,
  componentsCsv,
  crankCsv,
  waveformCsv,
  benchTestsCsv,
  codesCsv,
  baysCsv,
  shopVisitsCsv,
];
