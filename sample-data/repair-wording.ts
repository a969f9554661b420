import type { Random } from './random.ts';
import type { Complaint, Repair } from './repair-fact.ts';

/** What may stand in a repair record: texts in full; `asWritten` makes them look like the hand that keyed them. */
export type Words = { complaint: string; cause: string; correction: string };

const NO_START = [
  'engine will not start',
  'no start',
  'unit will not crank',
  'will not start, needed help',
  'failed to start in yard',
  'called in no start',
];

export const COMPLAINTS: Readonly<Record<Complaint, readonly string[]>> = {
  no_start: [...NO_START, 'dead this morning', 'cranks slow then nothing', 'no start on site'],
  click: [...NO_START, 'just clicks', 'clicks will not turn over', 'single click no crank'],
  nothing: [...NO_START, 'nothing when key turned', 'no crank no click'],
  slow: ['slow crank', 'hard to start when cold', 'turns over slow', 'driver says cranks slow in morning'],
  intermittent: [
    'intermittent no crank',
    'needs several tries to start',
    'sometimes clicks only',
    'intermittent start problem',
  ],
  visit: ['found at service', 'service', 'pm inspection', 'during pm'],
};

type Phrases = { causes: readonly string[]; corrections: readonly string[] };

export const PHRASES: Readonly<Record<Repair, Phrases>> = {
  battery_replaced: {
    causes: [
      'battery failed load test',
      'battery dead',
      'batteries will not hold charge',
      'battery unserviceable',
      'weak battery',
      'bad cell',
    ],
    corrections: [
      'replaced battery',
      'replaced batteries',
      'changed out batteries',
      'fitted new batteries and cleaned terminals',
      'removed and replaced battery, starter tested ok',
      'installed new battery, charging ok',
      'tested starter ok, replaced battery set',
    ],
  },
  starter_replaced: {
    causes: [
      'starter unserviceable',
      'starter brushes worn',
      'starter solenoid contacts burnt',
      'starter motor failed',
      'bad starter',
      'starter dead spot',
    ],
    corrections: [
      'replaced starter',
      'removed and replaced starter motor',
      'changed out starter',
      'battery ok replaced starter',
      'tested batteries good, fitted reman starter',
      'replaced starter motor and solenoid',
      'installed exchange starter',
    ],
  },
  jump_start: {
    causes: ['flat battery', 'battery low', 'lights left on', 'battery flat', ''],
    corrections: [
      'jump started',
      'jump start unit',
      'gave jump start, running',
      'jump started and sent out',
      'boosted, ok',
    ],
  },
  battery_charged: {
    causes: ['flat battery', 'battery low', 'lights left on', 'battery discharged'],
    corrections: [
      'charged and tested battery, ok',
      'charged batteries',
      'put on charger over night, tested good',
      'recharged battery returned to service',
    ],
  },
  cables_cleaned: {
    causes: [
      'corroded battery cable',
      'bad ground cable',
      'battery terminals corroded',
      'loose ground strap',
      'high resistance in positive cable',
    ],
    corrections: [
      'cleaned and tightened battery cables',
      'replaced ground cable',
      'cleaned terminals and grounds',
      'replaced battery cable end',
      'replaced positive cable',
    ],
  },
  control_repaired: {
    causes: [
      'start relay bad',
      'neutral switch out of adjustment',
      'ignition switch worn',
      'clutch switch failed',
      'no voltage at start relay',
    ],
    corrections: [
      'replaced start relay',
      'adjusted neutral safety switch',
      'replaced ignition switch',
      'replaced clutch switch',
      'repaired wire to start relay',
    ],
  },
  alternator_replaced: {
    causes: ['alternator not charging', 'alternator unserviceable', 'low charging voltage', 'alternator diode'],
    corrections: [
      'replaced alternator',
      'removed and replaced alternator, charged batteries',
      'fitted exchange alternator',
    ],
  },
  drain_traced: {
    causes: ['parasitic draw', 'battery drain over night', 'something stays on'],
    corrections: [
      'traced drain to cab light relay, repaired',
      'repaired drain at tail lift control',
      'found radio feed wired hot, corrected',
    ],
  },
  fuel_repaired: {
    causes: ['fuel filter blocked', 'fuel waxed', 'fuel shut off solenoid stuck', 'air in fuel', 'crank sensor'],
    corrections: [
      'replaced fuel filters, bled system',
      'replaced fuel solenoid',
      'replaced crank sensor',
      'primed fuel system, runs',
      'thawed filter and added treatment',
    ],
  },
};

