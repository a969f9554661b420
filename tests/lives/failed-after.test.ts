import { describe, expect, it } from 'vitest';
import { buildLives, engineKey, type LivesInput } from '../../etl/lives/build-lives.ts';
import { dayNumber } from '../../etl/model/time.ts';
import type { Component } from '../../etl/model/words.ts';
import { unit } from '../support/units.ts';
import { replaced } from '../support/work-orders.ts';

/** The logger saw the engine turn every day of January to March 2024, then nothing. */
const lastGoodCrank: NonNullable<LivesInput['lastGoodCrank']> = (_, __, before) => {
  const last = Math.min(before - 1, dayNumber('2024-03-31'));
  return last >= dayNumber('2024-01-01') ? last : null;
};

function failedAfter(component: Component, on: string, more: Partial<LivesInput> & { unplanned?: boolean } = {}) {
  const { unplanned = true, lastGoodCrank: seen = lastGoodCrank, asOfOn = '2025-12-31' } = more;
  const lives = buildLives({
    units: [unit({ inServiceOn: '2020-01-01' })],
    engines: [{ unit: 'U1', position: '' }],
    parts: [],
    orders: [{ ...replaced('battery', on, { unplanned }), component }],
    firstSeenOn: new Map([[engineKey('U1', ''), '2024-01-01']]),
    asOfOn,
    lastGoodCrank: seen,
  });
  return lives.find((life) => life.component === component && life.removedOn !== null)?.failedAfterOn;
}

describe('a failure happened after the last good crank', () => {
  it('of the day before, while the log runs', () => expect(failedAfter('battery', '2024-02-10')).toBe('2024-02-09'));

  it('of long before, where the log had ended', () => {
    expect(failedAfter('starter', '2024-06-20')).toBe('2024-03-31');
  });

  it('and not before the part was watched', () => {
    const orders = [replaced('battery', '2024-05-10'), replaced('battery', '2024-09-10', { workOrder: 'W2' })];
    const lives = buildLives({
      units: [unit({ inServiceOn: '2020-01-01' })],
      engines: [{ unit: 'U1', position: '' }],
      parts: [],
      orders,
      firstSeenOn: new Map([[engineKey('U1', ''), '2024-01-01']]),
      asOfOn: '2025-12-31',
      lastGoodCrank,
    }).filter((life) => life.component === 'battery');
    expect(lives.map((life) => life.failedAfterOn)).toEqual(['2024-03-31', '2024-05-10', undefined]);
  });

  it('is not said of a part that was taken out as planned, of the charging system, or without a log', () => {
    expect(failedAfter('battery', '2024-02-10', { unplanned: false })).toBeUndefined();
    expect(failedAfter('charging', '2024-02-10')).toBeUndefined();
    expect(failedAfter('battery', '2024-02-10', { lastGoodCrank: () => null })).toBeUndefined();
  });

  it('is the same as of the day itself and as of any later one', () => {
    const asOfDay = failedAfter('battery', '2024-02-10', { asOfOn: '2024-02-10' });
    expect(asOfDay).toBe(failedAfter('battery', '2024-02-10'));
  });
});
