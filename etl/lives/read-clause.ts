import type { Component } from '../model/words.ts';
import {
  ACTION_WORDS,
  BARE_SOLENOID,
  CLEARED,
  COMPONENT_WORDS,
  FLAT_BATTERY,
  JUMP_START,
  LOOK_ALIKES,
  NO_START,
  NOT_DONE,
  POSITION_WORDS,
  STARTING_CONTEXT,
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
};

/** Reads one clause of `clausesOf`. Look-alikes are masked first, so that a pre-lube starter is no starter. */
export function readClause(clause: string): ClauseReading {
  let rest = clause;
  for (const pattern of LOOK_ALIKES) rest = rest.replace(pattern, ' # ');
  const noStart = NO_START.exec(rest)?.[0] ?? null;
  const jumpStart = JUMP_START.exec(rest)?.[0] ?? null;
  const flatBattery = FLAT_BATTERY.exec(rest)?.[0] ?? null;
  return {
    components: componentsOf(rest),
    action: actionOf(rest),
    jumpStart,
    noStart,
    flatBattery,
    cleared: CLEARED.exec(rest)?.[0] ?? NOT_DONE.exec(rest)?.[0] ?? null,
    positions: POSITION_WORDS.filter(({ pattern }) => pattern.test(rest)).map(({ position }) => position),
  };
}

function componentsOf(clause: string): ClauseReading['components'] {
  let rest = STARTING_CONTEXT.test(clause) ? clause.replace(BARE_SOLENOID, 'starter solenoid') : clause;
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
    if (words !== undefined) return { event, words };
  }
  return null;
}
