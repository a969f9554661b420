/** The days that a booking and a deferral propose. Never one that lies behind the reader: the list may be some days old. */
import type { RankingRow } from '../../api/contract/ranking.ts';

/** A deferral looks again after so many days, unless the planner says otherwise (common practice: a month). */
const LOOK_AGAIN_DAYS = 30;
const DAY_MS = 86_400_000;

export function bookingDay({ actByOn, nextVisitOn }: Pick<RankingRow, 'actByOn' | 'nextVisitOn'>, todayOn: string) {
  const due = actByOn ?? nextVisitOn;
  return due < todayOn ? todayOn : due;
}

export function lookAgainDay(todayOn: string): string {
  return new Date(Date.parse(`${todayOn}T00:00:00Z`) + LOOK_AGAIN_DAYS * DAY_MS).toISOString().slice(0, 10);
}
