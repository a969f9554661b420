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
  [/([a-z]{3,})\/(?=[a-z]{3,})/g, '$1 / '],
];

/** Word → the word the vocabulary knows. */
const ALIASES: Record<string, string> = {
  batt: 'battery',
  batts: 'battery',
  bat: 'battery',
  bats: 'battery',
  bty: 'battery',
  btry: 'battery',
  btrys: 'battery',
  batteries: 'battery',
  batterys: 'battery',
  strtr: 'starter',
  strt: 'start',
  startr: 'starter',
  startor: 'starter',
  repalced: 'replaced',
  starters: 'starter',
  stater: 'starter',
  alt: 'alternator',
  sol: 'solenoid',
  solinoid: 'solenoid',
  solonoid: 'solenoid',
  frt: 'front',
  fr: 'front',
  rr: 'rear',
  eng: 'engine',
  engs: 'engine',
  engines: 'engine',
  xchg: 'exchange',
  xchgd: 'exchange',
  xchd: 'exchange',
  exch: 'exchange',
  exchd: 'exchange',
  recon: 'reman',
  reconditioned: 'reman',
  remanufactured: 'reman',
  repl: 'replaced',
  repld: 'replaced',
  rplc: 'replaced',
  rplcd: 'replaced',
  replcd: 'replaced',
  rpl: 'replaced',
  chgd: 'changed',
  chkd: 'checked',
  chk: 'check',
  ck: 'check',
  cks: 'check',
  insp: 'inspect',
  adj: 'adjusted',
  serv: 'service',
  svc: 'service',
  sched: 'scheduled',
  term: 'terminal',
  terms: 'terminal',
  terminals: 'terminal',
  gnd: 'ground',
  pos: 'positive',
  neg: 'negative',
  conn: 'connection',
  conns: 'connection',
  connections: 'connection',
  cables: 'cable',
  cbl: 'cable',
  cbls: 'cable',
  leads: 'lead',
  immobilizer: 'immobiliser',
  ign: 'ignition',
  mtr: 'motor',
  f: 'f',
};

/** Words that a misspelt one is drawn to; long enough that one slip leaves no doubt. */
const DRAWN_TO = [
  'battery',
  'batteries',
  'starter',
  'solenoid',
  'alternator',
  'replaced',
  'replace',
  'terminal',
  'ignition',
  'immobiliser',
  'corroded',
  'changeout',
  'charging',
] as const;

/** Words that look like a misspelling of one above and are none. */
const OWN_WORDS = new Set([
  ...DRAWN_TO,
  'started',
  'starts',
  'starting',
  'startup',
  'restart',
  'restarted',
  'stator',
  'alternate',
  'alternative',
  'alternators',
  'charter',
  'battered',
  'replaces',
  'replacing',
  'replacement',
  'changing',
  'terminate',
  'hanging',
  'barging',
  'replaced',
  'smarter',
  'quarter',
  'placed',
  'corrode',
  'recharging',
  'discharging',
]);

const CLAUSE_MARK = /[.;,:!?~]+|\s[-–—/]+\s|\s\+\s|&|\b(?:and|but|then|so|also)\b/;

/** "battery ok replaced starter": what was found good ends its clause, whether or not somebody set a comma. */
const FOUND_GOOD = /\b(?<!no )(ok|okay|good|fine)\b(?= \w)/g;

/** Text → clauses, each a string of known or plain words joined by single spaces. Empty clauses are dropped. */
export function clausesOf(text: string): string[] {
  let plain = ` ${text.toLowerCase()} `;
  for (const [pattern, word] of SHORTHAND) plain = plain.replace(pattern, word);
  return plain
    .replace(FOUND_GOOD, '$1 . ')
    .split(CLAUSE_MARK)
    .map((clause) => (clause.match(/[a-z0-9]+/g) ?? []).map(knownWord).join(' '))
    .filter((clause) => clause !== '');
}

function knownWord(word: string): string {
  const alias = ALIASES[word];
  if (alias !== undefined) return alias;
  if (OWN_WORDS.has(word) || word.length < 6) return word === 'batteries' ? 'battery' : word;
  const near = DRAWN_TO.find((term) => term[0] === word[0] && isSlipOf(word, term));
  if (near === undefined) return word;
  return ALIASES[near] ?? near;
}

/** Doubled letters are where hands slip most: `baterry` is one slip from `battery` once they count single. */
function isSlipOf(word: string, term: string): boolean {
  const single = (text: string) => text.replace(/(.)\1+/g, '$1');
  return slips(word, term) <= (term.length >= 8 ? 2 : 1) || slips(single(word), single(term)) <= 1;
}

/**
 * Edit distance with neighbouring letters swapped counted as one slip (optimal string alignment).
 * Checked: `slips('solinoid', 'solenoid')` is 1, `slips('strater', 'starter')` is 1.
 */
export function slips(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(row[j - 1]! + 1, last[j]! + 1, last[j - 1]! + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, before[j - 2]! + 1);
      row.push(best);
    }
    before = last;
    last = row;
  }
  return last[b.length]!;
}