export const VAGUE_CORRECTIONS = ['repaired', 'fixed', 'rectified as required', 'done', 'see notes', 'ok now'] as const;

/** How often a hand abbreviates and misspells, and how it holds its shift key. */
type Hand = { shorten: number; misspell: number; letters: 'upper' | 'lower' | 'sentence' };

export const HANDS: readonly Hand[] = [
  { shorten: 0.4, misspell: 0.05, letters: 'upper' },
  { shorten: 0.25, misspell: 0.2, letters: 'lower' },
  { shorten: 0.1, misspell: 0.03, letters: 'sentence' },
  { shorten: 0.75, misspell: 0.06, letters: 'upper' },
  { shorten: 0.15, misspell: 0.12, letters: 'sentence' },
  { shorten: 0.6, misspell: 0.15, letters: 'lower' },
];

const SHORT: readonly (readonly [RegExp, readonly string[]])[] = [
  [/removed and replaced/g, ['r&r', 'r/r']],
  [/changed out/g, ['c/o', 'chgd out']],
  [/unserviceable/g, ['u/s']],
  [/replaced/g, ['repl', 'rplcd', "repl'd"]],
  [/batteries/g, ['batts', 'batt']],
  [/battery/g, ['batt', 'bat']],
  [/starter motor/g, ['strtr mtr', 'st motor']],
  [/starter/g, ['strtr', 'str']],
  [/alternator/g, ['alt']],
  [/solenoid/g, ['sol']],
  [/will not/g, ['wont', 'w/n']],
  [/engine/g, ['eng']],
  [/inspection/g, ['insp']],
  [/hydraulic/g, ['hyd', 'hydr']],
  [/front/g, ['frt']],
];

const MISSPELT: readonly (readonly [string, string])[] = [
  ['solenoid', 'solinoid'],
  ['solenoid', 'solenid'],
  ['battery', 'batery'],
  ['batteries', 'batterys'],
  ['starter', 'startor'],
  ['starter', 'stater'],
  ['alternator', 'alternater'],
  ['replaced', 'replcaed'],
  ['replaced', 'repalced'],
  ['terminals', 'terminels'],
  ['corroded', 'coroded'],
  ['charging', 'chargeing'],
  ['hydraulic', 'hydralic'],
  ['brake', 'break'],
  ['tyre', 'tire'],
  ['leaking', 'leeking'],
];

export function asWritten(text: string, hand: Hand, random: Random): string {
  let written = text;
  for (const [pattern, shorts] of SHORT)
    if (random.chance(hand.shorten)) written = written.replace(pattern, random.pick(shorts));
  for (const [right, wrong] of MISSPELT) if (random.chance(hand.misspell)) written = written.replace(right, wrong);
  if (hand.letters === 'upper') return written.toUpperCase();
  return hand.letters === 'lower' ? written : written.charAt(0).toUpperCase() + written.slice(1);
}

/** Texts of a repair in full, before a hand has keyed them. */
export function repairWords(repair: Repair, complaint: Complaint, random: Random): Words {
  const phrases = PHRASES[repair];
  return {
    complaint: random.pick(COMPLAINTS[complaint]),
    cause: random.pick(phrases.causes),
    correction: random.pick(phrases.corrections),
  };
}
