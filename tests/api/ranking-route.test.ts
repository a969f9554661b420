import { tableFromIPC } from 'apache-arrow';
import { parse } from 'csv-parse/sync';
import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import { Ranking } from '../../api/contract/ranking.ts';
import type { UnitOutlooks } from '../../api/contract/unit.ts';
import { US_PER_DAY } from '../../etl/model/time.ts';
import { AS_OF, assessedStore, appOver, importRecord } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

async function ranking(store: Awaited<ReturnType<typeof assessedStore>>, url = '/api/ranking') {
  return (await (await appOver(store)).inject(url)).json<Ranking>();
}

describe('GET /api/ranking', () => {
  it('answers by its schema, ranked', async () => {
    const answer = await ranking(await assessedStore());
    expect([...Value.Errors(Ranking, answer)]).toEqual([]);
    expect(answer).toMatchObject({ state: 'ready', asOf: '2026-03-10', store: 'own', stale: false, currency: 'USD' });
    expect(answer.rows.map((row) => row.rank)).toEqual(answer.rows.map((_, index) => index + 1));
    expect(answer.rows[0]).toMatchObject({ unit: 'U1', component: 'battery', class: 'van', rankBefore: null });
    expect(answer.assumptions.every(({ from, source }) => from === 'default' && source !== '')).toBe(true);
  });

  it('tells an empty store from one that was not assessed', async () => {
    expect(await ranking(memoryStore())).toMatchObject({ state: 'no_data', rows: [] });
    expect(await ranking(memoryStore({ imports: [importRecord()] }))).toMatchObject({
      state: 'not_assessed',
      rows: [],
    });
  });

  it('says when newer data have been loaded', async () => {
    const store = await assessedStore();
    store.contents.imports!.push(importRecord({ importId: 2 }));
    expect((await ranking(store)).stale).toBe(true);
  });

  it('gives the rank in the assessment before', async () => {
    const store = await assessedStore();
    const rows = (await ranking(store)).rows;
    await store.saveRanking(
      AS_OF.label,
      'settings-0',
      rows.toReversed().map((row, index) => ({ ...row, rank: index + 1 })),
    );
    const later = { us: AS_OF.us + 7 * 86_400e6, label: '2026-03-17', on: '2026-03-17' };
    const outlooks = await store.outlooks(AS_OF.label);
    await store.saveAssessment({ asOf: later, lives: [], trends: [], outlooks, fleet: null }, 1, 'inputs-1');
    const answer = await ranking(store);
    expect(answer.previousAsOf).toBe('2026-03-10');
    expect(answer.rows[0]!.rankBefore).toBe(rows.length);
  });

  it('refuses a date that was not assessed and says how to get it', async () => {
    const response = await (await appOver(await assessedStore())).inject('/api/ranking?as_of=2025-01-01');
    expect(response.statusCode).toBe(404);
    expect(response.headers['content-type']).toBe('application/problem+json');
    expect(response.json()).toMatchObject({
      detail: 'as_of requires a date that was assessed, got 2025-01-01',
      remedy: 'Run: npm run -s cli -- assess --as-of 2025-01-01',
    });
  });

  it('refuses a date that is none, and a question that it does not know, rather than answer another one', async () => {
    const app = await appOver(await assessedStore());
    const none = await app.inject('/api/ranking?as_of=2025-13-01');
    expect([none.statusCode, none.json<{ detail: string }>().detail]).toEqual([
      400,
      'as_of requires a date YYYY-MM-DD or an instant with zone, got 2025-13-01',
    ]);
    for (const url of ['/api/ranking', '/api/units/U1', '/api/units/U1/cranks', '/api/units/U1/outlook']) {
      const strange = await app.inject(`${url}?colour=red`);
      expect(strange.statusCode).toBe(400);
      expect(strange.json<{ detail: string }>().detail).toBe(
        'query requires only fields that it knows, got colour (query)',
      );
    }
  });

  it('shows what is booked and deferred, and what was decided since only on the newest day', async () => {
    const store = await assessedStore();
    const app = await appOver(store);
    const key = { unit: 'U1', position: '', component: 'battery' };
    await app.inject({
      method: 'POST',
      url: '/api/bookings',
      payload: { ...key, bookedOn: '2026-04-10', note: 'bay 2' },
    });
    await app.inject({
      method: 'POST',
      url: '/api/deferrals',
      payload: { ...key, untilOn: '2026-05-01', reason: 'parts on order' },
    });
    const row = (await app.inject('/api/ranking')).json<Ranking>().rows.find((each) => each.unit === 'U1')!;
    expect(row).toMatchObject({
      nextVisitOn: '2026-04-10',
      nextVisitFrom: 'booked',
      booking: { bookingId: 1, bookedOn: '2026-04-10', note: 'bay 2' },
      deferral: { deferralId: 1, untilOn: '2026-05-01', reason: 'parts on order' },
    });
    const outlooks = await store.outlooks(AS_OF.label);
    const later = { us: AS_OF.us + 1e9, label: '2026-03-17', on: '2026-03-17' };
    await store.saveAssessment({ asOf: later, lives: [], trends: [], outlooks, fleet: null }, 1, 'inputs-1');
    const earlier = (await app.inject('/api/ranking?as_of=2026-03-10')).json<Ranking>();
    expect(earlier.rows.filter((each) => each.booking !== null || each.deferral !== null)).toEqual([]);
  });
});

