import { RowFault } from './cell.ts';
import type { ColumnTable, TableBatch } from '../columns/column-table.ts';
import type { ReaderSink, ReadReport, TableReader } from '../reader.ts';
import { readRecords } from './record-csv.ts';
import { RecordRows, type RecordPlan } from './record-rows.ts';
import { shown } from '../csv/row-scanner.ts';
import { MAX_ROW_BYTES } from '../csv/row-window.ts';

/** Both ways to read a register or record: as CSV, and out of columns. */
export function recordReading<Row>(plan: RecordPlan<Row>): Pick<TableReader, 'read' | 'readTable'> {
  return {
    read: async (bytes, sink, options) => readRecords(bytes, sink, { ...plan, nowUs: options?.nowUs }),
    readTable: async (table, sink, options) => readRecordTable(table, sink, { ...plan, nowUs: options?.nowUs }),
  };
}

async function readRecordTable<Row>(table: ColumnTable, sink: ReaderSink, plan: RecordPlan<Row>): Promise<ReadReport> {
  const rows = new RecordRows(sink, plan);
  const known = plan.fields.map(({ column }) => column);
  rows.columns = [...new Set(table.columns)].filter((column) => known.includes(column));
  const wanted = new Map(rows.columns.map((column) => [column, 'text' as const]));
  for await (const batch of table.batches(wanted)) {
    for (const row of batch.setAside) rows.refuse(row);
    let length = 0;
    for (let row = 0; row < batch.count; row++) {
      length += addRow(rows, batch, row);
      if (length < MOST_HELD) continue;
      await rows.deliver();
      length = 0;
    }
    await rows.deliver();
  }
  const unknownColumns = [...new Set(table.columns)].filter((column) => !known.includes(column));
  return { ...rows.report(), unknownColumns };
}

/** Characters that wait for the sink. Program. */
const MOST_HELD = 4 * MAX_ROW_BYTES;

/** Reads one row and gives the length of its texts. A row as large as no line of a CSV file may be is none. */
function addRow<Row>(rows: RecordRows<Row>, { columns, lines }: TableBatch, row: number): number {
  const line = lines[row]!;
  const cells: string[] = [];
  let length = 0;
  for (const column of columns) {
    const text = column.text(row);
    if (text instanceof RowFault) {
      const { field, value, reason } = text;
      rows.refuse({ line, field, value: shown(value), reason: `${field} requires ${reason}` });
      return length;
    }
    length += text.length;
    cells.push(text);
  }
  if (length > MAX_ROW_BYTES)
    rows.refuse({ line, field: '', value: shown(cells.join(',')), reason: 'row requires at most 1 MiB' });
  else rows.add(cells, line);
  return length;
}
