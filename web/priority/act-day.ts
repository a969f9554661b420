/** The day that goes with an action, in words; '' where none does. */
import type { RankingRow } from '../../api/contract/ranking.ts';
import { date } from '../format.ts';

/** What is to be done at the next visit has the visit's day: an act-by day before it would contradict the action. */
export function actDay(row: Pick<RankingRow, 'action' | 'actByOn' | 'nextVisitOn'>): string {
  if (row.action === 'book_at_next_visit') return `on ${date(row.nextVisitOn)}`;
  if (row.actByOn === null) return '';
  return `${row.action === 'leave' ? 'until' : 'by'} ${date(row.actByOn)}`;
}