const columns =
  'as_of,rank,unit,depot,component,action,act_by,p_fail_to_next_visit,cost_now,cost_of_waiting,road_call_risk,reason,currency,position';

describe('the ranking as CSV', () => {
  it('is had by ?format=csv or Accept, as a download', async () => {
    const app = await appOver(await assessedStore());
    const asked = await app.inject('/api/ranking?format=csv');
    const accepted = await app.inject({ url: '/api/ranking', headers: { accept: 'text/csv' } });
    expect(asked.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(asked.headers['content-disposition']).toBe('attachment; filename="ranking-2026-03-10.csv"');
    expect(accepted.body).toBe(asked.body);
    expect(asked.body.split('\r\n')[0]).toBe(columns);
  });

  it('is safe to open in a spreadsheet: no text begins a formula, numbers stay numbers', async () => {
    const { body } = await (await appOver(await assessedStore())).inject('/api/ranking?format=csv');
    const rows = parse<Record<string, string>>(body, { columns: true });
    const units = new Set(rows.map((row) => row['unit']));
    for (const unit of ["'=cmd|' /C calc'!A0", "'+1", "'-", "'@a", 'ü/14 %', '../../x']) expect(units).toContain(unit);
    const waiting = rows.map((row) => row['cost_of_waiting']!);
    expect(waiting.some((each) => each.startsWith('-'))).toBe(true);
    for (const each of waiting) expect(each).toMatch(/^-?\d+\.\d\d$/);
    for (const row of rows)
      for (const [name, cell] of Object.entries(row))
        if (name !== 'cost_of_waiting') expect(cell).not.toMatch(/^[=+\-@\t\r]/);
  });

  it('of an empty store is its header', async () => {
    expect((await (await appOver(memoryStore())).inject('/api/ranking?format=csv')).body).toBe(`${columns}\r\n`);
  });
});

describe('the ranking as Arrow', () => {
  const headers = { accept: 'application/vnd.apache.arrow.stream' };

  it('holds the columns and rows of the CSV, numbers as numbers', async () => {
    const app = await appOver(await assessedStore());
    const table = tableFromIPC((await app.inject({ url: '/api/ranking', headers })).rawPayload);
    const rows = parse<Record<string, string>>((await app.inject('/api/ranking?format=csv')).body, { columns: true });
    expect(table.schema.fields.map(({ name }) => name)).toEqual(columns.split(','));
    expect([...table.getChild('cost_of_waiting')!]).toEqual(rows.map((row) => Number(row['cost_of_waiting'])));
    expect([...table.getChild('unit')!].map((unit: string) => unit.replace(/^(?=[=+\-@])/, "'"))).toEqual(
      rows.map((row) => row['unit']),
    );
  });

  it('of an empty store has no rows', async () => {
    const { rawPayload } = await (await appOver(memoryStore())).inject({ url: '/api/ranking', headers });
    expect(tableFromIPC(rawPayload).numRows).toBe(0);
  });
});

it('a unit that was computed anew alone stands under its own day in every table', async () => {
  const store = await assessedStore();
  const own = { us: AS_OF.us + 7 * US_PER_DAY, label: '2026-03-17', on: '2026-03-17' };
  const app = await appOver({ ...store, reassessed: async () => [{ unit: 'U1', asOf: own, computedUs: 1 }] });
  const rows = parse<Record<string, string>>((await app.inject('/api/ranking?format=csv')).body, { columns: true });
  expect(rows.length).toBeGreaterThan(2);
  for (const row of rows) expect(row['as_of']).toBe(row['unit'] === 'U1' ? '2026-03-17' : '2026-03-10');
  expect((await app.inject('/api/units/U1/outlook')).json<UnitOutlooks>().asOf).toBe('2026-03-17');
});

describe('the ETag', () => {
  it('saves sending what has not changed, and changes with settings, decisions and data', async () => {
    const store = await assessedStore();
    const app = await appOver(store);
    const etagNow = async () => String((await app.inject('/api/ranking')).headers['etag']);
    const first = await etagNow();
    expect(await etagNow()).toBe(first);
    const again = await app.inject({ url: '/api/ranking', headers: { 'if-none-match': `W/"x", ${first}` } });
    expect([again.statusCode, again.body]).toEqual([304, '']);

    await app.inject({ method: 'PUT', url: '/api/settings', payload: { roadCallMinor: 60_000 } });
    const afterSettings = await etagNow();
    const booking = { unit: 'U1', position: '', component: 'battery', bookedOn: '2026-04-10', note: '' };
    await app.inject({ method: 'POST', url: '/api/bookings', payload: booking });
    const afterBooking = await etagNow();
    store.contents.imports!.push(importRecord({ importId: 2 }));
    const afterLoad = await etagNow();
    expect(new Set([first, afterSettings, afterBooking, afterLoad]).size).toBe(4);
    const stale = await app.inject({ url: '/api/ranking', headers: { 'if-none-match': first } });
    expect(stale.statusCode).toBe(200);
  });

  it('tells CSV from JSON', async () => {
    const app = await appOver(await assessedStore());
    const [json, csv] = [await app.inject('/api/ranking'), await app.inject('/api/ranking?format=csv')];
    expect(json.headers['etag']).not.toBe(csv.headers['etag']);
  });
});
