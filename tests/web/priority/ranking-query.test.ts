import { describe, expect, it } from 'vitest';
import { fixtureRanking } from '../../browser/fixture-fleet.ts';
import { choices, PLAIN_QUERY, readQuery, writeQuery, type RankingQuery } from '../../../web/priority/ranking-query.ts';

describe('query in the address', () => {
  it('leaves the plain list without a query', () => {
    expect(writeQuery(PLAIN_QUERY)).toBe('');
    expect(readQuery('')).toEqual(PLAIN_QUERY);
  });

  it('comes back as it was written, whatever signs a depot or search holds', () => {
    const query: RankingQuery = {
      depot: 'Tarn & Cross #2',
      class: 'ü/14 %',
      component: 'starter',
      action: 'measure_first',
      decision: 'deferred',
      text: 'a=b + c?',
      sort: 'cost',
      descending: true,
      months: 60,
    };
    expect(readQuery(writeQuery(query))).toEqual(query);
  });

  it('leaves out values that are not known', () => {
    const old = readQuery('?component=gearbox&action=pray&sort=-colour&months=7&decision=maybe');
    expect(old).toEqual({ ...PLAIN_QUERY, descending: true });
  });

  it('offers each depot and class once, in reading order, and no empty one', () => {
    const { rows } = fixtureRanking(40);
    expect(choices(rows, 'depot')).toEqual(['Fennick', 'Oldharbour', 'Tarn Cross', 'Westmere']);
    expect(choices([{ ...rows[0]!, class: '' }], 'class')).toEqual([]);
  });
});
