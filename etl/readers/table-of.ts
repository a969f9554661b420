import { TABLE_READERS } from './all-readers.ts';
import type { TableReader } from './reader.ts';

/** The first kind of table whose columns are all there. */
export function readerMadeBy(columns: readonly string[]): TableReader | undefined {
  const has = (names: readonly string[]) => names.every((name) => columns.includes(name));
  return TABLE_READERS.find(({ needed, orNeeded = needed }) => has(needed) || has(orNeeded));
}

/** The kind of table that these columns make; else why none, with the nearest kind and what it lacks. */
export function tableReaderOf(columns: readonly string[]): TableReader | { unrecognised: string } {
  return readerMadeBy(columns) ?? { unrecognised: explain(columns) };
}

function explain(columns: readonly string[]): string {
  const shown = columns
    .slice(0, 12)
    .map((column) => column.slice(0, 40))
    .join(', ');
  const { reader, lacking } = nearest(columns);
  if (lacking.length === reader.needed.length) return `file requires the columns of a known kind, got ${shown}`;
  return `file requires the columns of a known kind, got ${shown}: nearest is ${reader.kind}, which also needs ${lacking.join(', ')}`;
}

function nearest(columns: readonly string[]): { reader: TableReader; lacking: string[] } {
  const all = TABLE_READERS.map((reader) => ({
    reader,
    lacking: reader.needed.filter((name) => !columns.includes(name)),
  }));
  const share = ({ reader, lacking }: (typeof all)[number]) => lacking.length / reader.needed.length;
  return all.reduce((best, each) => (share(each) < share(best) ? each : best));
}
