import { clockText, dateFromDay } from './calendar.ts';
import type { Crank } from './crank.ts';
import type { LoggerKind } from './logger.ts';
import type { Waveform } from './waveform.ts';

export const WAVEFORM_COLUMNS = ['unit', 'time', 'volts', 'amps', 'temp_c', 'position', 'record'] as const;

export type RecordStyle = { unit: string; record: string; logger: LoggerKind; temperature: boolean };

export function waveformLines(crank: Crank, wave: Waveform, style: RecordStyle): string[] {
  const date = dateFromDay(crank.day);
  const tail = `${style.temperature ? String(Math.round(crank.tempC) + 0) : ''},${crank.position},${style.record}\n`;
  return Array.from(wave.seconds, (seconds, index) => {
    const amps = style.logger.amps ? wave.amps[index]!.toFixed(0) : '';
    const time = `${date}T${clockText(crank.secondOfDay + seconds, 3)}Z`;
    return `${style.unit},${time},${wave.volts[index]!.toFixed(2)},${amps === '-0' ? '0' : amps},${tail}`;
  });
}
