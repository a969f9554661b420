/** The day that goes with an action, in words; '' where none does. */
import type { RankingRow } from '../../api/contract/ranking.ts';
import { date } from '../format.ts';

/**
 * What is to be done at the next visit has the visit's day: an act-by day before it would contradict the action, as it
 * would where the part is to be left even then.
 */
export function actDay(row: Pick<RankingRow, 'action' | 'actByOn' | 'nextVisitOn'>, todayOn: string): string {
  if (row.action === 'book_at_next_visit') return `on ${date(row.nextVisitOn)}`;
  if (row.actByOn === null) return '';
  // A list that is some days old asks for a day that has gone by.
  if (row.action !== 'leave') return `${row.actByOn < todayOn ? 'since' : 'by'} ${date(row.actByOn)}`;
  return row.actByOn < row.nextVisitOn ? '' : `until ${date(row.actByOn)}`;
}
