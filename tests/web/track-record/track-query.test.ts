import { describe, expect, it } from 'vitest';
import { FORECAST_ENDS, FORECASTERS } from '../../../etl/model/backtest.ts';
import { END_WORDS, figure, FORECASTER_WORDS, outcomeWords, share } from '../../../web/track-record/record-words.ts';
import {
  downloadHref,
  pageQuery,
  PLAIN_TRACK_QUERY,
  readTrackQuery,
  writeTrackQuery,
  type TrackQuery,
} from '../../../web/track-record/track-query.ts';

describe('the filters in the address', () => {
  it.each<Partial<TrackQuery>>([
    {},
    { component: 'starter' },
    { depot: 'ü/14 %&x=1' },
    { outcome: 'open', offset: 200 },
    { component: 'battery', depot: 'North', outcome: 'failed' },
    { class: 'city bus & coach', from: '2025-06-01', to: '2025-09-01' },
  ])('%o come back as they went in', (given) => {
    const query = { ...PLAIN_TRACK_QUERY, ...given };
    expect(readTrackQuery(writeTrackQuery(query))).toEqual(query);
  });

  it('are left out where they are plain, and where this program does not know them', () => {
    expect(writeTrackQuery(PLAIN_TRACK_QUERY)).toBe('');
    expect(readTrackQuery('?component=engine&outcome=exploded&offset=-3&from=yesterday')).toEqual(PLAIN_TRACK_QUERY);
    expect(readTrackQuery('?offset=1.5').offset).toBe(0);
  });

  it('ask the server for one page, and save the whole list', () => {
    const query: TrackQuery = { ...PLAIN_TRACK_QUERY, component: 'battery', outcome: 'failed', offset: 100 };
    expect(pageQuery(query)).toBe('?component=battery&outcome=failed&offset=100&limit=100');
    expect(downloadHref(query)).toBe('/api/track-record?component=battery&outcome=failed&format=csv');
  });
});

describe('the words of the track record', () => {
  it('name every forecaster and every end', () => {
    expect(Object.keys(FORECASTER_WORDS).toSorted()).toEqual([...FORECASTERS].toSorted());
    expect(Object.keys(END_WORDS).toSorted()).toEqual([...FORECAST_ENDS].toSorted());
  });

  it('put a figure with its interval, and what is unknown as a dash', () => {
    expect(figure({ value: 0.8367, low: 0.785, high: 0.888 })).toBe('0.84 (0.79 to 0.89)');
    expect(figure({ value: -0.5, low: null, high: null }, 1)).toBe('−0.5');
    expect(share({ value: 0.56, low: 0.46, high: 0.66 })).toBe('56\u00a0% (46\u00a0% to 66\u00a0%)');
    expect([figure(null), share(null)]).toEqual(['–', '–']);
  });

  it('say what came of a forecast', () => {
    expect(outcomeWords({ failedWithin: true, end: 'failure' })).toBe('failed');
    expect(outcomeWords({ failedWithin: false, end: 'failure' })).toBe('did not fail');
    expect(outcomeWords({ failedWithin: null, end: 'planned' })).toBe('not followed so far');
    expect(outcomeWords({ failedWithin: null, end: 'gone' })).toBe('already gone, entered later');
  });
});
