/** The only place where a number or a date becomes text. Unknown is a dash here and nowhere else. */
const LOCALE = 'en-GB';
const DAY_MS = 86_400_000;
export const UNKNOWN = '–';

const whole = new Intl.NumberFormat(LOCALE, { maximumFractionDigits: 0 });
const day = new Intl.DateTimeFormat(LOCALE, { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });
const dayOnly = new Intl.DateTimeFormat(LOCALE, { day: 'numeric', month: 'short', timeZone: 'UTC' });
const month = new Intl.DateTimeFormat(LOCALE, { month: 'short', timeZone: 'UTC' });
const monthYear = new Intl.DateTimeFormat(LOCALE, { month: 'short', year: 'numeric', timeZone: 'UTC' });
const minute = new Intl.DateTimeFormat(LOCALE, {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
  timeZone: 'UTC',
});
const relative = new Intl.RelativeTimeFormat(LOCALE, { numeric: 'auto' });
const plural = new Intl.PluralRules(LOCALE);
const decimalFormats = new Map<number, Intl.NumberFormat>();
const moneyFormats = new Map<string, Intl.NumberFormat>();

export function count(value: number): string {
  return whole.format(value);
}

/** `counted(1, 'row', 'rows')` → `1 row`. */
export function counted(value: number, one: string, many: string): string {
  return `${count(value)} ${plural.select(value) === 'one' ? one : many}`;
}

const BYTE_UNITS = ['B', 'kB', 'MB', 'GB', 'TB'] as const;

/** A file's size in powers of a thousand: `12 kB`, `1.4 GB`. */
export function fileSize(bytes: number): string {
  const power = Math.min(BYTE_UNITS.length - 1, Math.floor(Math.log10(Math.max(1, bytes)) / 3));
  const size = bytes / 1000 ** power;
  return quantity(size, BYTE_UNITS[power]!, power > 0 && size < 10 ? 1 : 0);
}

/** A true minus sign, so that signs line up with digits. */
export function decimal(value: number | null, decimals: number): string {
  if (value === null) return UNKNOWN;
  let format = decimalFormats.get(decimals);
  if (format === undefined) {
    const digits = {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      signDisplay: 'negative',
    } as const;
    format = new Intl.NumberFormat(LOCALE, digits);
    decimalFormats.set(decimals, format);
  }
  return format.format(value).replace('-', '−');
}

/** `quantity(12.41, 'V', 1)` → `12.4 V`. */
export function quantity(value: number | null, unit: string, decimals: number): string {
  const number = decimal(value, decimals);
  return value === null || unit === '' ? number : `${number}\u00a0${unit}`;
}

/** With its sign, for changes: `+0.12`. */
export function change(value: number | null, decimals: number): string {
  return value !== null && value > 0 ? `+${decimal(value, decimals)}` : decimal(value, decimals);
}

/** Whole percents and no more: the outlook does not know better. Certainty is never claimed at either end. */
export function probability(value: number | null): string {
  if (value === null) return UNKNOWN;
  if (value < 0.01) return '<\u00a01\u00a0%';
  if (value > 0.99) return '>\u00a099\u00a0%';
  return `${whole.format(value * 100)}\u00a0%`;
}

/** Words of the server whose numbers keep their unit beside them at the end of a line, and have a true minus sign. */
export function unbroken(words: string): string {
  return words.replace(/(\d) (%|V|A|s|°C)(?![\w])/g, '$1\u00a0$2').replace(/(?<!\S)-(?=\d)/g, '−');
}

/** Words of the server with their dates as the pages write them; exports keep `2026-12-25`. */
export function withDates(words: string): string {
  return words.replace(/\b\d{4}-\d{2}-\d{2}\b/g, (on) => date(on));
}

/** p-values of tests: three decimals, `< 0.001` below. */
export function pValue(value: number | null): string {
  if (value === null) return UNKNOWN;
  return value < 0.001 ? '<\u00a00.001' : decimal(value, 3);
}

/** Integer minor units → whole major units; cents say nothing about an expectation. */
export function money(minor: number | null, currency: string): string {
  if (minor === null) return UNKNOWN;
  return moneyFormat(currency)
    .format(Math.round(minor / 10 ** minorDigits(currency)))
    .replace('-', '−');
}

/** How many decimals an amount in this currency has (ISO 4217). */
export function minorDigits(currency: string): number {
  const format = new Intl.NumberFormat(LOCALE, { style: 'currency', currency });
  return format.resolvedOptions().maximumFractionDigits ?? 2;
}

/** Integer minor units → major units to the last decimal, as they are typed: `1330.80`. */
export function amount(minor: number, currency: string): string {
  const digits = minorDigits(currency);
  return (minor / 10 ** digits).toFixed(digits);
}

function moneyFormat(currency: string): Intl.NumberFormat {
  let format = moneyFormats.get(currency);
  if (format === undefined) {
    const style = { style: 'currency', currency, currencyDisplay: 'narrowSymbol', maximumFractionDigits: 0 } as const;
    format = new Intl.NumberFormat(LOCALE, style);
    moneyFormats.set(currency, format);
  }
  return format;
}

const atMidnight = (on: string) => Date.parse(`${on}T00:00:00Z`);

/** `2026-03-01` → `1 Mar 2026`. */
export function date(on: string | null): string {
  return on === null ? UNKNOWN : day.format(atMidnight(on));
}

/** Without the year, where the neighbourhood says it. */
export function shortDate(on: string | null): string {
  return on === null ? UNKNOWN : dayOnly.format(atMidnight(on));
}

export function monthName(on: string): string {
  return month.format(atMidnight(on));
}

export function monthAndYear(on: string): string {
  return monthYear.format(atMidnight(on));
}

/** An instant, UTC, to the minute. */
export function instant(at: string | null): string {
  return at === null ? UNKNOWN : `${minute.format(Date.parse(at))}\u00a0UTC`;
}

/** `in 3 weeks`, `2 months ago`: days up to a fortnight, weeks up to ten, then months, years from two on. */
export function fromDay(on: string, sinceOn: string): string {
  const days = Math.round((atMidnight(on) - atMidnight(sinceOn)) / DAY_MS);
  const size = Math.abs(days);
  if (size < 14) return relative.format(days, 'day');
  if (size < 70) return relative.format(Math.round(days / 7), 'week');
  if (size < 730) return relative.format(Math.round(days / 30.44), 'month');
  return relative.format(Math.round(days / 365.25), 'year');
}

/** An age: `410 days`, `3.2 years`. */
export function age(days: number | null): string {
  if (days === null) return 'age unknown';
  return days < 730 ? counted(Math.round(days), 'day', 'days') : `${decimal(days / 365.25, 1)} years`;
}

/** d3 patterns for the axes that the chart library labels itself. */
export const AXIS_NUMBER = { percent: '.0%', plain: '~f' } as const;
/** Of a logarithm, the value itself. */
export const AXIS_RATIO = "format(exp(datum.value), '.2~f')";
export const AXIS_MONTH = "utcFormat(datum.value, utcmonth(datum.value) == 0 ? '%Y' : '%b')";
