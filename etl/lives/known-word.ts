import { group } from 'd3-array';
import { unfused } from './fused-word.ts';
import { DEVICE_WORDS } from './look-alikes.ts';
import { remembering } from './remembering.ts';
import { soundOf } from './sounded-word.ts';

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
  adjd: 'adjusted',
  hrd: 'hard',
  blt: 'belt',
  iso: 'isolator',
  lite: 'light',
  lites: 'lights',
  stbd: 'starboard',
  dynamos: 'generator',
  reqd: 'required',
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
  sw: 'switch',
  neut: 'neutral',
  cyl: 'cylinder',
  ctrl: 'control',
  btty: 'battery',
  grd: 'ground',
  swich: 'switch',
  trun: 'turn',
  instl: 'installed',
  instld: 'installed',
  ig: 'ignition',
  cln: 'clean',
  tite: 'tighten',
  wk: 'week',
  wks: 'weeks',
  mos: 'months',
  yr: 'year',
  yrs: 'years',
  vreg: 'voltage regulator',
  dynamo: 'generator',
  nsnc: 'no start no crank',
  wns: 'will not start',
  dns: 'does not start',
  wnt: 'wont',
  ded: 'dead',
  bak: 'back',
  rmn: 'reman',
  moter: 'motor',
  moters: 'motor',
  cabel: 'cable',
  cabels: 'cable',
  crk: 'crank',
  crks: 'cranks',
  wouldn: 'wouldnt',
  wdnt: 'wouldnt',
  dosnt: 'doesnt',
  dident: 'didnt',
  startd: 'started',
  startin: 'starting',
  crankin: 'cranking',
  chargin: 'charging',
  em: 'them',
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
  'liftgate',
  'reefer',
  'tracker',
  'trailer',
  'forklift',
  'wheelchair',
  'cranking',
] as const;

/** Words that tired hands write without some of their vowels: `swpd`, `clnd`, `tightend`, `rplcd`. */
const SHORTENED =
  'battery starter start solenoid alternator terminal cable relay switch crank jump ground replaced replace changed charged charging installed renewed swapped fitted repaired cleaned tightened tested checked jumped boosted motor'.split(
    ' ',
  );

const LONGEST_TERM = Math.max(...DRAWN_TO.map(({ length }) => length));

/** Words that are known by their sound too: long enough that no other word of the trade sounds so. */
const HEARD = group(
  'batteries batterys alternator starter solenoid ignition switch neutral immobiliser isolator corroded connection generator regulator replaced replace replacing installed tightened tighten cleaned renewed exchanged repaired charged charging terminal cranking cranks interlock circuit'.split(
    ' ',
  ),
  soundOf,
);

/** Two neighbouring letters the wrong way round (`chanegd`): the commonest slip of quick hands, in any word of five letters and more. */
const SWAPPED = new Map(
  [...new Set([...SHORTENED, ...DRAWN_TO, ...DEVICE_WORDS, ...[...HEARD.values()].flat()])]
    .filter((term) => term.length >= 5)
    .flatMap((term) => swapsOf(term).map((swapped) => [swapped, term] as const)),
);

function swapsOf(term: string): string[] {
  return Array.from(
    { length: term.length - 1 },
    (_, i) => term.slice(0, i) + term[i + 1]! + term[i]! + term.slice(i + 2),
  ).filter((swapped) => swapped !== term);
}

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
  'chafing',
  'rely',
  'corrode',
  'recharging',
  'natural',
  'corded',
  'buttress',
  'reported',
  'discharging',
  'realy',
  'tracked',
  'trailed',
  'trainer',
  'cracking',
  'creaking',
  'clanking',
  'clunking',
  'crawling',
  'crashing',
  'cramping',
]);

export const knownWord = remembering(drawnWords, 40);

function drawnWords(word: string): string {
  return unfused(word)?.split(' ').map(drawnWord).join(' ') ?? drawnWord(word);
}

function drawnWord(word: string): string {
  const alias = ALIASES[word];
  if (alias !== undefined) return alias;
  const whole = SHORTENED_BY_CONSONANTS.get(consonantsOf(word))?.find((term) => isShortened(word, term));
  if (whole !== undefined && !OWN_WORDS.has(word)) return whole;
  const tooLong = word.length > LONGEST_TERM + 3;
  if (OWN_WORDS.has(word) || tooLong) return word === 'batteries' ? 'battery' : word;
  const near = SWAPPED.get(word) ?? (word.length < 6 ? undefined : nearest(word));
  if (near === undefined) return word;
  return ALIASES[near] ?? near;
}

function nearest(word: string): string | undefined {
  return (
    DRAWN_TO.find((term) => term[0] === word[0] && isSlipOf(word, term)) ??
    HEARD.get(soundOf(word))?.find((term) => Math.abs(term.length - word.length) <= 3)
  );
}

const single = (text: string) => text.replace(/(.)\1+/g, '$1');

/** The first letter and the consonants after it, doubled ones once: `swapped` → `swpd`. */
function consonantsOf(word: string): string {
  return single(word[0] + word.slice(1).replace(/[aeiou]/g, ''));
}

const SHORTENED_BY_CONSONANTS = group(SHORTENED, consonantsOf);

/** At least three letters, and the vowels that are left stand where the whole word has them. */
function isShortened(word: string, term: string): boolean {
  let at = 0;
  for (const letter of single(term)) if (letter === single(word)[at]) at++;
  return word.length >= 3 && word.length < term.length && at === single(word).length;
}

/** Doubled letters are where hands slip most: `baterry` is one slip from `battery` once they count single. */
function isSlipOf(word: string, term: string): boolean {
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
