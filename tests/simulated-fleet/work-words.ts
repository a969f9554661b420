import type { Draws } from './draws.ts';

export type Repair = 'battery_replaced' | 'starter_replaced' | 'jump_start' | 'unrelated';
export type Reason = 'failed' | 'planned';

type Words = readonly [complaint: string, cause: string, correction: string];

/** What tired people write. Invented for this bench. */
const WORDS: Record<string, readonly Words[]> = {
  'battery_replaced failed': [
    ['no start', 'batteries failed load test', 'replaced batteries'],
    ['wont crank', 'bad battery', 'r&r battery, tested charging ok'],
    ['dead this morning', 'batt no good', 'fitted new batt'],
    ['Unit would not turn over', 'battery weak', 'Replaced battery. Starter ok'],
    ['clicks only', 'batteries dead', 'installed new batteries'],
    ['NO START', 'BATT U/S', 'BATT C/O'],
  ],
  'starter_replaced failed': [
    ['no crank', 'starter bad', 'replaced starter'],
    ['clicks, wont turn', 'starter motor u/s', 'r/r starter motor, batteries tested good'],
    ['intermittent no crank', 'starter solinoid burnt', 'fitted reman starter'],
    ['NO START', 'STRTR', 'R&R STRTR'],
    ['will not start', 'found starter faulty', 'new starter fitted, batt ok'],
  ],
  'battery_replaced planned': [
    ['pm service', 'battery below spec on tester', 'replaced batteries as precaution'],
    ['scheduled service', 'batts aged out', 'renewed batteries, planned'],
  ],
  'starter_replaced planned': [
    ['pm service', 'starter due', 'preventive replacement of starter'],
    ['scheduled', 'starter worn', 'planned starter change at service'],
  ],
  'jump_start failed': [
    ['no start', 'batt flat', 'jump started'],
    ['dead in yard', '', 'boosted, ran ok'],
    ['wont crank', 'low voltage', 'jumped it off and sent out'],
  ],
};

const UNRELATED: readonly Words[] = [
  ['brakes squeal', 'front pads worn', 'replaced front pads'],
  ['pm a', '', 'oil and filters, checked batteries and starter ok'],
  ['headlight out', 'bulb', 'fitted new bulb'],
  ['hard to start when cold', 'fuel filter waxed', 'replaced fuel filter'],
  ['air leak', 'line chafed', 'replaced air line'],
  ['wipers slow', 'wiper motor', 'replaced wiper motor'],
  ['ac warm', 'low charge', 'recharged a/c'],
  ['tyre', 'puncture', 'tyre replaced'],
  ['seat torn', '', 'fitted seat cover'],
  ['oil leak', 'sump gasket', 'resealed sump'],
];

const LOOK_ALIKES: readonly Words[] = [
  ['remote control dead', 'remote battery', 'new battery in door remote'],
  ['check engine light', 'fuel solenoid code', 'cleared codes, road test ok'],
  ['pre lube starter noisy', '', 'adjusted, ok'],
  ['lift gate dead', 'battery cable off', 'reconnected gate cable'],
];

/** Of the orders that have nothing to do with cranking, those whose words sound as if they had. */
const LOOK_ALIKE = 0.02;

export function wordsFor(repair: Repair, reason: Reason, draws: Draws): Words {
  if (repair === 'unrelated') return draws.among(draws.chance(LOOK_ALIKE) ? LOOK_ALIKES : UNRELATED);
  return draws.among(WORDS[`${repair} ${reason}`]!);
}
