import {
  RecordBatch,
  Schema,
  Struct,
  Table,
  Field,
  Utf8,
  makeData,
  tableToIPC,
  vectorFromArray,
  type DataType,
  type Vector,
} from 'apache-arrow';

/** A table of texts, as a CSV file has it. */
export type PlainTable = { columns: readonly string[]; rows: readonly (readonly string[])[] };

export function csvOf({ columns, rows }: PlainTable): string {
  const quoted = (cell: string) => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  return [columns, ...rows].map((cells) => `${cells.map(quoted).join(',')}\n`).join('');
}

/** Columns of an Arrow table, in batches of so many rows; `file` or `stream`. */
export function arrowBytes(
  columns: Record<string, Vector>,
  shape: 'file' | 'stream',
  batchRows = Infinity,
): Uint8Array {
  const fields = Object.entries(columns).map(([name, { type }]) => new Field(name, type as DataType, true));
  const schema = new Schema(fields);
  const all = Object.values(columns);
  const length = all[0]?.length ?? 0;
  const batches: RecordBatch[] = [];
  for (let from = 0; from < length; from += batchRows) {
    const to = Math.min(length, from + batchRows);
    const children = all.map((vector) => vector.slice(from, to).data[0]!);
    const data = makeData({ type: new Struct(fields), length: to - from, nullCount: 0, children });
    batches.push(new RecordBatch(schema, data));
  }
  return tableToIPC(new Table(schema, batches), shape);
}

/** All columns as texts; an empty cell is missing. */
export function textVectors({ columns, rows }: PlainTable): Record<string, Vector> {
  return Object.fromEntries(
    columns.map((name, at) => [
      name,
      vectorFromArray(
        rows.map((row) => (row[at] === '' ? null : row[at]!)),
        new Utf8(),
      ),
    ]),
  );
}
