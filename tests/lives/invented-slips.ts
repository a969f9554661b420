/** Invented: records as quick hands mistype them, and words of the trade that a slip away mean something else. */
export const SLIPPED_RECORDS: readonly (readonly [string, string])[] = [
  ['no crank | | batteries chagned', 'battery replaced'],
  ['| | statrer replcaed', 'starter replaced'],
  ['| | craking motor renewed', 'starter replaced'],
  ['| | starter mtor exchanged', 'starter replaced'],
  ['| | clutch swithc repalced, wont crank before', 'control replaced'],
  ['| | gruond strap clenaed', 'cables repaired'],
  ['| | battery cbale repalced', 'cables replaced'],
  ['gearbox overhaul | | starter replaced during overhaul', 'starter replaced planned'],
  ['| | as part of the engine rebuild fitted new starter', 'starter replaced planned'],
];

export const SLIPPED_OTHERS: readonly string[] = [
  'replaced lfitgate battery',
  'liftgtae batteries flat, changed',
  'refeer unit battery replaced',
  'new battery in trakcer',
  'tralier battery charged',
  'smrat tag battery replaced',
  'replaced battery in remoet control',
  'tbalet battery swollen, replaced',
];

/** Each stays the word that it is. */
export const OWN_WORDS: readonly string[] = [
  'tracked trailed trainer cracking creaking crawling crashing realy',
  'hanged fence which block cables tested remove removed tables tractor',
].flatMap((words) => words.split(' '));
