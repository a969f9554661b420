import { majorText } from '../planning/money.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { Cell, Cells, Column } from './export-table.ts';

/** One JSON object a row: the same columns as in CSV, numbers as numbers, unknown as null. */
export async function* ndjsonBlocks(
  columns: readonly Column[],
  rows: AsyncIterable<Cells>,
  currency: string,
): AsyncGenerator<string> {
  for await (const cells of rows) {
    const object = Object.fromEntries(
      columns.map((column, index) => [column.name, value(cells[index]!, column, currency)]),
    );
    yield `${JSON.stringify(object)}\n`;
  }
}

function value(cell: Cell, { type }: Column, currency: string): Cell {
  if (typeof cell !== 'number') return cell;
  if (type === 'instant') return isoInstant(cell);
  return type === 'money' ? Number(majorText(cell, currency)) : cell;
}
