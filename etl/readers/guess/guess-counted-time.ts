import { guessStart } from './guess-start.ts';
import type { GuessedTime } from './guess-time.ts';

/** Two loggers on one crank are matched to 2 s (the onset): a start that is further off than this is asked for. */
const LONGEST_BEFORE_START_SECONDS = 1;
const SECONDS: Readonly<Record<string, number>> = { s: 1, ms: 1e-3, µs: 1e-6, ns: 1e-9, min: 60, h: 3600 };

/** Seconds from a start that the lines above the header may tell; `first`: the time of the first row. */
export function guessCountedTime(preamble: readonly string[], first: number, unit: string | null): GuessedTime {
  const { time, questions } = guessStart(preamble, false);
  const key = time.startFrom?.preamble.join(' and ');
  const before = -first * (SECONDS[unit ?? 's'] ?? 1);
  if (key === undefined || /trigger/i.test(key) || before <= LONGEST_BEFORE_START_SECONDS) return { time, questions };
  const trigger = `time.start: is ${key} the trigger, from which times count? They begin at ${first} (else start: the instant of 0)`;
  return { time, questions: [...questions, trigger] };
}

/** Clocks without a day: hours, minutes and seconds from a start, or the time of day. Null where they are none. */
export function guessClock(texts: readonly string[]): { time: GuessedTime; unitOfMeasure: string } | null {
  const filled = texts.filter((text) => text !== '');
  if (filled.length === 0 || !filled.every((text) => /^\d{1,6}:\d\d:\d\d(?:[.,]\d+)?$/.test(text))) return null;
  const question = `time.start: from when does the clock ${filled[0]} count? (an instant, ISO 8601; the time of day from midnight)`;
  return { time: { time: { format: 'seconds_from_start' }, questions: [question] }, unitOfMeasure: 'h:mm:ss' };
}
