import { dateUs } from '../../model/time.ts';
import { InstantScanner } from '../csv/scan-number.ts';
import { CONTROL_CHARACTER } from '../csv/text-dictionary.ts';
import { EARLIEST_US } from './column-limits.ts';
import { ZONE_REMEDY, ZONELESS } from './zoneless.ts';

/** A cell of a register or record that cannot be used: why. */
export class CellFault {
  readonly reason: string;
  constructor(reason: string) {
    this.reason = reason;
  }

  /** The fault of a row that is wrong as a whole, laid at one field. */
  at(field: string, value: string): RowFault {
    return new RowFault(field, value, this.reason);
  }
}

/** A row whose fields do not fit together: which field, its value, and why. */
export class RowFault {
  readonly field: string;
  readonly value: string;
  readonly reason: string;
  constructor(field: string, value: string, reason: string) {
    this.field = field;
    this.value = value;
    this.reason = reason;
  }
}

/** Text of a cell (never empty) → value, or why not. */
export type Parse<Value> = (text: string) => Value | CellFault;

/** What a person wrote, over several lines or not. A file that was cut off by a power failure is filled up with zeros. */
export const text: Parse<string> = (cell) =>
  cell.includes('\u0000') ? new CellFault('text, without zero bytes') : cell;

/** What something is called: a unit, a position, a depot, a part. */
export const name: Parse<string> = (cell) =>
  CONTROL_CHARACTER.test(cell) ? new CellFault('a name without control characters') : cell;

/** A fleet's oldest vehicle is not older. Common practice. */
const EARLIEST_YEAR = 1950;

/** A date `YYYY-MM-DD`; the date of an instant that is given in full. */
export const date: Parse<string> = (cell) => {
  const day = /^(\d{4}-\d{2}-\d{2})(?:[T ].*)?$/.exec(cell)?.[1];
  const midnight = Date.parse(`${day}T00:00:00Z`);
  const real = day !== undefined && !Number.isNaN(midnight) && new Date(midnight).toISOString().startsWith(day);
  if (!real) return new CellFault('a date YYYY-MM-DD');
  return Number(day.slice(0, 4)) >= EARLIEST_YEAR ? day : new CellFault(`a date from ${EARLIEST_YEAR} on`);
};

const instants = new InstantScanner();

/** An instant with zone, or a date (00:00 UTC), → µs. One of 1970 is a clock that was not set, or a count of seconds. */
export const instant: Parse<number> = (cell) => {
  const us = instantUs(cell);
  if (us instanceof CellFault || us >= EARLIEST_US) return us;
  return new CellFault('a date from 1990 on: the clock was not set, or it counts seconds');
};

function instantUs(cell: string): number | CellFault {
  if (/^\d{4}-\d{2}-\d{2}$/.test(cell)) {
    const day = date(cell);
    return day instanceof CellFault ? day : dateUs(day);
  }
  const bytes = Buffer.from(cell, 'latin1');
  const us = instants.scan(bytes, 0, bytes.length);
  if (!Number.isNaN(us)) return us;
  return new CellFault(`a date YYYY-MM-DD or an instant with zone${ZONELESS.test(cell) ? `: ${ZONE_REMEDY}` : ''}`);
}

export function number(least: number, most: number, unit: string): Parse<number> {
  return (cell) => {
    const value = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i.test(cell) ? Number(cell) : Number.NaN;
    if (value >= least && value <= most) return value;
    return new CellFault(Number.isNaN(value) ? `a number (${unit})` : `a value from ${least} to ${most} ${unit}`);
  };
}

export function integer(least: number, most: number, unit: string): Parse<number> {
  const parse = number(least, most, unit);
  return (cell) => {
    const value = parse(cell);
    return value instanceof CellFault || Number.isInteger(value) ? value : new CellFault(`a whole number of ${unit}`);
  };
}

/** Money in major units with a decimal point → integer minor units (two decimals, as most currencies have). */
export const moneyMinor: Parse<number> = (cell) => {
  const value = number(-1e9, 1e9, 'in the currency of the settings')(cell.replace(/^[$€£]\s?/, ''));
  return value instanceof CellFault ? value : Math.round(value * 100);
};

/** 0 or 1; as a number with decimals or as a truth value where a table keeps flags so. */
export const flag: Parse<boolean> = (cell) => {
  const word = /^(?:([01])(?:\.0*)?|(true)|(false))$/i.exec(cell);
  return word === null ? new CellFault('0 or 1') : word[1] === '1' || word[2] !== undefined;
};

export function oneOf<Word extends string>(words: readonly Word[]): Parse<Word> {
  return (cell) => words.find((word) => word === cell.toLowerCase()) ?? new CellFault(words.join(', '));
}
