import { knownWord } from './known-word.ts';
import { remembering } from './remembering.ts';
import { SHORTHAND } from './shorthand.ts';

/**
 * A repair record's free text → clauses of plain words.
 *
 * Records are keyed by tired people: capitals, slashes, missing apostrophes, abbreviations, misspellings. This turns
 * `R/H ENG WON'T START. BATT OK, R&R SOLINOID` into the clauses `right engine wont start`, `battery ok`,
 * `replaced solenoid`. Clauses matter because "battery ok, starter replaced" says two things.
 */

const DOING =
  'replac|chang|fit|put|instal|swap|jump|boost|clean|tight|repair|check|test|charg|found|took|taken|made|went|got|gave|hung|remov|adjust|fix|ma[dk]e';

/** A mark, a joining word, or somebody who goes on to do the next thing: "they passed the test I replaced the starter". */
const CLAUSE_MARK = new RegExp(
  `[.;,:!?~]+|\\s[-–—/]+\\s|\\s\\+\\s|&|\\b(?:and|but|then|so|also|because|cause|cuz|which|whereas|n)\\b|(?=\\b(?:i|we|ive|weve|i ve|we ve)\\b (?:have |had |then |just |also |did )?(?:not )?(?:${DOING}))`,
);

/** "battery ok replaced starter": what was found good ends its clause, whether or not somebody set a comma. */
const FOUND_GOOD = /\b(?<!\b(?:no|for|any|not|a) )(ok|okay|good|fine)\b(?! (?:measure|order)\b)(?= \w)/g;

/** "relay of the start", "cable of mass": as those write whose own language puts the owner last. */
const OWNER_LAST =
  /\b(relay|switch|button|cable|lead|strap|wire|point|lamp|light|fuse|motor|solenoid|belt|brush|terminal|clamp|lock)s? of (?:the )?((?:gear )?neutral|start(?:er|ing)?(?: motor)?|battery|mass|ground|earth|ignition|charge|charging|alternator|generator|clutch)\b/g;

function ownerFirst(clause: string): string {
  return clause
    .replace(OWNER_LAST, '$2 $1')
    .replace(/\bgear (?=neutral)/g, '')
    .replace(/\bmass (?=(?:cable|lead|strap|wire|point)\b)/g, 'ground ');
}

/** Text → clauses, each a string of known or plain words joined by single spaces. Empty clauses are dropped. */
export const clausesOf = remembering<readonly string[]>(cutIntoClauses, 200);

function cutIntoClauses(text: string): string[] {
  let plain = ` ${text.toLowerCase().replace(/\s+/g, ' ')} `;
  for (const [pattern, word] of SHORTHAND) plain = plain.replace(pattern, word);
  return plain
    .replace(FOUND_GOOD, '$1 . ')
    .split(CLAUSE_MARK)
    .map((clause) => ownerFirst((clause.match(/[a-z0-9]+/g) ?? []).map(knownWord).join(' ')))
    .filter((clause) => clause !== '');
}
