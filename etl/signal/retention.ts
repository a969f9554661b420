/**
 * Which waveforms are kept: the newest `newest` cranks of an engine, before those one a week (the last of the week),
 * and every crank that is not steady. The rest can go.
 */
import type { FinishedTable } from '../model/crank.ts';
import { US_PER_DAY } from '../model/time.ts';
import { PATTERNS } from '../model/words.ts';

const STEADY = PATTERNS.indexOf('steady');

/** Onsets (µs, ascending) of the cranks of a finished table, in time order, whose waveforms are kept. */
export function keptOnsets(table: FinishedTable, newest: number): Float64Array {
  const { timeUs, pattern } = table.columns;
  const kept: number[] = [];
  let week = Number.NaN;
  for (let i = table.count - 1; i >= 0; i--) {
    const own = Math.floor(timeUs[i]! / (7 * US_PER_DAY));
    const isNewest = i >= table.count - newest;
    if (isNewest || own !== week || pattern[i] !== STEADY) kept.push(timeUs[i]!);
    week = own;
  }
  return Float64Array.from(kept.reverse());
}
