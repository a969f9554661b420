import { dateOf, dayNumber } from '../../etl/model/time.ts';

/**
 * The next day on which a unit stands in the shop anyway: the earliest future one of a booked job, a planned shop
 * visit and the planned maintenance date; while that date is overdue it is repeated by its interval. Where nothing is known, a day so many
 * days ahead is assumed and marked so.
 *
 * Future means after the as-of day: that day is over. An overdue date without an interval says nothing about when the
 * unit will come, so it is not used.
 *
 * @example nextVisit({ asOfOn: '2026-03-10', bookedOns: [], visitOns: [], pmOn: '2026-01-01', pmIntervalDays: 60, assumedDays: 90 })
 *          // { on: '2026-05-01', from: 'maintenance' }: 1 January + 120 days
 */
export type NextVisit = { on: string; from: 'booked' | 'shop_visit' | 'maintenance' | 'assumed' };

export type VisitQuestion = {
  asOfOn: string;
  bookedOns: readonly string[];
  visitOns: readonly string[];
  pmOn: string | null;
  pmIntervalDays: number | null;
  assumedDays: number;
};

export function nextVisit(question: VisitQuestion): NextVisit {
  const today = dayNumber(question.asOfOn);
  const known = [
    ...question.bookedOns.map((on): NextVisit => ({ on, from: 'booked' })),
    ...question.visitOns.map((on): NextVisit => ({ on, from: 'shop_visit' })),
    ...maintenance(question, today),
  ].filter((visit) => dayNumber(visit.on) > today);
  // Dates as text sort as dates do; at a tie the order above stands.
  const earliest = known.toSorted((a, b) => (a.on < b.on ? -1 : Number(a.on > b.on)))[0];
  return earliest ?? { on: dateOf(today + question.assumedDays), from: 'assumed' };
}

function maintenance({ pmOn, pmIntervalDays }: VisitQuestion, today: number): NextVisit[] {
  if (pmOn === null) return [];
  const planned = dayNumber(pmOn);
  if (planned > today || pmIntervalDays === null || pmIntervalDays < 1) return [{ on: pmOn, from: 'maintenance' }];
  const repeats = Math.floor((today - planned) / pmIntervalDays) + 1;
  // Rounded up: an interval may be no whole number of days, and the as-of day is over.
  return [{ on: dateOf(Math.ceil(planned + repeats * pmIntervalDays)), from: 'maintenance' }];
}
