import { knownWord } from './known-word.ts';

/**
 * A repair record's free text → clauses of plain words.
 *
 * Records are keyed by tired people: capitals, slashes, missing apostrophes, abbreviations, misspellings. This turns
 * `R/H ENG WON'T START. BATT OK, R&R SOLINOID` into the clauses `right engine wont start`, `battery ok`,
 * `replaced solenoid`. Clauses matter because "battery ok, starter replaced" says two things.
 */

/** Shorthand with marks inside, undone before words are cut. Common practice in workshops. */
const SHORTHAND: readonly [RegExp, string][] = [
  [/[’`´]/g, "'"],
  [/\b(won|don|can|isn|doesn|didn|wouldn|couldn)'?\s?t\b/g, '$1t'],
  [/(\w)'d\b/g, '$1d'],
  [/\bc\/\s?(o|out)\b/g, ' changeout '],
  [/\bchange(d)?[\s-]?out\b/g, ' changeout '],
  [/\br\s?[&/+]\s?r\b|\brnr\b/g, ' replaced '],
  [/\bu\/s\b/g, ' unserviceable '],
  [
    /\bl\s?[&/+]\s?r\b(?!\/)|\bl\/h\s?[&/+]\s?r\/h\b|\blh\s?[&/+]\s?rh\b|\bboth (?=(?:engines|engs|motors|sides|banks|starters)\b)/g,
    ' left right ',
  ],
  [/\bl[/.]h\b\.?|\blhs?\b|\bl\/hand\b|\bleft[\s-]hand\b/g, ' left '],
  [/\br[/.]h\b\.?|\brhs?\b|\br\/hand\b|\bright[\s-]hand\b/g, ' right '],
  [/\bo\/h\b/g, ' overhaul '],
  [/\ba\/c\b/g, ' aircon '],
  [/\bn\/s\b/g, ' no start '],
  [/\bw\/n\b/g, ' will not '],
  [/\bn\.?f\.?f\b/g, ' no fault found '],
  [/\bjump[\s-]?(start|pack|lead)/g, ' jump $1'],
  [/\bpre[\s-]?lube\b/g, ' prelube '],
  [/\bs\/m(?:tr|otor)\b|\bs\/(?:mtr|motor)\b|\bstr\/mtr\b/g, ' starter motor '],
  [/\bw\/\s?/g, ' with '],
  [/(?<=[a-z]{3})\/(?=[a-z]{3})/g, ' / '],
];

const CLAUSE_MARK = /[.;,:!?~]+|\s[-–—/]+\s|\s\+\s|&|\b(?:and|but|then|so|also)\b/;

/** "battery ok replaced starter": what was found good ends its clause, whether or not somebody set a comma. */
const FOUND_GOOD = /\b(?<!no )(ok|okay|good|fine)\b(?= \w)/g;

/** Text → clauses, each a string of known or plain words joined by single spaces. Empty clauses are dropped. */
export function clausesOf(text: string): string[] {
  let plain = ` ${text.toLowerCase().replace(/\s+/g, ' ')} `;
  for (const [pattern, word] of SHORTHAND) plain = plain.replace(pattern, word);
  return plain
    .replace(FOUND_GOOD, '$1 . ')
    .split(CLAUSE_MARK)
    .map((clause) => (clause.match(/[a-z0-9]+/g) ?? []).map(knownWord).join(' '))
    .filter((clause) => clause !== '');
}
