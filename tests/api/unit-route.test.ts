import { tableFromIPC } from 'apache-arrow';
import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import { Cranks } from '../../api/contract/crank.ts';
import { UnitOutlooks, UnitView } from '../../api/contract/unit.ts';
import { appOver, assessedStore, AWKWARD_UNITS, awkwardFleet, importRecord } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

const address = (unit: string) => `/api/units/${encodeURIComponent(unit)}`;

describe('GET /api/units/{unit}', () => {
  it.each(['U1', ...AWKWARD_UNITS])('answers by its schema for a unit numbered %s', async (unit) => {
    const response = await (await appOver(await assessedStore())).inject(address(unit));
    expect(response.statusCode).toBe(200);
    const view = response.json<UnitView>();
    expect([...Value.Errors(UnitView, view)]).toEqual([]);
    expect(view).toMatchObject({ unit, depot: 'North', crankCount: 5, lastCrankAt: '2026-03-10T00:00:00.123456Z' });
    expect(view.ranking.map((row) => row.component)).toEqual(['battery', 'starter']);
    expect(view.cautions.length).toBeGreaterThan(5);
  });

  it('shows a unit whose rows wait for the register', async () => {
    const contents = { ...awkwardFleet(), units: [] };
    const view = (await (await appOver(await assessedStore(contents))).inject(address('U1'))).json<UnitView>();
    expect(view).toMatchObject({ register: [], depot: '', crankCount: 5, ranking: [] });
  });

  it('says 404 and what to do for a number that was never loaded', async () => {
    const response = await (await appOver(await assessedStore())).inject(address('nobody'));
    expect(response.statusCode).toBe(404);
    expect(response.headers['content-type']).toBe('application/problem+json');
    expect(response.json()).toEqual({
      type: 'about:blank',
      title: 'Not Found',
      status: 404,
      detail: 'unit requires a number that was loaded, got nobody',
      remedy: 'Look it up in the ranking, or load its register row and logs.',
    });
  });

  it('says 409 and what to run while nothing is assessed', async () => {
    const response = await (await appOver(memoryStore(awkwardFleet()))).inject(address('U1'));
    expect(response.statusCode).toBe(409);
    expect(response.json()).toMatchObject({ remedy: 'Run: npm run -s cli -- assess' });
  });

  it('says what to measure next where the battery is due, with values and sources', async () => {
    const { measureNext } = (await (await appOver(await assessedStore())).inject(address('U1'))).json<UnitView>();
    expect(measureNext[0]).toMatchObject({ test: 'open_circuit_voltage', source: 'TM 5-3805-262-20 p. 5-142' });
    expect(measureNext.every(({ why, expected, source }) => why !== '' && expected !== '' && source !== '')).toBe(true);
  });

  it('gives its forecasts alone', async () => {
    const answer = (
      await (await appOver(await assessedStore())).inject(`${address('ü/14 %')}/outlook`)
    ).json<UnitOutlooks>();
    expect([...Value.Errors(UnitOutlooks, answer)]).toEqual([]);
    expect(answer.outlooks.map((each) => each.component)).toEqual(['battery', 'starter']);
    expect(answer.outlooks[0]!.survival.length).toBe(answer.outlooks[0]!.survivalDays.length);
  });
});

describe('GET /api/units/{unit}/cranks', () => {
  it('answers rows by its schema, words for indexes, null for unknown', async () => {
    const app = await appOver(await assessedStore());
    const answer = (await app.inject(`${address('../../x')}/cranks`)).json<Cranks>();
    expect([...Value.Errors(Cranks, answer)]).toEqual([]);
    expect(answer.cranks).toHaveLength(5);
    expect(answer.cranks[4]).toMatchObject({
      id: '2-1773100800123456',
      at: '2026-03-10T00:00:00.123456Z',
      source: 'cranks',
      restVolts: 12.6,
      crankVolts: null,
      pattern: 'steady',
      startId: '2026-03-10T00:00:00.123456Z',
      file: 'cranks.csv',
      line: 6,
    });
  });

  it('filters by day, both included, and by position', async () => {
    const app = await appOver(await assessedStore());
    const days = async (query: string) =>
      (await app.inject(`${address('U1')}/cranks?${query}`)).json<Cranks>().cranks.map(({ at }) => at.slice(0, 10));
    expect(await days('from=2026-03-07&to=2026-03-08')).toEqual(['2026-03-07', '2026-03-08']);
    expect(await days('from=2026-03-09T12:00:00Z')).toEqual(['2026-03-10']);
    expect(await days('position=left')).toEqual([]);
    const wrong = await app.inject(`${address('U1')}/cranks?from=yesterday`);
    expect([wrong.statusCode, wrong.json<{ detail: string }>().detail]).toEqual([
      400,
      'from requires a date YYYY-MM-DD or an instant with zone, got yesterday (query)',
    ]);
  });

  it('answers the same as an Arrow stream', async () => {
    const app = await appOver(await assessedStore());
    const headers = { accept: 'application/vnd.apache.arrow.stream' };
    const response = await app.inject({ url: `${address('U1')}/cranks`, headers });
    expect(response.headers['content-type']).toBe('application/vnd.apache.arrow.stream');
    const table = tableFromIPC(response.rawPayload);
    expect(table.numRows).toBe(5);
    expect(table.getChild('rest_volts')!.get(0)).toBe(12.6);
    expect(table.getChild('crank_volts')!.get(0)).toBeNull();
    expect(table.getChild('pattern')!.get(0)).toBe('steady');
    // The column is integer microseconds: read as stored, not through the library's milliseconds.
    expect(table.getChild('time')!.data[0]!.values[4]).toBe(1_773_100_800_123_456n);
  });

  it('so do its forecasts, with the columns of the export', async () => {
    const app = await appOver(await assessedStore());
    const headers = { accept: 'application/vnd.apache.arrow.stream' };
    const table = tableFromIPC((await app.inject({ url: `${address('U1')}/outlook`, headers })).rawPayload);
    const { outlooks } = (await app.inject(`${address('U1')}/outlook`)).json<UnitOutlooks>();
    expect(table.schema.fields.map(({ name }) => name).slice(0, 5)).toEqual([
      'as_of',
      'unit',
      'component',
      'age_days',
      'p_fail_30d',
    ]);
    expect([...table.getChild('component')!]).toEqual(outlooks.map(({ component }) => component));
    expect([...table.getChild('p_fail_90d')!]).toEqual(outlooks.map(({ pFail90d }) => pFail90d));
  });
});

describe('GET /api/imports and /healthz', () => {
  it('list what was loaded and what waits', async () => {
    const store = memoryStore({ imports: [importRecord({ setAside: 2 })], waiting: [{ unit: 'X9', rows: 12 }] });
    const answer = (await (await appOver(store, 'sample')).inject('/api/imports')).json();
    expect(answer).toMatchObject({
      store: 'sample',
      imports: [{ importId: 1, file: 'cranks.csv', taken: 3, setAside: 2, loadedAt: '2026-03-11T00:00:00Z' }],
      waiting: [{ unit: 'X9', rows: 12 }],
    });
  });

  it('say ready, or why not', async () => {
    const health = async (store: ReturnType<typeof memoryStore>) => {
      const response = await (await appOver(store)).inject('/healthz');
      return [response.statusCode, response.json<{ why: string }>().why];
    };
    expect(await health(memoryStore())).toEqual([503, 'no data: nothing has been loaded']);
    expect(await health(memoryStore(awkwardFleet()))).toEqual([503, 'not assessed: data are loaded, run assess']);
    expect(await health(await assessedStore())).toEqual([200, '']);
  });
});
