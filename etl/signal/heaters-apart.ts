/**
 * Heaters told from other loads by what follows: a plateau as deep as a heater's is one if a start follows within a
 * minute, or if nothing else could be so deep, so long and so even; else it is some load and no row. One as short as a
 * key is held is a heater if a crank follows at once, else a solenoid that pulled in for nothing.
 */
import type { Recording } from '../model/samples.ts';
import type { Candidate } from './candidate.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { secondsBetween } from './time-window.ts';

export function heatersApart(recording: Recording, found: readonly Candidate[]): Candidate[] {
  return found.flatMap((each, index): Candidate[] => {
    if (each.kind === 'crank') return [each];
    const after = found.slice(index + 1);
    const isSoon = (later: Candidate, seconds: number) =>
      secondsBetween(recording, Math.min(each.to, recording.count - 1), later.at) < seconds;
    if (each.isEither && after.some((later) => later.kind === 'crank' && isSoon(later, T.heaterSoonSeconds)))
      return [{ ...each, form: 'preheat' }];
    const isStart = (later: Candidate) => later.kind === 'crank' || later.form !== 'preheat';
    const follows = after.some((later) => isStart(later) && isSoon(later, T.heaterBeforeSeconds));
    return each.form !== 'preheat' || each.isPlain || follows ? [each] : [];
  });
}
