import { describe, expect, it } from 'vitest';
import type { RankingRow } from '../../../api/contract/ranking.ts';
import { PLAIN_QUERY, SORT_KEYS, type RankingQuery } from '../../../web/priority/ranking-query.ts';
import { compareNatural, decisionOf, rowKey, selectRows } from '../../../web/priority/ranking-selection.ts';
import { fixtureRanking } from '../../browser/fixture-fleet.ts';

const rows = fixtureRanking(60).rows;
const select = (query: Partial<RankingQuery>, from: readonly RankingRow[] = rows) =>
  selectRows(from, { ...PLAIN_QUERY, ...query });
const first = rows[0]!;

describe('filters', () => {
  it('keep all rows in rank order where none is set, and leave the ranking itself alone', () => {
    const before = rows.map((row) => row.rank);
    expect(select({}).map((row) => row.rank)).toEqual(before);
    select({ sort: 'unit', descending: true });
    expect(rows.map((row) => row.rank)).toEqual(before);
  });

  it('keep exactly the rows that have the value', () => {
    for (const field of ['depot', 'class', 'component', 'action'] as const) {
      const kept = select({ [field]: first[field] });
      expect(kept).toEqual(rows.filter((row) => row[field] === first[field]));
      expect(kept.length).toBeLessThan(rows.length);
    }
  });

  it('find each of the words, in any case, anywhere in unit, place and reason', () => {
    const found = select({ text: `${first.unit.toUpperCase()}  ${first.depot.slice(0, 4).toLowerCase()}` });
    expect(found).toContain(first);
    expect(found.every((row) => row.unit === first.unit)).toBe(true);
    expect(select({ text: 'no such words' })).toEqual([]);
    // Characters with a meaning in patterns are plain text here.
    expect(select({ text: '<img src=x' }).length).toBe(2);
    expect(select({ text: '.*' })).toEqual([]);
  });

  it('tell booked, deferred and open jobs apart; a booking outweighs an older deferral', () => {
    const deferral = { deferralId: 1, untilOn: '2026-04-01', reason: 'parts late' };
    const booking = { bookingId: 1, bookedOn: '2026-03-05', note: '' };
    const decided = [first, { ...first, deferral }, { ...first, deferral, booking }];
    expect(decided.map(decisionOf)).toEqual(['open', 'deferred', 'booked']);
    expect(select({ decision: 'deferred' }, decided)).toEqual([decided[1]]);
  });
});

describe('orders', () => {
  it.each(SORT_KEYS)('by %s: both directions hold the same rows, ties by rank', (sort) => {
    const up = select({ sort });
    const down = select({ sort, descending: true });
    expect(up.length).toBe(rows.length);
    expect(new Set(down)).toEqual(new Set(up));
    expect(down[0]).not.toBe(up[0]);
    if (sort === 'depot')
      for (const [index, row] of down.slice(1).entries())
        if (row.depot === down[index]!.depot) expect(row.rank).toBeGreaterThan(down[index]!.rank);
  });

  it('put dates that are too far to be given last', () => {
    const dates = select({ sort: 'window' }).map((row) => row.windowMidOn ?? 'later');
    const firstNull = dates.indexOf('later');
    expect(firstNull).toBeGreaterThan(0);
    expect(dates.slice(firstNull).every((on) => on === 'later')).toBe(true);
    for (const [index, on] of dates.slice(1, firstNull).entries()) expect(on >= dates[index]!).toBe(true);
  });

  it('compare runs of digits by value, equal ones as text', () => {
    const units = ['T-10', 'T-9', 'T-09', 'A', 'T-9b', '', 'T-100', 'ü/14 %'];
    expect(units.toSorted(compareNatural)).toEqual(['', 'A', 'T-09', 'T-9', 'T-9b', 'T-10', 'T-100', 'ü/14 %']);
    for (const a of units)
      for (const b of units) expect(Math.sign(compareNatural(a, b))).toBe(-Math.sign(compareNatural(b, a)) + 0);
  });
});

describe('row key', () => {
  it('is another for every unit, position and component, whatever signs they hold', () => {
    expect(new Set(rows.map(rowKey)).size).toBe(rows.length);
    expect(rowKey({ unit: 'a","b', position: '', component: 'battery' })).not.toBe(
      rowKey({ unit: 'a', position: 'b","', component: 'battery' }),
    );
  });
});
