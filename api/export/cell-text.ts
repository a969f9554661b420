import { majorText } from '../planning/money.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { Cell, Column } from './export-table.ts';
import { plainNumber } from './plain-number.ts';

/** A cell as text, the same in every format that writes text: unknown is empty. */
export function cellText(cell: Cell, { type }: Column, currency: string): string {
  if (cell === null) return '';
  if (typeof cell === 'string') return cell;
  if (type === 'instant') return isoInstant(cell);
  if (type === 'money') return majorText(cell, currency);
  return plainNumber(cell);
}

/**
 * A text cell as it may stand in a file that a spreadsheet opens: what would begin a formula there is made text by an
 * apostrophe before it. Numbers, dates and money are ours and stay as they are.
 */
export function spreadsheetText(cell: Cell, column: Column, currency: string): string {
  const text = cellText(cell, column, currency);
  return typeof cell === 'string' && column.type === 'text' && /^[=+\-@\t\r\n]/.test(text) ? `'${text}` : text;
}
