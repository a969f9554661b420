import { knownWord } from './known-word.ts';
import { remembering } from './remembering.ts';

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
  [/(\w)'s\b/g, '$1'],
  [/\bn\/c\b/g, ' '],
  [/\bc\/\s?(o|out)\b/g, ' changeout '],
  [/\bchange(d)?[\s-]?out\b/g, ' changeout '],
  [/\br\s?[&/+]\s?r(?:'?d)?\b|\br ?n ?r\b/g, ' replaced '],
  [/\bbetween (?:the )?\w+ and (?:the )?\w+\b/g, ' '],
  [/\bu\/s\b/g, ' unserviceable '],
  [
    /\bl\s?[&/+]\s?r\b(?!\/)|\bl\/h\s?[&/+]\s?r\/h\b|\blh\s?[&/+]\s?rh\b|\bboth (?=(?:engines|engs|motors|sides|banks|starters)\b)/g,
    ' left right ',
  ],
  [/\bl[/.]h\b\.?|\blhs?\b|\bl\/hand\b|\bleft[\s-]hand\b/g, ' left '],
  [/\br[/.]h\b\.?|\brhs?\b|\br\/hand\b|\bright[\s-]hand\b/g, ' right '],
  [/\bo\/h\b/g, ' overhaul '],
  [/\ba\/c\b/g, ' aircon '],
  [/\bnss?(?= (?:sw|switch)\b)/g, ' neutral safety '],
  [/\bn\/s\b/g, ' no start '],
  [/\bw\/n\b/g, ' will not '],
  [/\bn\.?f\.?f\b/g, ' no fault found '],
  [/\bju?mp[\s-]?(start|strt|pack|lead)/g, ' jump $1'],
  [/\bturn(?:s|ed|ing)? (?:the )?key[\s,-]+(?:and |but )?nothing\b/g, ' no start '],
  [/\binst(?:\.|\b)(?=\s*(?:$|[,;.]|new|reman|batt|start|strt|alt|\d))/g, ' installed '],
  [/\bpre[\s-]?lube\b/g, ' prelube '],
  [/\bs\/m(?:tr|otor)\b|\bs\/(?:mtr|motor)\b|\bstr\/mtr\b/g, ' starter motor '],
  [/\bw\/\s?/g, ' with '],
  [/\brr(?= (?:the )?(?:new )?(?:starter|start|strtr|str|batt\w*|bats?|alt\w*)\b)/g, ' replaced '],
  // The full stop of an abbreviation ends no sentence: "batt. conn. loose".
  [
    /\b(batt?|ign|conn|neut|term|cyl|gnd|neg|pos)\.(?= (?:hold|box|tray|cover|cable|cbl|lead|term|conn|post|clamp|light|switch|sw|lock|cyl|key|safety|strap|loose|corroded|dead|bad|weak|flat|low|repl|changed|renewed)\w*\b)/g,
    '$1 ',
  ],
  // What was charged or repaired and then fitted is the old one.
  [
    /\b(charged|recharged|repaired|overhauled|rebuilt|cleaned|serviced)(?: ?[&+,] ?| and | then )(?:re ?)?(?:fitted|installed|put back)\b/g,
    '$1 ',
  ],
  // As said in India: the self is the starter.
  [/\bself[\s-](?:starter|motor|start)\b(?! (?:stop|test))/g, ' starter '],
  [
    /\bself(?= (?:not|weak|short|jam\w*|nois\w*|problem|fault\w*|defect\w*|replac\w*|chang\w*|repair\w*|remov\w*|overhaul\w*|unit|relay|solenoid|armature|bush\w*|carbon)\b)/g,
    ' starter ',
  ],
  [/\bcarbon (?=brush)/g, ''],
  [/\bpark\s?\/\s?neutral\b|\bp\/n(?= (?:switch|sw)\b)/g, ' park neutral '],
  [
    /\b(?:crank|turn)(?:s|ed|ing)?(?: over)?(?: (?:ok|fine|good|well))?,? (?:but )?(?:no (?:fire|spark)|(?:wont|will not|would not|doesnt|does not) (?:catch|fire|light)\w*)\b/g,
    ' no start ',
  ],
  // Sizes of the Battery Council International: "two group 31".
  [
    /(?<=\b(?:new|one|two|three|four|both|with|fit(?:ted)?|in(?:stalled)?|install|replaced|of|\d|x)\s(?:new\s)?)(?:group|grp|gp|bci)\s?(?:24f?|27f?|31|34r?|35|36r?|4[1789]|51r?|58r?|65|75|78|94r?|4d|8d)s?\b/g,
    ' battery ',
  ],
  [/\b[48]ds?\b/g, ' battery '],
  // "starter / wiring": the wiring is the starter's.
  [
    /\b(start(?:e?r)?|strtr|batt?(?:ery|eries|s)?|alt(?:ernator)?)(\s(?:motor|mtr))?\s?(?:\/|&|\+|\band\b)\s?(wiring|harness|cables?|leads?)\b/g,
    '$1$2 / $1 $3',
  ],
  // Clamps that a shop makes itself hold the battery down; those of its posts are bought.
  [/\b(fabricat\w*\b.{0,30}?\bbatt?(?:ery|eries|s)?) clamps?\b/g, '$1 hold down'],
  [/(?<=[a-z]{3})\/(?=[a-z]{3})/g, ' / '],
];

const CLAUSE_MARK = /[.;,:!?~]+|\s[-–—/]+\s|\s\+\s|&|\b(?:and|but|then|so|also)\b/;

/** "battery ok replaced starter": what was found good ends its clause, whether or not somebody set a comma. */
const FOUND_GOOD = /\b(?<!no )(ok|okay|good|fine)\b(?= \w)/g;

/** Text → clauses, each a string of known or plain words joined by single spaces. Empty clauses are dropped. */
export const clausesOf = remembering<readonly string[]>(cutIntoClauses, 200);

function cutIntoClauses(text: string): string[] {
  let plain = ` ${text.toLowerCase().replace(/\s+/g, ' ')} `;
  for (const [pattern, word] of SHORTHAND) plain = plain.replace(pattern, word);
  return plain
    .replace(FOUND_GOOD, '$1 . ')
    .split(CLAUSE_MARK)
    .map((clause) => (clause.match(/[a-z0-9]+/g) ?? []).map(knownWord).join(' '))
    .filter((clause) => clause !== '');
}
