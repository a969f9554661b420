import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import { clockDuration, conversionOf, converted } from '../../model/unit-of-measure.ts';
import { CellFault } from '../kinds/cell.ts';
import type { MappedFile } from '../profile/mapped-column.ts';
import { timeFormat } from '../profile/time-format.ts';

export type FromStart = {
  /** Cell of the time column and number of the row → µs since 1970. */
  instant: (text: string, row: number) => number | CellFault;
  /** The same for a cell that is a plain number, or for the number of the row where samples are counted; NaN: a clock is none. */
  ofNumber: (value: number) => number;
  /** Whether rows are counted and their time column, if any, is left alone. */
  counted: boolean;
};

/** Samples further apart are records of their own, in which no crank can be seen: the number counts something else. */
const LONGEST_INTERVAL_SECONDS = 2;

const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i;

/**
 * Times counted from the start or trigger of a recording, negative before it, by the clock (`seconds_from_start`) or by
 * samples (`samples_from_start`). Null for a profile with other times. Throws UnreadableFile where the start is missing.
 */
export function timeFromStart(profile: ImportProfile | null, file: MappedFile): FromStart | null {
  const time = profile?.time;
  if (profile === null || (time?.format !== 'seconds_from_start' && time?.format !== 'samples_from_start')) return null;
  const startUs = startOf(profile, file);
  if (time.format === 'samples_from_start') {
    const seconds = intervalOf(profile, file);
    const ofNumber = (row: number) => Math.round(startUs + row * seconds * 1e6);
    return { instant: (_, row) => ofNumber(row), ofNumber, counted: true };
  }
  const unit = Object.values(profile.columns ?? {}).find(({ field }) => field === 'time')?.unitOfMeasure ?? 's';
  const conversion = conversionOf('s', unit);
  if (conversion === null) return byClock(startUs, unit, profile.decimalMark);
  const ofNumber = (value: number) => Math.round(startUs + converted(value, conversion) * 1e6);
  const instant = (text: string) => {
    const value = numberOf(text, profile.decimalMark);
    return Number.isNaN(value) ? new CellFault(`a number of ${unit} from the start`) : ofNumber(value);
  };
  return { instant, ofNumber, counted: false };
}

const DAY_SECONDS = 86_400;

/**
 * Hours, minutes and seconds from the start, or the time of day where the start is midnight: such a clock begins anew
 * after 24 hours, and goes back over midnight where the newest row stands first.
 */
function byClock(startUs: number, form: string, mark: string | undefined): FromStart {
  let [last, days] = [Number.NaN, 0];
  const instant = (text: string) => {
    const seconds = clockDuration(mark === ',' ? text.replace(',', '.') : text, form, 's');
    if (Number.isNaN(seconds)) return new CellFault(`a clock ${form} from the start`);
    if (seconds < DAY_SECONDS && Math.abs(seconds - last) > DAY_SECONDS / 2) days += seconds < last ? 1 : -1;
    last = seconds;
    return Math.round(startUs + (seconds + days * DAY_SECONDS) * 1e6);
  };
  return { instant, ofNumber: () => Number.NaN, counted: false };
}

function numberOf(text: string, mark: string | undefined): number {
  const plain = mark === ',' ? text.replace(',', '.') : text;
  return NUMBER.test(plain) ? Number(plain) : Number.NaN;
}

function startOf({ time = { format: 'iso' } }: ImportProfile, { preamble }: MappedFile): number {
  const { start, startFrom } = time;
  const text =
    start ??
    (startFrom?.preamble ?? [])
      .map((key) => preamble(key) ?? '')
      .join(' ')
      .trim();
  const format = start === undefined ? (startFrom?.format ?? 'iso') : 'iso';
  const us = timeFormat({ ...time, format }).instant(text);
  if (typeof us === 'number') return us;
  const keys = (startFrom?.preamble ?? []).join(' and ');
  throw new UnreadableFile(
    `start of the recording requires ${us.reason}, got ${text === '' ? `no line ${keys}` : text} (/time/startFrom)`,
  );
}

function intervalOf({ time, decimalMark }: ImportProfile, { preamble }: MappedFile): number {
  if (time?.intervalSeconds !== undefined) return time.intervalSeconds;
  const key = time?.intervalFrom?.preamble ?? '';
  const text = preamble(key) ?? '';
  const parts = /^([^\s]+?)\s*(s|ms|µs|us|ns)?$/.exec(text);
  const value = numberOf(parts?.[1] ?? '', decimalMark);
  const unitOfKey = /[([]\s*(s|ms|µs|us|ns)\s*[)\]]$/.exec(key)?.[1];
  const seconds = converted(value, conversionOf('s', parts?.[2] ?? unitOfKey ?? 's')!);
  if (seconds > 0 && seconds <= LONGEST_INTERVAL_SECONDS) return seconds;
  throw new UnreadableFile(
    `sample interval requires seconds from 0 to ${LONGEST_INTERVAL_SECONDS}, got ${text === '' ? `no line ${key}` : text} (/time/intervalFrom)`,
  );
}
