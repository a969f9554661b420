import type { ProfileTime } from '../../model/import-profile.ts';

/** How a time column is written, and what its values leave open. */
export type GuessedTime = { time: ProfileTime; questions: string[] };

const ZONE = 'time.zone: in which time zone was it logged? (such as Europe/Berlin)';
const ISO = /^\d{4}-\d\d-\d\d(?:[T ]\d\d:\d\d(?::\d\d(?:[.,]\d+)?)?)?\s?(Z|UTC|GMT|[+-]\d\d(?::?\d\d)?)?$/i;
const DAY = /^(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})(?:([ T]+)(.*))?$/;
/** A day with the English name of its month. */
const NAMED_DAY = /^(\d{1,2})([ ./-])([a-z]{3})[a-z]*\.?\2(\d{4})(?:([ T]+)(.*))?$/i;
/** 2000 to 2100, as spreadsheets count days. */
const [EARLIEST_DAYS, LATEST_DAYS] = [36_526, 73_050];
const CLOCK = /^(\d{1,2}):(\d\d)(?::(\d\d)(?:([.,:])(\d+))?)?(?:\s*([ap])\.?m\.?)?$/i;
/** 1990 to 2100, in seconds: what an epoch of a log can be. */
const [EARLIEST_S, LATEST_S] = [631_152_000, 4_102_444_800];
const EPOCHS = { epoch_s: 1, epoch_ms: 1e3, epoch_us: 1e6, epoch_ns: 1e9 };

/** Null where the values are no times of any form that is known here. */
export function guessTime(values: readonly string[]): GuessedTime | null {
  const texts = values.filter((value) => value !== '');
  if (texts.length === 0) return null;
  if (texts.every((text) => ISO.test(text))) {
    const sure = texts.every((text) => ISO.exec(text)![1] !== undefined || text.length === 10);
    return { time: { format: 'iso' }, questions: sure ? [] : [ZONE] };
  }
  const numbers = texts.map((text) => (/^-?[\d.,e+-]+$/i.test(text) ? Number(text.replace(',', '.')) : Number.NaN));
  if (numbers.every((number) => !Number.isNaN(number))) return numberTime(numbers);
  return writtenTime(texts);
}

function numberTime(numbers: readonly number[]): GuessedTime | null {
  for (const [format, perSecond] of Object.entries(EPOCHS))
    if (numbers.every((number) => number >= EARLIEST_S * perSecond && number <= LATEST_S * perSecond))
      return { time: { format }, questions: [] };
  if (numbers.every((number) => number >= EARLIEST_DAYS && number <= LATEST_DAYS) && numbers.some((n) => n % 1 !== 0)) {
    const days = `time.format: is ${numbers[0]} days as spreadsheets count them (spreadsheet_days) or seconds_from_start?`;
    return { time: { format: 'spreadsheet_days' }, questions: [days, ZONE] };
  }
  const grows = numbers.every((number, index) => index === 0 || number >= numbers[index - 1]!);
  return grows ? { time: { format: 'seconds_from_start' }, questions: [] } : null;
}

/** Days of a calendar with a clock, or clocks alone (`clock`, the half of a pair) where the days stand elsewhere. */
function writtenTime(texts: readonly string[]): GuessedTime | null {
  if (texts.every((text) => NAMED_DAY.test(text))) return namedDayTime(texts);
  const days = texts.map((text) => DAY.exec(text));
  if (days.some((day) => day === null)) return null;
  const parts = days.map((day) => day!);
  const separator = parts[0]![2]!;
  const clocks = parts.map((day) => day[6] ?? '');
  const clock = clocks.every((each) => each === '') ? '' : clockPattern(clocks);
  if (clock === null || parts.some((day) => day[2] !== separator)) return null;
  const { pattern, question } = dayPattern(parts, separator);
  if (pattern === null) return null;
  const joined = clock === '' ? pattern : `${pattern}${parts[0]![5]!.trim() === 'T' ? 'T' : ' '}${clock}`;
  return {
    time: { format: joined },
    questions: [...(question === null ? [] : [question]), ...(clock === '' ? [] : [ZONE])],
  };
}

