/** The day that goes with an action, in words; '' where none does. */
import type { RankingRow } from '../../api/contract/ranking.ts';
import { date } from '../format.ts';

export function actDay(row: Pick<RankingRow, 'action' | 'actByOn'>, todayOn: string): string {
  if (row.actByOn === null) return '';
  const day = date(row.actByOn);
  if (row.action === 'book_at_next_visit') return `on ${day}`;
  if (row.action === 'leave') return `until ${day}`;
  // A list that is some days old asks for a day that has gone by.
  return `${row.actByOn < todayOn ? 'since' : 'by'} ${day}`;
}
