import { clockPattern, guessTime, type GuessedTime } from './guess-time.ts';

const LINE = /^[\s"#]*([^:=,;\t|"]+)"?\s*[:=,;\t|]\s*"?(.*?)["\s,;|]*$/;
const START_WORDS = /start|trigger|begin|beginn|date|datum|fecha|time|zeit|heure|hora|recorded/i;
/** What says that a recording began, or its samples are counted from there; other times may be of an export or its end. */
const BEGIN_WORDS = /start|trigger|begin|inicio|debut|début|record/i;
const PLAIN_WORDS = /^(?:date|time|datum|fecha|zeit|uhrzeit|heure|hora|date[ /&]*time)$/i;
const INTERVAL_WORDS = /interval|sample period|sampling period|abtastintervall|intervalle|increment/i;

/** `200 Hz`, `2 kHz`, `500 Sa/s`. */
const RATE_WORDS = /sampl\w* (?:rate|freq)|sample\w*rate|abtastrate|frequence/i;
const RATE = /^(\d+(?:[.,]\d+)?)\s*(k?hz|sa\/s|s\/s|1\/s)$/i;

/** A line above a header says one thing; what comes after is not looked at. */
const MOST_CHARACTERS = 200;

type Said = { key: string; value: string };

/** The start of a recording, and where samples are `counted` their interval, from the lines above the header. */
export function guessStart(preamble: readonly string[], counted: boolean): GuessedTime {
  const said = preamble.flatMap((line): Said[] => {
    const parts = LINE.exec(line.trim().slice(0, MOST_CHARACTERS));
    return parts === null ? [] : [{ key: parts[1]!.trim(), value: parts[2]!.trim() }];
  });
  const { time, questions } = startOf(said.filter(({ key }) => START_WORDS.test(key) && !INTERVAL_WORDS.test(key)));
  if (!counted) return { time: { ...time, format: 'seconds_from_start' }, questions };
  const interval = said.find(
    ({ key, value }) => INTERVAL_WORDS.test(key) && /^[\d.,e-]+\s*(s|ms|µs|us)?$/i.test(value),
  );
  const rate = said.flatMap(({ key, value }) => (RATE_WORDS.test(key) ? (RATE.exec(value) ?? []) : []));
  if (interval === undefined && rate.length > 0) {
    const perSecond = Number(rate[1]!.replace(',', '.')) * (rate[2]?.toLowerCase() === 'khz' ? 1000 : 1);
    if (perSecond > 0)
      return { time: { ...time, format: 'samples_from_start', intervalSeconds: 1 / perSecond }, questions };
  }
  if (interval === undefined)
    return { time: { format: 'iso' }, questions: ['time: which column is the time, or what is the sample interval?'] };
  const intervalFrom = { preamble: interval.key };
  return { time: { ...time, format: 'samples_from_start', intervalFrom }, questions };
}

function startOf(said: readonly Said[]): GuessedTime {
  const begins = ({ key }: Said) => BEGIN_WORDS.test(key);
  for (const { key, value } of [...said.filter(begins), ...said.filter((each) => !begins(each))]) {
    const guessed = guessTime([value]);
    if (guessed === null || !/\d:\d/.test(value)) continue;
    const sure = BEGIN_WORDS.test(key) || PLAIN_WORDS.test(key);
    const open = sure ? [] : [`time.start: did the recording begin at ${key}, ${value}? (startFrom, or start)`];
    return { time: from([key], guessed.time.format), questions: [...open, ...guessed.questions] };
  }
  const day = said.find(({ value }) => guessTime([value]) !== null && /^\d+([./-])\d+\1\d+$/.test(value));
  const clock = said.find(({ value }) => clockPattern([value]) !== null);
  const guessed = day === undefined || clock === undefined ? null : guessTime([`${day.value} ${clock.value}`]);
  if (guessed !== null)
    return { time: from([day!.key, clock!.key], guessed.time.format), questions: guessed.questions };
  return { time: { format: 'iso' }, questions: ['time.start: when did the recording begin? (an instant, ISO 8601)'] };
}

function from(preamble: string[], format: string): GuessedTime['time'] {
  return { format: 'iso', startFrom: format === 'iso' ? { preamble } : { preamble, format } };
}
