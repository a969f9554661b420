/** What a fall of the voltage was found to be, before its features are taken. */
import type { FoundCrank } from './measured-row.ts';
import type { Still } from './still.ts';

export type Candidate = { kind: 'crank'; at: number; crank: FoundCrank } | Still;

export function endOf(candidate: Candidate): number {
  return candidate.kind === 'crank' ? candidate.crank.phases.release : candidate.to;
}

/** Each crank with where the next one of its record begins. */
export function withEnds(found: readonly Candidate[], count: number): Candidate[] {
  return found.map((each, index) => {
    if (each.kind === 'still') return each;
    const next = found.slice(index + 1).find((later) => later.kind === 'crank');
    return { ...each, crank: { ...each.crank, until: next === undefined ? count : next.at } };
  });
}
