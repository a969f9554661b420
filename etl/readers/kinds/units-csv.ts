import type { Unit } from '../../model/unit.ts';
import { CellFault, date, instant, integer, name, number, oneOf, text, type Parse } from './cell.ts';
import type { TableReader } from '../reader.ts';
import type { Field } from './record-rows.ts';
import { recordReading } from './record-table.ts';
import { vinNote } from './vin.ts';

const systemVolts: Parse<12 | 24> = (cell) => {
  const volts = Number(cell);
  return volts === 12 || volts === 24 ? volts : new CellFault('12 or 24');
};

const FIELDS: readonly Field<Unit>[] = [
  { column: 'unit', name: 'unit', required: true, parse: name, missing: '' },
  { column: 'depot', name: 'depot', required: true, parse: text, missing: '' },
  { column: 'class', name: 'class', required: true, parse: text, missing: '' },
  { column: 'system_volts', name: 'systemVolts', required: true, parse: systemVolts, missing: 12 },
  { column: 'battery_count', name: 'batteryCount', required: true, parse: integer(1, 16, 'batteries'), missing: 1 },
  { column: 'battery_cca', name: 'batteryCcaA', required: true, parse: number(50, 10_000, 'A'), missing: 0 },
  { column: 'cylinders', name: 'cylinders', required: true, parse: integer(1, 24, 'cylinders'), missing: 0 },
  { column: 'fuel', name: 'fuel', required: false, parse: oneOf(['petrol', 'diesel', 'gas', 'hybrid']), missing: null },
  { column: 'vin', name: 'vin', required: false, parse: text, missing: null },
  { column: 'in_service_date', name: 'inServiceOn', required: false, parse: date, missing: null },
  { column: 'out_of_service_date', name: 'outOfServiceOn', required: false, parse: date, missing: null },
  { column: 'next_pm_date', name: 'nextPmOn', required: false, parse: date, missing: null },
  {
    column: 'pm_interval_days',
    name: 'pmIntervalDays',
    required: false,
    parse: number(1, 3_660, 'days'),
    missing: null,
  },
  {
    column: 'starts_per_day',
    name: 'startsPerDay',
    required: false,
    parse: number(0, 1_000, 'starts a day'),
    missing: null,
  },
  { column: 'starter_rated_kw', name: 'starterRatedKw', required: false, parse: number(0.1, 50, 'kW'), missing: null },
  { column: 'cost_centre', name: 'costCentre', required: false, parse: text, missing: null },
  { column: 'entered', name: 'enteredUs', required: false, parse: instant, missing: null },
];

const REQUIRED = FIELDS.filter((field) => field.required).map((field) => field.column);

/** The register of the fleet. */
export const unitsCsv: TableReader = {
  name: 'units-csv',
  kind: 'units',
  version: 2,
  needed: REQUIRED,
  ...recordReading<Unit>({
    kind: 'units',
    fields: FIELDS,
    note: (unit) => (unit.vin === null ? null : vinNote(unit.vin)),
    deliver: async (rows, sink) => sink.units(rows),
  }),
};
