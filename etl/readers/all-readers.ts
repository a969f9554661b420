import { componentsCsv } from './components-csv.ts';
import { crankCsv } from './crank-csv.ts';
import type { Reader } from './reader.ts';
import { unitsCsv } from './units-csv.ts';
import { waveformCsv } from './waveform-csv.ts';
import { workOrdersCsv } from './work-orders-csv.ts';

/** Every shape that can be read; the first that recognises a file's columns reads it. */
export const READERS: readonly Reader[] = [workOrdersCsv, unitsCsv, componentsCsv, crankCsv, waveformCsv];

/** The columns that make a kind, for telling what a file lacks. */
export const KIND_COLUMNS: Record<Reader['kind'], readonly string[]> = {
  units: ['unit', 'depot', 'class', 'system_volts', 'battery_count', 'battery_cca', 'cylinders'],
  components: ['unit', 'component', 'fitted'],
  waveform: ['unit', 'time', 'volts'],
  cranks: ['unit', 'time', 'rest_volts', 'dip_volts', 'crank_seconds'],
  work_orders: ['work_order', 'unit', 'opened'],
};
