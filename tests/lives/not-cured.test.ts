import { describe, expect, it } from 'vitest';
import { buildLives } from '../../etl/lives/build-lives.ts';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { unit } from '../support/units.ts';
import { workOrder } from '../support/work-orders.ts';

/** How the lives ended that one record ends. */
function ends(complaint: string, correction: string): string[] {
  return buildLives({
    units: [unit({ inServiceOn: '2020-01-01' })],
    engines: [{ unit: 'U1', position: '' }],
    parts: [],
    orders: readWorkOrder(workOrder({ complaint, correction })),
    firstSeenOn: new Map(),
    asOfOn: '2025-12-31',
    recordsFromDay: 0,
  })
    .filter(({ end }) => end !== 'in_service')
    .map(({ component, end }) => `${component} ${end}`);
}

describe('one record of two parts', () => {
  it('the part that it says did not help had not failed', () => {
    expect(ends('no crank', 'Swapped batteries, no fix. Found starter open. Starter renewed')).toEqual([
      'battery planned',
      'starter failure',
    ]);
    expect(ends('slow', 'replaced starter, still slow. new batteries fitted')).toEqual([
      'battery failure',
      'starter planned',
    ]);
  });
  it('both had failed where it says nothing of the kind, or names nothing after it', () => {
    expect(ends('no crank', 'replaced batteries and starter')).toEqual(['battery failure', 'starter failure']);
    expect(ends('no crank', 'replaced batteries, still slow when cold')).toEqual(['battery failure']);
  });
});
