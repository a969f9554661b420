import type { ImportProfile } from '../../model/import-profile.ts';
import { converted } from '../../model/unit-of-measure.ts';
import { CellFault, RowFault } from '../kinds/cell.ts';
import {
  instantColumn,
  numberColumn,
  type ColumnTable,
  type TableBatch,
  type TableColumn,
  type Wanted,
} from '../columns/column-table.ts';
import { instantText, type MappedColumn } from './mapped-column.ts';
import type { RowMapping } from './row-mapping.ts';
import { zoneInstants, type ToInstant } from './time-format-zone.ts';

/**
 * A foreign table as a table with the contract's columns, by a profile. Values that the file stores as numbers or
 * instants are converted as such: decimal marks and time formats are matters of text.
 */
export function mappedTable(table: ColumnTable, mapping: RowMapping, profile: ImportProfile): ColumnTable {
  const marked = (profile.missingMarks ?? []).length > 0;
  const zone = profile.time?.zone === undefined ? null : zoneInstants(profile.time.zone);

  async function* batches(wanted: ReadonlyMap<string, Wanted>): AsyncIterable<TableBatch> {
    const inner = new Map<string, Wanted>();
    for (const { index, measure } of mapping.columns) inner.set(table.columns[index]!, wantedOf(measure));
    const names = [...inner.keys()];
    let before = 0;
    for await (const batch of table.batches(inner)) {
      const columnAt = (index: number) => batch.columns[names.indexOf(table.columns[index]!)]!;
      const columns = [...wanted.keys()].map((field) =>
        fieldColumn(field, { mapping, batch, columnAt, before, marked, zone }),
      );
      yield { ...batch, columns };
      before += batch.count;
    }
  }
  const others = [...mapping.unmapped.filter((name) => name !== ''), ...table.others];
  return { columns: mapping.fields, others, batches };
}

function wantedOf(measure: MappedColumn['measure']): Wanted {
  if (measure === 'text' || measure === 'date') return 'text';
  return measure === 'instant' ? 'instant' : 'number';
}

type Source = {
  mapping: RowMapping;
  batch: TableBatch;
  columnAt: (index: number) => TableColumn;
  /** Rows of the file before this batch. */
  before: number;
  /** Whether some values mean that there is none. */
  marked: boolean;
  /** Clocks of the profile's zone; null where it names none. */
  zone: ToInstant | null;
};

function fieldColumn(field: string, source: Source): TableColumn {
  const { mapping, columnAt } = source;
  const constant = mapping.fields.indexOf(field) - (mapping.fields.length - mapping.constants.length);
  if (constant >= 0)
    return textColumn(
      () => mapping.constants[constant]!,
      () => true,
    );
  const column = mapping.single.find((each) => each.field === field);
  if (column === undefined) return timeFromStart(source);
  const inner = columnAt(column.index);
  const half = mapping.halves.get(column.field);
  if (half !== undefined) {
    const other = columnAt(half);
    return textColumn((row) => written(column, joined(inner.text(row), other.text(row))));
  }
  return (
    stored(column, inner, source) ??
    textColumn(
      (row) => written(column, inner.text(row)),
      (row) => inner.repeats(row),
    )
  );
}

/** A column whose stored numbers or instants can be taken as they are, or by a factor; null where its text decides. */
function stored(column: MappedColumn, inner: TableColumn, { marked, zone }: Source): TableColumn | null {
  const { measure, conversion, unitOfMeasure, instantOfNumber } = column;
  if (marked || column.hasValues) return null;
  if (measure === 'instant') {
    if (inner.instants !== null) return inner;
    if (inner.wallClocks !== undefined) return inZone(column, inner, { wallClocks: inner.wallClocks, zone });
    if (inner.numbers === null || instantOfNumber === null) return null;
    return instantColumn(inner.numbers.map(instantOfNumber));
  }
  const clock = unitOfMeasure?.includes(':') === true;
  if (inner.numbers === null || measure === 'text' || measure === 'date' || clock) return null;
  return numberColumn(conversion === null ? inner.numbers : inner.numbers.map((value) => converted(value, conversion)));
}

type WallClocks = { wallClocks: Float64Array; zone: ToInstant | null };

/** Stored times without a zone, in the zone of the profile. Hours that its clocks skip or show twice are told. */
function inZone(column: MappedColumn, inner: TableColumn, { wallClocks, zone }: WallClocks): TableColumn {
  const toInstant = (wallUs: number) => {
    const us = zone === null || Number.isNaN(wallUs) ? Number.NaN : zone(wallUs);
    return typeof us === 'number' ? us : Number.NaN;
  };
  const known = instantColumn(wallClocks.map(toInstant));
  const text = (row: number) => {
    const unread = inner.text(row);
    if (!Number.isNaN(known.instants![row]!) || typeof unread !== 'string' || unread === '') return known.text(row);
    const hour = zone?.(wallClocks[row]!);
    const reason =
      hour === 'skipped'
        ? 'an hour that the clocks of its zone show, not one that they skip'
        : hour === 'repeated'
          ? 'an offset in the hour that the clocks of its zone show twice'
          : 'a zone: give time.zone in the profile';
    return new RowFault(column.field, unread, reason);
  };
  return { ...known, text };
}

function timeFromStart({ mapping, batch, columnAt, before }: Source): TableColumn {
  const { fromStart, timeIndex } = mapping;
  const inner = timeIndex >= 0 ? columnAt(timeIndex) : null;
  if (fromStart!.counted)
    return instantColumn(Float64Array.from({ length: batch.count }, (_, row) => fromStart!.ofNumber(before + row)));
  if (inner?.numbers) return instantColumn(inner.numbers.map(fromStart!.ofNumber));
  return textColumn((row) => {
    const text = inner?.text(row) ?? '';
    if (text instanceof RowFault) return text;
    const us = fromStart!.instant(text.trim(), before + row);
    return us instanceof CellFault ? us.at('time', text) : instantText(us);
  });
}

function textColumn(text: TableColumn['text'], repeats: TableColumn['repeats'] = () => false): TableColumn {
  return { text, numbers: null, instants: null, repeats };
}

function written(column: MappedColumn, text: string | RowFault): string | RowFault {
  if (text instanceof RowFault) return text;
  const value = column.written(text.trim());
  return value instanceof CellFault ? value.at(column.field, text) : value;
}

function joined(date: string | RowFault, time: string | RowFault): string | RowFault {
  if (date instanceof RowFault || time instanceof RowFault) return date instanceof RowFault ? date : time;
  return `${date.trim()} ${time.trim()}`.trim();
}