/** `02-Mar-2026 06:58:50` */
function namedDayTime(texts: readonly string[]): GuessedTime | null {
  const days = texts.map((text) => NAMED_DAY.exec(text)!);
  const separator = days[0]![2]!;
  const clocks = days.map((day) => day[6] ?? '');
  const clock = clocks.every((each) => each === '') ? '' : clockPattern(clocks);
  if (clock === null || days.some((day) => day[2] !== separator)) return null;
  const dayPart = padded(
    'd',
    days.map((day) => day[1]!),
  );
  const format = `${[dayPart, 'MMM', 'yyyy'].join(separator)}${clock === '' ? '' : ` ${clock}`}`;
  return { time: { format }, questions: clock === '' ? [] : [ZONE] };
}

type DayPattern = { pattern: string | null; question: string | null };

/** The order of day and month only where some value decides. */
function dayPattern(parts: readonly RegExpExecArray[], separator: string): DayPattern {
  const column = (index: number) => parts.map((day) => day[index]!);
  const [first, second, third] = [column(1), column(3), column(4)];
  if (first.every((each) => each.length === 4)) return yearFirst(second, third, separator);
  if (first.some((each) => each.length > 2) || third.some((each) => each.length !== third[0]!.length))
    return { pattern: null, question: null };
  const year = third[0]!.length === 4 ? 'yyyy' : third[0]!.length === 2 ? 'yy' : null;
  const [highFirst, highSecond] = [highest(first), highest(second)];
  if (year === null || (highFirst > 12 && highSecond > 12)) return { pattern: null, question: null };
  const dayFirst = [padded('d', first), padded('M', second), year].join(separator);
  const monthFirst = [padded('M', first), padded('d', second), year].join(separator);
  if (year === 'yy')
    return {
      pattern: dayFirst,
      question: `time.format: is it ${dayFirst}? In ${parts[0]![0]} the year may also come first`,
    };
  if (highSecond > 12) return { pattern: monthFirst, question: null };
  if (highFirst > 12) return { pattern: dayFirst, question: null };
  return { pattern: dayFirst, question: `time.format: is it ${dayFirst} or ${monthFirst}? No value tells` };
}

function yearFirst(months: readonly string[], days: readonly string[], separator: string): DayPattern {
  if (highest(months) > 12) return { pattern: null, question: null };
  return { pattern: ['yyyy', padded('M', months), padded('d', days)].join(separator), question: null };
}

const highest = (texts: readonly string[]) => Math.max(...texts.map(Number));
const padded = (letter: string, texts: readonly string[]) =>
  texts.every((text) => text.length === 2) ? letter.repeat(2) : letter;

/** `HH:mm:ss.SSS`; null where the texts are no clocks or of several forms. */
export function clockPattern(texts: readonly string[]): string | null {
  const clocks = texts.map((text) => CLOCK.exec(text));
  if (clocks.length === 0 || clocks.some((clock) => clock === null)) return null;
  const halves = clocks.filter((clock) => clock![6] !== undefined).length;
  const seconds = clocks.filter((clock) => clock![3] !== undefined).length;
  if ((halves > 0 && halves < clocks.length) || (seconds > 0 && seconds < clocks.length)) return null;
  const hours = padded(
    halves > 0 ? 'h' : 'H',
    clocks.map((clock) => clock![1]!),
  );
  const fraction = clocks.find((clock) => clock![5] !== undefined)?.[5];
  const second = seconds === 0 ? '' : `:ss${fraction === undefined ? '' : `.${'S'.repeat(fraction.length)}`}`;
  return `${hours}:mm${second}${halves > 0 ? ' a' : ''}`;
}
