import type { Component } from '../model/words.ts';
import type { ClauseReading } from './read-clause.ts';
import { namesNothing } from './filling-words.ts';
import { VAGUE } from './vocabulary.ts';

export type ReadPart = { component: Component; words: string } & Pick<ClauseReading, 'action' | 'cleared'>;

/**
 * The parts that a clause speaks of, with the fleet's own code for the record. The code decides between a part that was
 * worked on and one that was only looked at, and says which part a clause means that names none: "repaired", "see
 * notes". Work on a battery or starter for which parts were paid and nothing else is said was a replacement.
 */
export function codedParts(
  clause: string,
  reading: ClauseReading,
  { coded, code, paid }: { coded: Component | undefined; code: string; paid: boolean },
): ReadPart[] {
  const named = reading.components.map((part) => ({ ...part, action: reading.action, cleared: reading.cleared }));
  if (coded === undefined) return named;
  if (named.length > 0) return named.filter(({ component }) => component === coded || isDone(reading));
  const vague = VAGUE.test(clause);
  if (!vague && (reading.action === null || !namesNothing(clause))) return [];
  const exchanged = paid && (coded === 'battery' || coded === 'starter') && reading.action?.event !== 'inspected';
  const words = vague ? clause : (reading.action?.words ?? clause);
  const event = exchanged ? 'replaced' : (reading.action?.event ?? 'repaired');
  return [{ component: coded, words: `code ${code}`, action: { event, words }, cleared: null }];
}

function isDone({ action, cleared }: ClauseReading): boolean {
  return cleared === null && (action?.event === 'replaced' || action?.event === 'repaired');
}
