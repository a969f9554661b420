import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import { TrackRecord } from '../../api/contract/track-record.ts';
import { scoredScope } from '../../api/views/track-record-scope.ts';
import { BACKTEST_EXPORT } from '../../api/export/backtest-export.ts';
import type { Cells } from '../../api/export/export-table.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { backtestForecast, inventedForecasts, inventedSummary } from '../support/backtest-forecasts.ts';
import { AS_OF, appOver, importRecord } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';
import { unit } from '../support/units.ts';

const forecasts = [
  ...inventedForecasts({ units: 30 }),
  backtestForecast({ asOfOn: '2025-10-01', unit: '../x', pFail: 0.9, failedOn: '2025-11-01' }),
  backtestForecast({
    asOfOn: '2025-10-01',
    unit: 'U1',
    position: 'left',
    component: 'starter',
    followedToOn: '2025-11-01',
  }),
];

async function walkedStore() {
  const units = [...new Set(forecasts.map((each) => each.unit))];
  const store = memoryStore({
    imports: [importRecord()],
    units: units.map((each) =>
      unit({ unit: each, depot: each === 'U1' ? 'South' : 'North', class: each.endsWith('2') ? 'bus' : 'van' }),
    ),
  });
  await store.saveBacktest({ ...inventedSummary(forecasts), forecasts }, 1, await store.inputsVersion());
  return store;
}

async function asked(store: Awaited<ReturnType<typeof walkedStore>>, query = '') {
  return (await (await appOver(store)).inject(`/api/track-record${query}`)).json<TrackRecord>();
}

