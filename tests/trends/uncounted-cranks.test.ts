import { describe, expect, it } from 'vitest';
import { PATTERNS, type Pattern } from '../../etl/model/words.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { inventedCranks } from '../support/invented-cranks.ts';

/** One day of three steady cranks, some of which turned out to be something else. */
function dayWith(changes: Partial<Record<number, { pattern: Pattern; dropouts?: number; restVolts?: number }>>) {
  const table = inventedCranks({ seed: 3, fromOn: '2026-01-05', days: 1, cranksPerDay: 3 });
  for (const [row, { pattern, dropouts, restVolts }] of Object.entries(changes).map(
    ([row, change]) => [Number(row), change!] as const,
  )) {
    table.columns.pattern[row] = PATTERNS.indexOf(pattern);
    if (dropouts !== undefined) table.columns.dropouts[row] = dropouts;
    if (restVolts !== undefined) table.columns.restVolts[row] = restVolts;
  }
  return dailyMedians(table, Infinity);
}

describe('what counts in a day', () => {
  it.each(['no_response', 'preheat', 'unreadable'] as const)('%s is a row, but no crank', (pattern) => {
    const daily = dayWith({ 1: { pattern, restVolts: 5 } });
    expect([...daily.cranks]).toEqual([2]);
    expect(daily.restAtCrank[0]).toBeGreaterThan(12);
  });

  it.each(['free_spin', 'chatter', 'solenoid_only'] as const)('%s is counted, but turned nothing', (pattern) => {
    const daily = dayWith({ 1: { pattern, restVolts: 5 } });
    expect([...daily.cranks]).toEqual([3]);
    expect(daily.restAtCrank[0]).toBeGreaterThan(12);
  });

  it('dropouts are summed; a solenoid that rattles is one event', () => {
    const changes = { 0: { pattern: 'dropout', dropouts: 3 }, 2: { pattern: 'chatter', dropouts: 20 } } as const;
    expect([...dayWith(changes).dropouts]).toEqual([4]);
  });
});
