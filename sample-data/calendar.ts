/** Days are whole days since 1970-01-01 UTC. The invented region keeps UTC all year, so a day is 24 hours. */
export const DAYS_PER_YEAR = 365.25;

const DATE = /^\d{4}-\d{2}-\d{2}$/;

export function dayFromDate(date: string): number {
  const day = DATE.test(date) ? Date.parse(`${date}T00:00:00Z`) / 86_400_000 : Number.NaN;
  if (Number.isNaN(day)) throw new RangeError(`last day requires a date YYYY-MM-DD, got ${date} (simulate)`);
  return day;
}

export function dateFromDay(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

/** Position in the year, 0 (1 January) to 1. */
export function yearFraction(day: number): number {
  const turns = (day + 0.5) / DAYS_PER_YEAR;
  return turns - Math.floor(turns);
}

/** 1 = Monday … 7. */
export function weekday(day: number): number {
  return ((((day + 3) % 7) + 7) % 7) + 1;
}

/** `2026-q1`, for the name of a quarter's file. */
export function quarterOf(day: number): string {
  const date = dateFromDay(day);
  return `${date.slice(0, 4)}-q${Math.ceil(Number(date.slice(5, 7)) / 3)}`;
}

/** Seconds of a day → `07:15:04.3`, with `decimals` digits after the point (0 to 6). */
export function clockText(secondOfDay: number, decimals: number): string {
  const scale = 10 ** decimals;
  const ticks = Math.round(secondOfDay * scale);
  const seconds = Math.floor(ticks / scale);
  const two = (value: number): string => (value < 10 ? `0${value}` : `${value}`);
  const clock = `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
  return decimals === 0 ? clock : `${clock}.${String(ticks - seconds * scale).padStart(decimals, '0')}`;
}

/** Instant as text; seconds past midnight of the next days are carried over. */
export function instantText(day: number, secondOfDay: number, decimals = 0): string {
  const whole = Math.floor(secondOfDay / 86_400);
  return `${dateFromDay(day + whole)}T${clockText(secondOfDay - whole * 86_400, decimals)}Z`;
}
