/**
 * The common time axis of the list: dates → percent of the axis' width, so that the drawing in a row needs no
 * measuring. Percents below 0 or above 100 lie outside.
 */
import { monthAndYear, monthName } from '../format.ts';
import type { AxisMonths } from './ranking-query.ts';

export type AxisTick = { percent: number; label: string };
export type WindowAxis = {
  fromOn: string;
  toOn: string;
  percent: (on: string) => number;
  ticks: readonly AxisTick[];
};

const DAY_MS = 86_400_000;
const ms = (on: string) => Date.parse(`${on}T00:00:00Z`);
const iso = (time: number) => new Date(time).toISOString().slice(0, 10);

/** Months between two ticks, by the length of the axis. */
const STEP: Record<AxisMonths, number> = { 6: 1, 12: 2, 24: 4, 60: 12 };
/** So much of the axis lies before the as-of day, that its line and a window that begins at once can be seen. */
const LEAD = 0.02;

export function windowAxis(asOfOn: string, months: AxisMonths): WindowAxis {
  const end = addMonths(asOfOn, months);
  const from = ms(asOfOn) - Math.round(((ms(end) - ms(asOfOn)) * LEAD) / DAY_MS) * DAY_MS;
  const percent = (on: string) => ((ms(on) - from) / (ms(end) - from)) * 100;
  return { fromOn: iso(from), toOn: end, percent, ticks: ticks(asOfOn, months, percent) };
}

function ticks(asOfOn: string, months: AxisMonths, percent: (on: string) => number): AxisTick[] {
  const first = addMonths(`${asOfOn.slice(0, 7)}-01`, 1);
  const step = STEP[months];
  return Array.from({ length: Math.ceil(months / step) }, (_, index) => addMonths(first, index * step)).map((on) => ({
    percent: percent(on),
    label: step === 12 ? monthAndYear(on) : beginsYear(on) ? on.slice(0, 4) : monthName(on),
  }));
}

/** January carries the year in its place: both together would run into the next label. */
function beginsYear(on: string): boolean {
  return on.slice(5, 7) === '01';
}

/** The last day of a shorter month stands in for a day that it does not have. */
export function addMonths(on: string, months: number): string {
  const [year, month, day] = on.split('-').map(Number) as [number, number, number];
  const first = Date.UTC(year, month - 1 + months, 1);
  const length = new Date(Date.UTC(year, month + months, 0)).getUTCDate();
  return iso(first + (Math.min(day, length) - 1) * DAY_MS);
}
