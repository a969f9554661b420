import type { Component } from '../model/words.ts';
import { namesNothing, STATES } from './filling-words.ts';
import { NO_TOPIC, type Topics } from './record-topics.ts';
import { remembering } from './remembering.ts';
import { CIRCUMSTANCE, LOOK_ALIKES, OTHER_MACHINE, OWN_ENGINE } from './look-alikes.ts';
import {
  ACTION_WORDS,
  BARE_PARTS,
  BARE_SOLENOID,
  CLEARED,
  DONE,
  COMPONENT_WORDS,
  FLAT_BATTERY,
  INTERLOCKS,
  JUMP_FAILED,
  JUMP_START,
  NO_START,
  NOT_DONE,
  NOT_JUMPED,
  POSITION_WORDS,
  SPEAKS_OF_STARTING,
  STARTING_CONTEXT,
  STEMS,
  SUB_PARTS,
} from './vocabulary.ts';

/** What one clause says. */
export type ClauseReading = {
  components: { component: Component; words: string }[];
  action: { event: 'replaced' | 'repaired' | 'inspected'; words: string } | null;
  jumpStart: string | null;
  noStart: string | null;
  flatBattery: string | null;
  /** The parts named here were found good, or were not done. */
  cleared: string | null;
  positions: string[];
  /** It speaks of another machine's starting: an auxiliary unit, a lift gate. `null`: it does not say of which. */
  otherMachine: boolean | null;
};

/** Reads one clause of `clausesOf`. Look-alikes are masked first, so that a pre-lube starter is no starter. */
export function readClause(clause: string, topics: Topics = NO_TOPIC): ClauseReading {
  return { ...readNamedClause(namedByRecord(clause, topics)) };
}

const readNamedClause = remembering(readingOf, 120);

function readingOf(clause: string): ClauseReading {
  const { rest, ...starting } = STEMS.test(clause) ? startingIn(clause) : { rest: clause, ...NOTHING_OF_STARTING };
  const notDone = NOT_DONE.exec(rest)?.[0] ?? null;
  const reading: ClauseReading = {
    ...starting,
    action: notDone === null ? actionOf(rest) : null,
    cleared: foundGood(rest) ?? notDone,
    positions: POSITION_WORDS.filter(({ pattern }) => pattern.test(rest)).map(({ position }) => position),
    otherMachine: OWN_ENGINE.test(clause) ? false : null,
  };
  const told = OWN_ENGINE.test(clause) ? clause.replace(CIRCUMSTANCE, '') : clause;
  return OTHER_MACHINE.test(told) ? ofOtherMachine(reading, SPEAKS_OF_STARTING.test(told)) : reading;
}

/** "swapped the battery its all good now": what is good after the work is the work. */
function foundGood(clause: string): string | null {
  const good = CLEARED.exec(clause);
  return good === null || DONE.test(clause.slice(0, good.index)) ? null : good[0];
}

type Starting = Pick<ClauseReading, 'components' | 'jumpStart' | 'noStart' | 'flatBattery'>;

const NOTHING_OF_STARTING: Starting = { components: [], jumpStart: null, noStart: null, flatBattery: null };

function startingIn(clause: string): Starting & { rest: string } {
  let rest = clause;
  for (const pattern of LOOK_ALIKES) rest = rest.replace(pattern, ' # ');
  const noStart = NO_START.exec(rest)?.[0] ?? rest.match(JUMP_FAILED)?.[0] ?? null;
  rest = rest.replace(JUMP_FAILED, ' # ').replace(NOT_JUMPED, ' # ');
  const jumpStart = JUMP_START.exec(rest)?.[0] ?? null;
  const named = rest.replace(NO_START, ' # ').replace(JUMP_START, ' # ');
  const components = componentsOf(named, STARTING_CONTEXT.test(rest));
  return { components, jumpStart, noStart, flatBattery: FLAT_BATTERY.exec(rest)?.[0] ?? null, rest };
}

/** The clause with what the rest of its record says that it speaks of. */
function namedByRecord(clause: string, topics: Topics): string {
  if (topics.noStart && INTERLOCKS.test(clause)) return clause.replace(INTERLOCKS, 'starter interlock switch');
  const part = BARE_PARTS.find(
    ({ of, bare }) => topics[of] && bare.test(clause) && isBare(clause.replaceAll(new RegExp(bare, 'g'), '')),
  );
  return part === undefined ? clause : clause.replace(part.bare, part.named);
}

const isBare = remembering((rest) => namesNothing(rest.replace(STATES, '')), 60);

function ofOtherMachine(reading: ClauseReading, spoken: boolean): ClauseReading {
  const starting = spoken || reading.components.length > 0 || (reading.noStart ?? reading.jumpStart) !== null;
  return { ...withoutStarting(reading), otherMachine: starting ? true : null };
}

/** The same clause with what it says of starting left out. */
export function withoutStarting(reading: ClauseReading): ClauseReading {
  return { ...reading, ...NOTHING_OF_STARTING };
}

function componentsOf(clause: string, starting: boolean): ClauseReading['components'] {
  let rest = starting ? clause.replace(BARE_SOLENOID, 'starter solenoid') : clause;
  rest = rest.replace('starter starter solenoid', 'starter solenoid');
  const found: ClauseReading['components'] = [];
  for (const { component, pattern } of COMPONENT_WORDS) {
    const words = rest.match(pattern);
    if (words === null) continue;
    found.push({ component, words: [...new Set(words)].join(' ') });
    rest = rest.replace(pattern, ' # ');
  }
  return found;
}

function actionOf(clause: string): ClauseReading['action'] {
  for (const { event, pattern } of ACTION_WORDS) {
    const words = pattern.exec(clause)?.[0];
    if (words === undefined) continue;
    return { event: event === 'replaced' && SUB_PARTS.test(clause) ? 'repaired' : event, words };
  }
  return null;
}
