import { benchTestsCsv } from './kinds/bench-tests-csv.ts';
import { codesCsv } from './kinds/codes-csv.ts';
import { componentsCsv } from './kinds/components-csv.ts';
import { crankCsv } from './kinds/crank-csv.ts';
import type { TableReader } from './reader.ts';
import { baysCsv, shopVisitsCsv } from './kinds/shop-csv.ts';
import { unitsCsv } from './kinds/units-csv.ts';
import { waveformCsv } from './kinds/waveform-csv.ts';
import { workOrdersCsv } from './kinds/work-orders-csv.ts';

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
