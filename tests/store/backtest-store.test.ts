import { describe, expect, it } from 'vitest';
import { connect } from '../../etl/store/connection.ts';
import { backtestForecast, inventedForecasts, inventedSummary } from '../support/backtest-forecasts.ts';
import { freshStore } from '../support/open-stores.ts';

const fresh = freshStore();

const forecasts = [
  ...inventedForecasts({ units: 12 }),
  backtestForecast({ unit: 'Z', position: 'left', component: 'starter', belowThreshold: true, lastValue: null }),
  backtestForecast({ unit: 'Z', end: 'gone', followedToOn: '2026-01-01', pFail: 0.1 + 0.2 }),
];
const walked = { ...inventedSummary(forecasts), forecasts };

describe('a backtest', () => {
  it('comes back as it was saved: scores, and forecasts in their order to the last digit', async () => {
    const store = fresh.store();
    expect([await store.backtest(), await store.backtestForecasts()]).toEqual([null, []]);
    await store.saveBacktest(walked, 1.75e15, 'inputs-1');
    const { forecasts: _, ...summary } = walked;
    expect(await store.backtest()).toEqual({ summary, computedUs: 1.75e15, inputs: 'inputs-1' });
    expect(await store.backtestForecasts()).toEqual(forecasts);
    expect(await store.backtestForecasts('Z')).toEqual(forecasts.filter(({ unit }) => unit === 'Z'));
  });

  it('replaces the one before', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    await store.saveBacktest(walked, 1, 'one');
    await store.saveBacktest({ ...walked, forecasts: [forecasts[0]!] }, 2, 'two');
    expect((await other.backtest())?.inputs).toBe('two');
    expect(await other.backtestForecasts()).toEqual([forecasts[0]]);
    const { sqlite } = connect(store.path, 'reader');
    expect(sqlite.prepare('select count(*) from backtest_forecasts').pluck().get()).toBe(1);
    sqlite.close();
  });

  it('left half saved by a process that is gone is not seen, and swept', async () => {
    const store = fresh.store();
    await store.saveBacktest(walked, 1, 'i');
    const { sqlite } = connect(store.path, 'writer');
    sqlite.prepare(`update backtests set state = 'saving', saver = '1 1 another-boot'`).run();
    expect([await store.backtest(), await store.backtestForecasts()]).toEqual([null, []]);
    await fresh.another();
    expect(sqlite.prepare('select count(*) from backtest_forecasts').pluck().get()).toBe(0);
    sqlite.close();
  });
});
