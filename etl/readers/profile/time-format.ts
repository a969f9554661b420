import type { ProfileTime } from '../../model/import-profile.ts';
import { CellFault } from '../kinds/cell.ts';
import { isoWallClock, spreadsheetDays, wallClockPattern, type WallParser } from './time-format-pattern.ts';
import { zoneInstants, type ToInstant } from './time-format-zone.ts';

/** Texts of a time column → µs since 1970. `date`: the day alone, for fields that hold a day. */
export type TimeFormat = {
  instant: (text: string) => number | CellFault;
  /** The instant of a plain number, where the format has numbers. */
  ofNumber: ((value: number) => number) | null;
  /** `YYYY-MM-DD`; null where the text is more than a date, or no date. */
  dateOnly: (text: string) => string | null;
  date: (text: string) => string | CellFault;
};

/** Counted from a start: the instants are made elsewhere, from the row. */
export const FROM_START = ['seconds_from_start', 'samples_from_start'];

/** No way to write a time is longer; a pattern need not be tried on more. */
const MOST_CHARACTERS = 100;

const EPOCHS: Readonly<Record<string, { perUs: number; name: string }>> = {
  epoch_s: { perUs: 1e-6, name: 'seconds' },
  epoch_ms: { perUs: 1e-3, name: 'milliseconds' },
  epoch_us: { perUs: 1, name: 'microseconds' },
  epoch_ns: { perUs: 1e3, name: 'nanoseconds' },
};

/**
 * A profile that says nothing of times leaves them as the contract has them: ISO 8601 with zone, or epoch milliseconds.
 * Throws RangeError for a pattern or a zone that is none.
 */
export function timeFormat(time: ProfileTime | undefined, decimalMark: '.' | ',' = '.'): TimeFormat {
  if (time === undefined) return contractFormat(decimalMark);
  const { format } = time;
  const epoch = EPOCHS[format];
  if (epoch !== undefined) return epochFormat(epoch, decimalMark);
  const named = format === 'iso' || FROM_START.includes(format);
  const isDays = format === 'spreadsheet_days';
  const zone = time.zone === undefined ? null : zoneInstants(time.zone);
  const parse = isDays ? spreadsheetDays(decimalMark) : named ? isoWallClock : wallClockPattern(format);
  return wallFormat((text) => (text.length > MOST_CHARACTERS ? null : parse(text)), zone, named ? 'ISO 8601' : format);
}

function contractFormat(decimalMark: '.' | ','): TimeFormat {
  const written = timeFormat({ format: 'iso' });
  const epoch = timeFormat({ format: 'epoch_ms' }, decimalMark);
  return { ...written, instant: (text) => (/^\d{9,14}([.,]|$)/.test(text) ? epoch : written).instant(text) };
}

function epochFormat({ perUs, name }: { perUs: number; name: string }, decimalMark: string): TimeFormat {
  const instant = (text: string) => {
    const plain = decimalMark === ',' ? text.replace(',', '.') : text;
    if (!/^-?\d{1,19}(\.\d{1,9})?$/.test(plain)) return new CellFault(`${name} since 1970`);
    // Whole nanoseconds pass what a double holds: the last digits go before it is made one.
    const whole = perUs === 1e3 && plain.length > 15 && !plain.includes('.') ? plain.slice(0, -3) : null;
    return whole === null ? Math.round(Number(plain) / perUs) : Number(whole);
  };
  return {
    instant,
    ofNumber: (value) => Math.round(value / perUs),
    dateOnly: () => null,
    date(text) {
      const us = instant(text);
      if (us instanceof CellFault) return us;
      const day = new Date(us / 1000);
      return Number.isNaN(day.getTime()) ? new CellFault(`${name} since 1970`) : day.toISOString().slice(0, 10);
    },
  };
}

function wallFormat(parse: WallParser, zone: ToInstant | null, shape: string): TimeFormat {
  return {
    ofNumber: null,
    instant(text) {
      const clock = parse(text);
      if (clock === null) return new CellFault(`a time as the profile says (${shape})`);
      if (clock.offsetUs !== null) return clock.wallUs - clock.offsetUs;
      if (zone === null) return new CellFault('a zone: give time.zone in the profile');
      const us = zone(clock.wallUs);
      if (us === 'skipped') return new CellFault('an hour that the clocks of its zone show, not one that they skip');
      if (us === 'repeated') return new CellFault('an offset in the hour that the clocks of its zone show twice');
      return us;
    },
    dateOnly(text) {
      const clock = parse(text);
      return clock !== null && clock.dateOnly ? day(clock.wallUs) : null;
    },
    date(text) {
      const clock = parse(text) ?? isoWallClock(text);
      return clock === null ? new CellFault(`a date as the profile says (${shape})`) : day(clock.wallUs);
    },
  };
}

const day = (wallUs: number) => new Date(wallUs / 1000).toISOString().slice(0, 10);
