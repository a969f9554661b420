import { clockText, dateFromDay } from './calendar.ts';
import type { Crank } from './crank.ts';
import { decimals } from './csv-file.ts';
import type { CrankRow } from './logger.ts';

export const CRANK_COLUMNS = [
  'unit',
  'time',
  'rest_volts',
  'dip_volts',
  'crank_volts',
  'crank_seconds',
  'crank_rpm',
  'charge_volts',
  'amps_peak',
  'temp_c',
  'outcome',
  'position',
] as const;

export type RowStyle = { unit: string; voltDecimals: number; temperature: boolean; outcome: boolean };

/** Gateways stamp a row to the tenth of a second. */
const TIME_DECIMALS = 1;

export function crankLine(crank: Crank, row: CrankRow, style: RowStyle): string {
  const time = `${dateFromDay(crank.day)}T${clockText(crank.secondOfDay, TIME_DECIMALS)}Z`;
  const { voltDecimals } = style;
  const volts = `${decimals(row.restVolts, voltDecimals)},${decimals(row.dipVolts, voltDecimals)},${decimals(row.crankVolts, voltDecimals)}`;
  const turning = `${decimals(row.crankSeconds, 2)},${decimals(row.crankRpm, 0)},${decimals(row.chargeVolts, voltDecimals)},${decimals(row.ampsPeak, 0)}`;
  const outcome = style.outcome ? (crank.started ? 'started' : 'failed') : '';
  return `${style.unit},${time},${volts},${turning},${style.temperature ? tempText(crank.tempC) : ''},${outcome},${crank.position}\n`;
}

/** Whole degrees, as most gateways give them; no minus before a zero. */
function tempText(tempC: number): string {
  return String(Math.round(tempC) + 0);
}