describe('GET /api/track-record', () => {
  it('answers by its schema: scores by component, months, forecasts beside what happened', async () => {
    const answer = await asked(await walkedStore());
    expect([...Value.Errors(TrackRecord, answer)]).toEqual([]);
    expect(answer).toMatchObject({ state: 'ready', store: 'own', stale: false, plan: { horizonDays: 90 } });
    expect(answer.scores.map(({ component }) => component)).toEqual(['battery', 'starter']);
    expect(answer.scores[0]!.verdict.length).toBeGreaterThan(2);
    expect(answer.months).toEqual(inventedSummary(forecasts).months);
    expect(answer.depots).toEqual(['North', 'South']);
    expect(answer.forecastsInAll).toBe(forecasts.length);
  });

  it('lists the newest origin and the likeliest failure first', async () => {
    const { forecasts: rows } = await asked(await walkedStore());
    expect(rows[0]).toMatchObject({ asOfOn: '2025-10-01', unit: '../x', failedWithin: true, failedOn: '2025-11-01' });
    const order = rows.map(({ asOfOn, pFail }) => [asOfOn, 1 - pFail] as const);
    expect(order).toEqual(order.toSorted((a, b) => (a[0] === b[0] ? a[1] - b[1] : a[0] < b[0] ? 1 : -1)));
  });

  it('filters by component, depot and outcome, and turns pages', async () => {
    const store = await walkedStore();
    const starters = await asked(store, '?component=starter');
    expect(starters.forecasts).toMatchObject([{ unit: 'U1', position: 'left', failedWithin: null }]);
    const south = await asked(store, '?depot=South');
    expect(new Set(south.forecasts.map((each) => each.unit))).toEqual(new Set(['U1']));
    const failed = await asked(store, '?outcome=failed&component=battery');
    expect(failed.forecasts.every(({ failedWithin }) => failedWithin === true)).toBe(true);
    expect(failed.forecastsInAll).toBeLessThan(forecasts.length);
    const [first, second] = [await asked(store, '?limit=10'), await asked(store, '?limit=10&offset=10')];
    expect([first.forecasts.length, second.forecasts.length, first.forecastsInAll]).toEqual([10, 10, forecasts.length]);
    expect(second.forecasts[0]).not.toEqual(first.forecasts[0]);
  });

  it('scores the part that depot, class and days leave, like the whole; what came of a forecast is no part of it', async () => {
    const store = await walkedStore();
    const whole = await asked(store);
    expect([whole.scope, whole.classes]).toEqual(['whole', ['bus', 'van']]);
    const buses = await asked(store, '?class=bus');
    expect([...Value.Errors(TrackRecord, buses)]).toEqual([]);
    const own = forecasts.filter((each) => each.unit.endsWith('2'));
    expect(buses.scope).toBe('part');
    expect(buses.scores[0]!.forecasts).toBe(own.length);
    expect(buses.months).toEqual(inventedSummary(own).months);
    expect(buses.scores[0]!.verdict.join(' ')).toContain('Calibration cannot be judged');
    const late = await asked(store, '?from=2025-09-01&to=2025-09-30');
    expect(new Set(late.forecasts.map(({ asOfOn }) => asOfOn))).toEqual(new Set(['2025-09-01']));
    expect(late.scores[0]!.forecasts).toBe(forecasts.filter(({ asOfOn }) => asOfOn === '2025-09-01').length);
    const failed = await asked(store, '?outcome=failed&component=battery');
    expect(failed.scores).toEqual(whole.scores);
  });

  it('does not score a part too large for a request', () => {
    const many = Array.from({ length: 4_000 }, (_, k) => backtestForecast({ unit: `U${k}` }));
    const { scores, scope } = scoredScope(many, inventedSummary(forecasts));
    expect([scores, scope]).toEqual([[], 'too_large']);
  });

  it('tells an empty store from one that was not walked, and says when data are newer', async () => {
    expect(await asked(memoryStore())).toMatchObject({ state: 'no_data', scores: [] });
    const loaded = await asked(memoryStore({ imports: [importRecord()] }));
    expect([...Value.Errors(TrackRecord, loaded)]).toEqual([]);
    expect(loaded).toMatchObject({ state: 'not_walked', forecasts: [], plan: null });
    const store = await walkedStore();
    store.contents.imports!.push(importRecord({ importId: 2 }));
    expect((await asked(store)).stale).toBe(true);
  });

  it('as CSV holds all that the filter lets through, safe for a spreadsheet', async () => {
    const store = await walkedStore();
    const { headers, body } = await (await appOver(store)).inject('/api/track-record?format=csv&component=battery');
    expect(headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(headers['content-disposition']).toBe('attachment; filename="track-record.csv"');
    const lines = body.trimEnd().split('\r\n');
    expect(lines[0]).toBe(BACKTEST_EXPORT.columns.map(({ name }) => name).join(','));
    expect(lines.length - 1).toBe(forecasts.filter(({ component }) => component === 'battery').length);
    expect(lines[1]).toBe('2025-10-01,../x,battery,0.9,2026-06-01,2028-01-01,,1,2025-11-01,');
  });

  it('refuses a component that has no forecast', async () => {
    const response = await (await appOver(await walkedStore())).inject('/api/track-record?component=charging');
    expect(response.statusCode).toBe(400);
    expect(response.headers['content-type']).toBe('application/problem+json');
  });
});

describe('the export of a backtest', () => {
  it('holds each forecast beside what happened, by date and unit; empty where it was not followed', async () => {
    const question = { store: await walkedStore(), asOf: AS_OF, settings: DEFAULT_SETTINGS, decidedUs: 0 };
    const rows: Cells[] = [];
    for await (const cells of BACKTEST_EXPORT.rows(question)) rows.push(cells);
    expect(rows).toHaveLength(forecasts.length);
    expect(rows.every((cells) => cells.length === BACKTEST_EXPORT.columns.length)).toBe(true);
    expect(rows.slice(-2)).toEqual([
      ['2025-10-01', '../x', 'battery', 0.9, '2026-06-01', '2028-01-01', null, 1, '2025-11-01', ''],
      ['2025-10-01', 'U1', 'starter', 0.05, '2026-06-01', '2028-01-01', null, null, null, 'left'],
    ]);
    expect(new Set(rows.map((cells) => cells[7]))).toEqual(new Set([0, 1, null]));
  });

  it('of a store that was not walked is empty', async () => {
    const question = { store: memoryStore(), asOf: AS_OF, settings: DEFAULT_SETTINGS, decidedUs: 0 };
    for await (const cells of BACKTEST_EXPORT.rows(question)) expect.unreachable(String(cells));
    expect((await memoryStore().backtestForecasts()).length).toBe(0);
  });
});
