import { DateTime, IANAZone } from 'luxon';

/**
 * Instants are integer microseconds since 1970 in UTC (`…Us`), held in a JavaScript number: exact until the year 2255.
 * Dates are `YYYY-MM-DD` text (`…On`).
 */
export const US_PER_SECOND = 1e6;
export const US_PER_DAY = 86_400 * US_PER_SECOND;

/** An as-of: everything known up to and including `us`. `label` is a date, or an instant in UTC however it was written. */
export type AsOf = { us: number; label: string; on: string };

const DATE = /^\d{4}-\d{2}-\d{2}$/;
/** Day, time and zone in full: a part left out would be filled in from the clock. Groups: the digits of the fraction. */
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:[.,](\d{1,9}))?)?(?:Z|[+-]\d{2}(?::?\d{2})?)$/i;

/** `2026-03-01` → the last microsecond of that day in `zone`; an ISO instant → that instant. Throws RangeError. */
export function asOf(text: string, zone = 'UTC'): AsOf {
  if (!IANAZone.isValidZone(zone)) throw new RangeError(`time zone requires an IANA name, got ${zone} (settings)`);
  if (DATE.test(text)) {
    const end = DateTime.fromISO(text, { zone }).endOf('day');
    if (end.isValid) return { us: end.toMillis() * 1000 + 999, label: text, on: text };
  }
  const instant = DateTime.fromISO(text, { setZone: true });
  const written = INSTANT.exec(text);
  if (!instant.isValid || written === null)
    throw new RangeError(
      `as-of requires a date YYYY-MM-DD or an instant with zone, got ${text || 'nothing'} (--as-of)`,
    );
  const fractionUs = Number((written[1] ?? '').padEnd(6, '0').slice(0, 6));
  const us = instant.startOf('second').toMillis() * 1000 + fractionUs;
  return { us, label: isoInstant(us), on: instant.setZone(zone).toISODate() ?? '' };
}

/** Whether a text is a day of the calendar, written `YYYY-MM-DD`. */
export function isDate(text: string): boolean {
  return DATE.test(text) && DateTime.fromISO(text).isValid;
}

/** The day in `zone` that holds an instant. */
export function dayOf(us: number, zone = 'UTC'): string {
  // By arithmetic where it can be: a fleet has some hundred thousand records.
  if (zone === 'UTC' && us >= 0 && us <= Number.MAX_SAFE_INTEGER) return dateOf(Math.floor(us / US_PER_DAY));
  return DateTime.fromMillis(Math.floor(us / 1000), { zone }).toISODate() ?? '';
}

/** How far a zone's clocks are ahead of UTC at an instant, µs. */
export function aheadOfUtcUs(us: number, zone: string): number {
  return IANAZone.create(zone).offset(Math.floor(us / 1000)) * 60 * US_PER_SECOND;
}

/** First microsecond of a date in a zone: an hour late where midnight was skipped. */
export function startOfDayUs(on: string, zone: string): number {
  return DateTime.fromISO(on, { zone }).startOf('day').toMillis() * 1000;
}

/** Days since 1970-01-01 of a date. */
export function dayNumber(on: string): number {
  return Date.parse(`${on}T00:00:00Z`) / 86_400_000;
}

/** The date of a day number. */
export function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

/** First microsecond of a date, UTC. */
export function dateUs(on: string): number {
  return Date.parse(`${on}T00:00:00Z`) * 1000;
}

/** `1700000000123456` → `2023-11-14T22:13:20.123456Z`; trailing zeros of the fraction go, whole seconds stay bare. */
export function isoInstant(us: number): string {
  const seconds = Math.floor(us / US_PER_SECOND);
  const fraction = us - seconds * US_PER_SECOND;
  const base = new Date(seconds * 1000).toISOString().slice(0, 19);
  return fraction === 0 ? `${base}Z` : `${base}.${String(fraction).padStart(6, '0').replace(/0+$/, '')}Z`;
}

export function isTimeZone(name: string): boolean {
  return IANAZone.isValidZone(name);
}
