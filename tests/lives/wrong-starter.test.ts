import { describe, expect, it } from 'vitest';
import { buildLives, engineKey, type LivesInput } from '../../etl/lives/build-lives.ts';
import { dayNumber } from '../../etl/model/time.ts';
import { unit } from '../support/units.ts';
import { replaced } from '../support/work-orders.ts';

const starter = replaced('starter', '2024-05-10');

/** The lives that ended: component, day, end, order. `out`: a worn bank came out, as the voltage shows. */
function ends(out: boolean, more: Partial<LivesInput> = {}): string[] {
  const asked: unknown[] = [];
  const lives = buildLives({
    units: [unit({ inServiceOn: '2020-01-01' })],
    engines: [{ unit: 'U1', position: '' }],
    parts: [],
    orders: [starter],
    firstSeenOn: new Map([[engineKey('U1', ''), '2024-01-01']]),
    asOfOn: '2025-12-31',
    wornBankOut: (...place) => asked.push(place) > 0 && out,
    ...more,
  });
  for (const place of asked) expect(place).toEqual(['U1', '', dayNumber('2024-05-10')]);
  return lives
    .filter(({ end }) => end !== 'in_service')
    .map(({ component, removedOn, end, workOrder }) => [component, removedOn, end, workOrder].join(' ').trim());
}

describe('a starter fitted for a worn battery', () => {
  const failed = 'starter 2024-05-10 failure W-starter-2024-05-10';
  const sound = 'starter 2024-05-10 planned W-starter-2024-05-10';

  it('had not failed: the battery had, which no record names', () => {
    expect(ends(true)).toEqual(['battery 2024-05-10 failure', sound]);
    expect(ends(false)).toEqual([failed]);
  });
  it('is told once where the step in the voltage was found already', () => {
    const batterySteps = new Map([[engineKey('U1', ''), [{ day: dayNumber('2024-05-12'), size: -0.6 }]]]);
    expect(ends(true, { batterySteps })).toEqual(['battery 2024-05-12 failure', sound]);
  });
  it('had failed where a record says what else moved the voltage', () => {
    for (const component of ['battery', 'cables', 'charging'] as const) {
      const work = replaced('battery', '2024-04-25', { component, unplanned: false });
      expect(ends(true, { orders: [work, starter] })).toContain(failed);
    }
  });
  it('is not asked about where the exchange was planned', () => {
    const planned = replaced('starter', '2024-05-10', { unplanned: false });
    expect(ends(true, { orders: [planned] })).toEqual([sound]);
  });
});
