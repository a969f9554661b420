/** Answers are kept until what they were made of changes, also where no file has come or gone. */
import { expect, it } from 'vitest';
import { RANKING_COLUMNS, RANKING_EXPORT } from '../../api/export/ranking-export.ts';
import { rankedDay } from '../../api/views/ranked-day.ts';
import { rankingBasis } from '../../api/views/ranking-basis.ts';
import { finishStale } from '../../etl/loading/finish-stale.ts';
import { asOf, dateUs } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';
import { appOver } from '../support/fleet-app.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { outlook } from '../support/outlooks.ts';
import { FAILED, IN_SERVICE, NOW, SAID, THEN } from '../support/twice-assessed.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const MORNING_US = dateUs('2026-03-02') + 6 * 3600e6;

const crank = async (store: Store, file: string, timeUs: number) =>
  imported(store, file, async (writer) => writer.measured('U1', '', measured({ timeUs, restVolts: 12.6 })));

async function registered(): Promise<Store> {
  const store = fresh.store();
  await imported(store, 'units.csv', async (writer) => writer.units(lined(unit({ unit: 'U1' }))));
  await crank(store, 'a.csv', MORNING_US);
  await finishStale(store);
  return store;
}

it('a page that is asked for while a load still finishes its cranks shows them once they are finished', async () => {
  const store = await registered();
  await store.saveAssessment({ asOf: NOW, lives: [], trends: [], outlooks: [outlook()], fleet: null }, 1, 'any');
  const app = await appOver(store);
  const counts = async () => ({
    cranks: (await app.inject('/api/units/U1/cranks')).json<{ cranks: unknown[] }>().cranks.length,
    page: (await app.inject('/api/units/U1')).json<{ crankCount: number }>().crankCount,
  });
  expect(await counts()).toEqual({ cranks: 1, page: 1 });
  await crank(store, 'b.csv', MORNING_US + 3600e6);
  expect(await counts()).toEqual({ cranks: 1, page: 1 });
  await finishStale(store);
  expect(await counts()).toEqual({ cranks: 2, page: 2 });
});

it('cranks of a day are those of the day in the time zone that is set', async () => {
  const store = await registered();
  const app = await appOver(store);
  const ofDay = async () =>
    (await app.inject('/api/units/U1/cranks?from=2026-03-01&to=2026-03-01')).json<{ cranks: unknown[] }>().cranks
      .length;
  expect(await ofDay()).toBe(0);
  await store.saveSettings({ timeZone: 'America/Los_Angeles' });
  expect(await ofDay()).toBe(1);
});

it('a ranking of a day that ends elsewhere in the time zone that is set now is told as outdated', async () => {
  const store = await registered();
  const inputs = await store.inputsVersion();
  await store.saveAssessment({ asOf: NOW, lives: [], trends: [], outlooks: [outlook()], fleet: null }, 1, inputs);
  const app = await appOver(store);
  const isStale = async () => (await app.inject('/api/ranking')).json<{ stale: boolean }>().stale;
  expect(await isStale()).toBe(false);
  await store.saveSettings({ timeZone: 'Pacific/Auckland' });
  expect(await isStale()).toBe(true);
});

it('an earlier day shows what became of a part since, also when one unit alone was computed anew', async () => {
  const store = await registered();
  const nothing = { trends: [], fleet: null };
  await store.saveAssessment({ ...nothing, asOf: THEN, lives: [IN_SERVICE], outlooks: [SAID] }, 1, 'any');
  const still = { ...IN_SERVICE, watchedToOn: NOW.on };
  await store.saveAssessment({ ...nothing, asOf: NOW, lives: [still], outlooks: [outlook()] }, 2, 'any');
  const app = await appOver(store);
  const since = async () =>
    (await app.inject(`/api/units/U1?as_of=${THEN.label}`))
      .json<{ since: { end: string }[] }>()
      .since.map(({ end }) => end);
  expect(await since()).toEqual(['in_service']);
  await store.saveReassessed(NOW.label, [{ unit: 'U1', asOf: NOW, lives: [FAILED], trends: [], outlooks: [] }], 3);
  expect(await since()).toEqual(['failure']);
});

