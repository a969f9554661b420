/** A failure window in words: its dates as they stand below its drawing, and all of it for the ear and the pointer. */
import type { RankingRow } from '../../api/contract/ranking.ts';
import { isForeseen } from '../foreseen.ts';
import { date, monthAndYear, shortDate } from '../format.ts';
import { BEYOND_OUTLOOK, VISIT_WORDS } from '../words.ts';

type Window = Pick<RankingRow, 'windowEarlyOn' | 'windowMidOn' | 'windowLateOn' | 'basis'>;

/** `1 Nov · 7 Nov · 31 Jan`: failed by then with 10, 50, 90 %. '' where the drawing says all that can be said. */
export function windowDates({ windowEarlyOn: early, windowMidOn: mid, windowLateOn: late }: Window, asOfOn: string) {
  if (early === null) return '';
  const dates = [early, mid, late].filter((on) => on !== null).map((on) => nearDate(on, asOfOn));
  return (dates.length < 3 ? [...dates, BEYOND_OUTLOOK] : dates).join(' · ');
}

/** Within a year the day; later the month and the year: the forecast does not know better. */
function nearDate(on: string, asOfOn: string): string {
  const yearLater = `${Number(asOfOn.slice(0, 4)) + 1}${asOfOn.slice(4)}`;
  return on < yearLater ? shortDate(on) : monthAndYear(on);
}

export function windowWords(row: Window & Pick<RankingRow, 'nextVisitOn' | 'nextVisitFrom'>): string {
  const visitWords = `next visit ${date(row.nextVisitOn)} (${VISIT_WORDS[row.nextVisitFrom]})`;
  if (!isForeseen(row)) return `No outlook; ${visitWords}`;
  const by = (percent: number, on: string | null) =>
    on === null ? `${percent} % later than five years` : `${percent} % by ${date(on)}`;
  const points = [by(10, row.windowEarlyOn), by(50, row.windowMidOn), by(90, row.windowLateOn)];
  return `Failed with probability ${points.join(', ')}; ${visitWords}`;
}
