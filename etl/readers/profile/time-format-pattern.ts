/** What a wall clock showed: microseconds since 1970 as if it were UTC, and the offset from UTC where one was written. */
export type WallClock = { wallUs: number; dateOnly: boolean; offsetUs: number | null };
export type WallParser = (text: string) => WallClock | null;

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** Letters of a pattern (as in Unicode's date field symbols, UTS 35) and the text that each stands for. */
const TOKENS: Readonly<Record<string, string>> = {
  yyyy: '(?<year>\\d{4})',
  yy: '(?<shortYear>\\d\\d)',
  MMM: '(?<monthName>[A-Za-z]{3})[a-z]*\\.?',
  MM: '(?<month>\\d\\d)',
  M: '(?<month>\\d\\d?)',
  dd: '(?<day>\\d\\d)',
  d: '(?<day>\\d\\d?)',
  HH: '(?<hour>\\d\\d)',
  H: '(?<hour>\\d\\d?)',
  hh: '(?<hour12>\\d\\d)',
  h: '(?<hour12>\\d\\d?)',
  mm: '(?<minute>\\d\\d)',
  m: '(?<minute>\\d\\d?)',
  ss: '(?<second>\\d\\d)',
  s: '(?<second>\\d\\d?)',
  a: '(?<half>[AaPp])\\.?[Mm]\\.?',
  S: '(?<fraction>\\d{1,9})',
  X: '(?<zone>Z|[+-]\\d\\d(?::?\\d\\d)?)',
};
const TOKEN = /yyyy|yy|MMM|MM|M|dd|d|HH|H|hh|h|mm|m|ss|s|a|S+|X+|'[^']*'|[\s\S]/g;

/**
 * Compiles `dd/MM/yyyy HH:mm:ss.SSS`. The fraction of a second takes any number of digits and may be left out; text in
 * single quotes stands for itself. Throws RangeError for a pattern that cannot tell a day.
 */
export function wallClockPattern(pattern: string): WallParser {
  let source = '';
  const seen: string[] = [];
  for (const [token] of pattern.matchAll(TOKEN)) {
    const key = /^[SX]/.test(token) ? token[0]! : token;
    const expression = TOKENS[key];
    if (expression === undefined) {
      if (/^[A-Za-z]$/.test(token) && token !== 'T') throw unknownLetter(token, pattern);
      source += literal(token);
    } else if (key === 'S') source = source.replace(/(\\\.|,|:)$/, '') + `(?:[.,:]${expression})?`;
    else source += expression;
    if (expression !== undefined) seen.push(key);
  }
  const has = (...keys: string[]) => keys.some((key) => seen.includes(key));
  if (!has('yyyy', 'yy') || !has('MMM', 'MM', 'M') || !has('dd', 'd'))
    throw new RangeError(`time format requires year, month and day (such as dd/MM/yyyy HH:mm:ss), got ${pattern}`);
  if (has('hh', 'h') !== has('a'))
    throw new RangeError(`time format requires a with h, and H without it, got ${pattern}`);
  if (new Set(seen.map((key) => key[0])).size < seen.length)
    throw new RangeError(`time format requires each part once, got ${pattern}`);
  const expression = new RegExp(`^${source}$`);
  const dateOnly = !has('HH', 'H', 'hh', 'h');
  return (text) => wallClockOf(expression.exec(text)?.groups, dateOnly);
}

function literal(token: string): string {
  const text = token.length > 1 ? token.slice(1, -1) : token;
  return /^\s$/.test(text) ? '\\s+' : text.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&');
}

function unknownLetter(letter: string, pattern: string): RangeError {
  return new RangeError(
    `time format requires the letters y M d H h m s S a X, others in single quotes, got ${letter} in ${pattern}`,
  );
}

type Groups = Record<string, string | undefined> | undefined;

function wallClockOf(groups: Groups, dateOnly: boolean): WallClock | null {
  if (groups === undefined) return null;
  const number = (name: string, missing: number) => Number(groups[name] ?? missing);
  // Two-digit years: loggers of cranking voltage are of this century.
  const year = groups['year'] === undefined ? 2000 + number('shortYear', 0) : Number(groups['year']);
  const month =
    groups['monthName'] === undefined ? number('month', 0) : MONTHS.indexOf(groups['monthName'].toLowerCase()) + 1;
  const day = number('day', 0);
  const hour = hourOf(groups);
  const [minute, second] = [number('minute', 0), number('second', 0)];
  const dayMs = Date.UTC(year, month - 1, day);
  const real = month >= 1 && new Date(dayMs).getUTCMonth() === month - 1 && new Date(dayMs).getUTCDate() === day;
  if (!real || !(hour < 24) || minute > 59 || second > 60) return null;
  const micros = Number((groups['fraction'] ?? '').padEnd(6, '0').slice(0, 6));
  const wallUs = dayMs * 1000 + (hour * 3600 + minute * 60 + second) * 1e6 + micros;
  return { wallUs, dateOnly, offsetUs: groups['zone'] === undefined ? null : offsetUs(groups['zone']) };
}

function hourOf(groups: NonNullable<Groups>): number {
  const half = groups['half'];
  if (half === undefined) return Number(groups['hour'] ?? 0);
  const hour = Number(groups['hour12']);
  if (hour < 1 || hour > 12) return Number.NaN;
  return (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
}

/** `+01:00`, `-0500`, `+02`, `Z` → µs ahead of UTC. */
export function offsetUs(text: string): number {
  const parts = /^([+-])(\d\d)(?::?(\d\d))?$/.exec(text);
  if (parts === null) return 0;
  const size = Number(parts[2]) * 3600 + Number(parts[3] ?? 0) * 60;
  return (parts[1] === '-' ? -size : size) * 1e6;
}

/** ISO 8601 with or without zone, seconds and fraction. */
export const isoWallClock: WallParser = (text) => {
  const parts =
    /^(?<year>\d{4})-(?<month>\d\d)-(?<day>\d\d)(?:[T ](?<hour>\d\d):(?<minute>\d\d)(?::(?<second>\d\d)(?:[.,](?<fraction>\d{1,9}))?)?)?\s?(?<zone>Z|UTC|GMT|[+-]\d\d(?::?\d\d)?)?$/i.exec(
      text,
    )?.groups;
  const clock = wallClockOf(parts, parts?.['hour'] === undefined);
  return clock === null || !clock.dateOnly || clock.offsetUs === null ? clock : null;
};

/** Days from 30 December 1899 to 1970: what spreadsheets count from (ISO/IEC 29500-1, 18.17.4.1). */
const SPREADSHEET_DAYS_TO_1970 = 25_569;

/** `46083.2908` of a spreadsheet: days and a part of a day by its wall clock. */
export function spreadsheetDays(decimalMark: '.' | ','): WallParser {
  return (text) => {
    const plain = decimalMark === ',' ? text.replace(',', '.') : text;
    if (!/^\d{5}(\.\d{1,15})?$/.test(plain)) return null;
    const wallUs = Math.round((Number(plain) - SPREADSHEET_DAYS_TO_1970) * 86_400e6);
    return { wallUs, dateOnly: !plain.includes('.'), offsetUs: null };
  };
}
