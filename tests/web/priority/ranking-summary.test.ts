import { describe, expect, it } from 'vitest';
import type { RankingRow } from '../../../api/contract/ranking.ts';
import { summarise } from '../../../web/priority/ranking-summary.ts';
import { fixtureRanking } from '../../browser/fixture-fleet.ts';

const plain = fixtureRanking(4).rows[0]!;
const job = (known: Partial<RankingRow>): RankingRow => ({ ...plain, rankBefore: plain.rank, ...known });

const rows = [
  job({ unit: 'A', component: 'battery', action: 'book_now', costOfWaitingMinor: 10_000, rank: 1, rankBefore: 11 }),
  job({ unit: 'A', component: 'starter', action: 'book_now', costOfWaitingMinor: 5_000, rank: 2, rankBefore: 11 }),
  job({ unit: 'B', action: 'book_now', costOfWaitingMinor: null, rank: 3, rankBefore: null }),
  job({
    unit: 'C',
    action: 'book_now',
    costOfWaitingMinor: 70_000,
    booking: { bookingId: 1, bookedOn: '2026-03-05', note: '' },
  }),
  job({ unit: 'D', action: 'measure_first' }),
  // Nothing is known of it: no test would change a forecast that cannot be made.
  job({ unit: 'D', component: 'starter', action: 'measure_first', basis: ['none'] }),
  job({ unit: 'E', action: 'leave', deferral: { deferralId: 1, untilOn: '2026-04-01', reason: 'sold soon' } }),
];

describe('summary above the list', () => {
  it('counts and adds up only the jobs that still wait for a decision', () => {
    expect(summarise({ rows, previousAsOf: '2026-02-01' })).toEqual({
      units: 5,
      openJobs: 3,
      openUnits: 2,
      waitingMinor: 15_000,
      booked: 1,
      deferred: 1,
      toMeasure: 1,
      foreseen: 6,
      unforeseen: 1,
      // From 11 to 1 is ten places, from 11 to 2 is nine; B is new.
      risen: 2,
    });
  });

  it('names no change where there was no assessment before', () => {
    expect(summarise({ rows, previousAsOf: null }).risen).toBe(0);
  });
});
