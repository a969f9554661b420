import { CONTRACT_FIELDS, isContractField, type ContractField, type Measure } from '../../model/contract-fields.ts';
import type { ImportProfile, ProfileColumn } from '../../model/import-profile.ts';
import { isoInstant } from '../../model/time.ts';
import {
  clockDuration,
  conversionOf,
  converted,
  isOne,
  negated,
  scaled,
  type Conversion,
} from '../../model/unit-of-measure.ts';
import { CellFault } from '../kinds/cell.ts';
import { timeFormat, type TimeFormat } from './time-format.ts';

/** One column of a foreign file and the field that it fills. Columns without a field are in no list: kept aside. */
export type MappedColumn = {
  /** Which column of the file, from 0. */
  index: number;
  /** Its name in the file. */
  name: string;
  field: ContractField;
  measure: Measure;
  /** The unit of measure in which the file has it, where that is not the field's own. */
  unitOfMeasure: string | null;
  /** Half of an instant that stands in two columns: the texts are joined, date first, and then read. */
  part: 'date' | 'time' | null;
  /** For values that come as numbers (Parquet, Arrow): null where they are in the field's own unit of measure. */
  conversion: Conversion | null;
  /** Whether words of the file have values of their own. */
  hasValues: boolean;
  /** For fields that hold an instant: a text of the file → µs since 1970. */
  instantOf: TimeFormat['instant'] | null;
  /** … and of a plain number, where its times are numbers. */
  instantOfNumber: TimeFormat['ofNumber'];
  /** A text of the file, trimmed → as a file with the contract's columns would write it; empty where it is missing. */
  written(text: string): string | CellFault;
};

/** What is known of a file beside its rows: its path, and a value out of the lines above its header. */
export type MappedFile = { path: string; preamble: (key: string) => string | null };

const PLAIN_NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i;

/**
 * Which columns fill which fields: those that the profile names, and those that bear the name of a field already. Names
 * are compared without capitals and blanks around; of two columns with one name the first counts.
 */
export function mapColumns(names: readonly string[], profile: ImportProfile | null): MappedColumn[] {
  const wanted = new Map(Object.entries(profile?.columns ?? {}).map(([name, column]) => [plainName(name), column]));
  const taken = new Set([...wanted.values()].map(({ field }) => field));
  for (const field of constantsOf(profile).keys()) taken.add(field);
  const seen = new Set<string>();
  return names.flatMap((name, index) => {
    const key = plainName(name);
    if (seen.has(key)) return [];
    seen.add(key);
    const column = wanted.get(key) ?? (isContractField(key) && !taken.has(key) ? { field: key } : null);
    if (column === null || !isContractField(column.field)) return [];
    return [mappedColumn({ index, name, column, field: column.field }, profile)];
  });
}

export function plainName(name: string): string {
  return name
    .replace(/^\uFEFF/, '')
    .trim()
    .toLowerCase();
}

/** Fields that every row has alike: the profile's constants and its fixed unit. */
export function constantsOf(profile: ImportProfile | null, unit = profile?.unit ?? null): Map<string, string> {
  const constants = new Map(Object.entries(profile?.constants ?? {}));
  if (profile?.unitFrom !== undefined || unit !== null) constants.set('unit', unit ?? '');
  return constants;
}

type Naming = { index: number; name: string; column: ProfileColumn; field: ContractField };

function mappedColumn({ index, name, column, field }: Naming, profile: ImportProfile | null): MappedColumn {
  const measure: Measure = CONTRACT_FIELDS[field];
  const unit = column.unitOfMeasure ?? null;
  const ofUnit = conversionOf(measure, unit ?? measure);
  const plain = ofUnit === null ? null : scaled(ofUnit, column.scale ?? 1);
  const conversion = plain !== null && column.reversed === true ? negated(plain) : plain;
  const needed = conversion === null || isOne(conversion) ? null : conversion;
  const marks = new Set(profile?.missingMarks ?? []);
  const values = new Map(Object.entries(column.values ?? {}));
  const parse = parserOf(measure, { column, conversion: needed, profile });
  const written = (text: string) => {
    if (text === '' || marks.has(text)) return '';
    const value = values.get(text);
    return value ?? parse(text);
  };
  return {
    index,
    name,
    field,
    measure,
    unitOfMeasure: unit,
    part: column.part ?? null,
    conversion: needed,
    hasValues: values.size > 0,
    instantOf: measure === 'instant' ? formatOf(column, profile).instant : null,
    instantOfNumber: measure === 'instant' ? formatOf(column, profile).ofNumber : null,
    written,
  };
}