it('once another day is the newest, page and export leave out what was decided after a day’s end', async () => {
  const store = await registered();
  const app = await appOver(store);
  const [inputs, nothing] = [await store.inputsVersion(), { lives: [], trends: [], fleet: null }];
  const job = { unit: 'U1', position: '', component: 'battery', bookedOn: '2026-03-20', note: '' } as const;
  await store.addBooking({ ...job, createdUs: NOW.us + 3600e6 });
  await store.saveAssessment({ ...nothing, asOf: NOW, outlooks: [outlook()] }, 1, inputs);
  await store.saveRanking(NOW.label, await rankingBasis(store), (await rankedDay(store, NOW, NOW.us + 7200e6)).rows);
  const question = { store, asOf: NOW, settings: await store.settings() };
  const exported = async (decidedUs: number) => {
    const reasons: unknown[] = [];
    const reason = RANKING_COLUMNS.findIndex(({ name }) => name === 'reason');
    for await (const cells of RANKING_EXPORT.rows({ ...question, decidedUs })) reasons.push(cells[reason]);
    return reasons;
  };
  expect(await exported(NOW.us + 7200e6)).toEqual([expect.stringContaining('booked job on 2026-03-20')]);
  await store.saveAssessment({ ...nothing, asOf: asOf('2026-03-11'), outlooks: [outlook()] }, 2, inputs);
  const page = (await app.inject(`/api/ranking?as_of=${NOW.label}`)).json<{ rows: { reason: string }[] }>();
  expect(page.rows.map(({ reason }) => reason)).toEqual([expect.stringContaining('assumed visit')]);
  expect(await exported(NOW.us)).toEqual(page.rows.map(({ reason }) => reason));
});

it('what an older program ranked is exported as ranked anew', async () => {
  const store = await registered();
  const nothing = { lives: [], trends: [], fleet: null };
  await store.saveAssessment({ ...nothing, asOf: NOW, outlooks: [outlook()] }, 1, await store.inputsVersion());
  const { rows } = await rankedDay(store, NOW, NOW.us);
  const old = rows.map((row) => ({ ...row, reason: 'by older rules' }));
  const reasons = async () => {
    const question = { store, asOf: NOW, settings: await store.settings(), decidedUs: NOW.us + 1 };
    const found: unknown[] = [];
    for await (const cells of RANKING_EXPORT.rows(question))
      found.push(cells[RANKING_COLUMNS.findIndex(({ name }) => name === 'reason')]);
    return found;
  };
  await store.saveRanking(NOW.label, await rankingBasis(store), old);
  expect(await reasons()).toEqual(['by older rules']);
  await store.saveRanking(NOW.label, await store.settingsVersion(), old);
  expect(await reasons()).toEqual(rows.map(({ reason }) => reason));
});

it('the ranking says how it stood before, also when the day before was ranked later', async () => {
  const store = await registered();
  const nothing = { lives: [], trends: [], fleet: null };
  const before = asOf('2026-03-09');
  const save = async (day: typeof before, atUs: number) =>
    store.saveAssessment({ ...nothing, asOf: day, outlooks: [outlook()] }, atUs, 'any');
  await save(before, 1);
  await save(NOW, 2);
  const app = await appOver(store);
  const rankBefore = async () =>
    (await app.inject('/api/ranking')).json<{ rows: { rankBefore: number | null }[] }>().rows[0]!.rankBefore;
  expect(await rankBefore()).toBe(null);
  const { rows } = (await app.inject('/api/ranking')).json<{ rows: never[] }>();
  await store.saveRanking(before.label, await rankingBasis(store), rows);
  expect(await rankBefore()).toBe(1);
});