type Parsing = { column: ProfileColumn; conversion: Conversion | null; profile: ImportProfile | null };

function parserOf(measure: Measure, { column, conversion, profile }: Parsing): (text: string) => string | CellFault {
  if (measure === 'text' || measure === 'flag') return (text) => text;
  const mark = profile?.decimalMark ?? '.';
  if (measure === 'instant' || measure === 'date') {
    return timeParser(measure, formatOf(column, profile));
  }
  const clock = column.unitOfMeasure?.includes(':') === true ? column.unitOfMeasure : null;
  if (clock !== null)
    return (text) => {
      const value = clockDuration(text, clock, measure);
      return Number.isNaN(value) ? new CellFault(`a duration ${clock}`) : String(value);
    };
  const plainOf = ungrouping(mark, profile?.groupMark);
  const bareOf = measure === 'money' ? withoutCurrency : withoutUnit(column.unitOfMeasure ?? measure);
  return (text) => {
    const plain = plainOf(bareOf(text));
    if (plain instanceof CellFault || conversion === null) return plain;
    if (!PLAIN_NUMBER.test(plain)) return new CellFault(`a number (${column.unitOfMeasure})`);
    return String(converted(Number(plain), conversion));
  };
}

function formatOf({ format }: ProfileColumn, profile: ImportProfile | null): TimeFormat {
  return timeFormat(format === undefined ? profile?.time : { ...profile?.time, format }, profile?.decimalMark);
}

function timeParser(measure: 'instant' | 'date', format: TimeFormat): (text: string) => string | CellFault {
  if (measure === 'date') return (text) => format.date(text);
  return (text) => {
    const day = format.dateOnly(text);
    if (day !== null) return day;
    const us = format.instant(text);
    return us instanceof CellFault ? us : instantText(us);
  };
}

/** An instant as readers take it fastest: epoch milliseconds with decimals; ISO 8601 for clocks that were never set. */
export function instantText(us: number): string {
  if (!(us >= 1e14 && us < 9e15)) return Number.isFinite(us) && Math.abs(us) < 8.64e18 ? safeIso(us) : String(us);
  const millis = Math.floor(us / 1000);
  const rest = us - millis * 1000;
  return rest === 0 ? String(millis) : `${millis}.${String(rest).padStart(3, '0')}`;
}

/** Years outside 0 to 9999 have no plain ISO form; readers refuse the number that stands for them. */
function safeIso(us: number): string {
  return us > -6.2e16 && us < 2.5e17 ? isoInstant(us) : String(us);
}

/** Decimal comma → decimal point. A point where the profile says comma is no number: 1.234 could be a thousand. */
function pointed(text: string, mark: '.' | ','): string | CellFault {
  if (mark === '.') return text;
  return text.includes('.') ? new CellFault('a decimal comma, as the profile says') : text.replace(',', '.');
}

function withoutCurrency(text: string): string {
  return text.replace(/\s?(?:[$€£]|[A-Z]{3})$/, '').replace(/^(?:[$€£]|[A-Z]{3})\s?/, '');
}

/** `12.6 V` in a column of V; in one of mV it is no number. */
function withoutUnit(unitOfMeasure: string): (text: string) => string {
  const endings = [unitOfMeasure, unitOfMeasure.replace('°', '')];
  return (text) => {
    const parts = /^(.*\d[.,]?)\s?([^\d\s.,]\S*)$/.exec(text);
    return parts !== null && endings.includes(parts[2]!) ? parts[1]! : text;
  };
}

/** What may stand between thousands, by the mark of the decimals. */
const GROUP_MARKS = { ',': "[. '\u00A0\u202F]", '.': "[, '\u00A0\u202F]" } as const;

/**
 * Numbers may be grouped by thousands, where nothing is in doubt: `1.234,50` by its decimals, `1.234` only where the
 * profile names the mark; it could as well be a decimal point among decimal commas.
 */
function ungrouping(mark: '.' | ',', groupMark: string | undefined): (text: string) => string | CellFault {
  const group = groupMark === undefined ? GROUP_MARKS[mark] : `[${groupMark}]`;
  const decimals = groupMark === undefined ? '' : '?';
  const grouped = new RegExp(`^[+-]?\\d{1,3}(?:${group}\\d{3})+(?:\\${mark}\\d+)${decimals}$`);
  const marks = new RegExp(group, 'g');
  return (text) => pointed(grouped.test(text) ? text.replace(marks, '') : text, mark);
}
