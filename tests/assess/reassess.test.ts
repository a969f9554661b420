import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Value } from 'typebox/value';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { assessAndRank, newestDay } from '../../api/assess-and-rank.ts';
import { UnitView } from '../../api/contract/unit.ts';
import { OUTLOOK_EXPORT, TREND_EXPORT } from '../../api/export/assessed-exports.ts';
import { rankingBasis } from '../../api/views/ranking-basis.ts';
import { RANKING_EXPORT } from '../../api/export/ranking-export.ts';
import { reassessAndRank } from '../../api/reassess-and-rank.ts';
import { rankedDay } from '../../api/views/ranked-day.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf, isoInstant } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { appOver } from '../support/fleet-app.ts';

const NOW_US = asOf('2026-11-03').us;
const LATER_US = NOW_US + 60e6;
const DAY = '2026-10-31';

let folder = '';
let opened: Store[] = [];
afterAll(async () => {
  for (const store of opened) store.close();
  opened = [];
  await rm(folder, { recursive: true, force: true });
});

/** A fleet that is loaded, assessed and ranked, copied for each test. */
let whole = '';
beforeEach(async () => {
  if (folder !== '') return;
  folder = await mkdtemp(join(tmpdir(), 'reassess-'));
  await simulateFleet({ units: 40, days: 400, seed: 12, out: join(folder, 'fleet'), waveformShare: 0 });
  whole = join(folder, 'whole.sqlite');
  const store = await openStore(whole);
  await loadPaths(store, [join(folder, 'fleet')], { nowUs: NOW_US });
  await assessAndRank(store, await newestDay(store, NOW_US), { nowUs: NOW_US });
  store.close();
});

async function fresh(name: string): Promise<Store> {
  const path = join(folder, `${name}.sqlite`);
  const from = await openStore(whole);
  await from.backup(path);
  from.close();
  const store = await openStore(path);
  opened.push(store);
  return store;
}

async function found(store: Store) {
  return {
    lives: await store.lives(DAY),
    trends: await store.trends(DAY),
    outlooks: await store.outlooks(DAY),
    ranking: await store.ranking(DAY),
  };
}

const unitsOf = async (store: Store) => (await store.units()).map(({ unit }) => unit);
const header = 'unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,temp_c';
/** Starts of a battery that hardly turns the engine any more, two a day. */
const weakStarts = (unit: string, days: readonly string[]) =>
  [header, ...days.flatMap((on) => ['06', '14'].map((hour) => `${unit},${on}T${hour}:00:00Z,11.6,6.1,7.4,3.1,2`))].join(
    '\n',
  );

describe('units assessed anew', () => {
  it('with the same data come out as in the run of the fleet, to the last digit', async () => {
    const store = await fresh('same');
    const before = await found(store);
    expect(before.outlooks.filter(({ survival }) => survival !== null).length).toBeGreaterThan(60);
    expect(before.lives.some(({ end }) => end === 'failure')).toBe(true);
    await reassessAndRank(store, await unitsOf(store), LATER_US);
    expect(await found(store)).toEqual(before);
  });

  it('a unit that has left service goes from the stored ranking too', async () => {
    const store = await fresh('left');
    const [gone] = await unitsOf(store);
    const register = (await store.units()).find(({ unit }) => unit === gone)!;
    const row = [
      gone,
      register.depot,
      register.class,
      register.systemVolts,
      register.batteryCount,
      register.batteryCcaA,
    ];
    const file = join(folder, 'left.csv');
    const columns = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders,out_of_service_date,entered';
    await writeFile(
      file,
      `${columns}\n${[...row, register.cylinders, '2026-10-01', '2026-10-02T00:00:00Z'].join(',')}\n`,
    );
    await loadPaths(store, [file], { nowUs: NOW_US });
    const before = (await store.ranking(DAY))!.rows;
    await reassessAndRank(store, [gone!], LATER_US);
    expect(await store.outlooks(DAY, gone)).toEqual([]);
    const { rows } = (await store.ranking(DAY))!;
    expect(rows.map(({ unit, component }) => [unit, component])).toEqual(
      before.flatMap(({ unit, component }) => (unit === gone ? [] : [[unit, component]])),
    );
    expect(rows.map(({ rank }) => rank)).toEqual(rows.map((_, index) => index + 1));
  });

  it('say as of when, and under whose parameters', async () => {
    const store = await fresh('told');
    const [unit] = await unitsOf(store);
    const summary = await reassessAndRank(store, [unit!, unit!], LATER_US);
    expect(summary).toMatchObject({ asOf: DAY, parametersUs: NOW_US, units: [{ unit, asOf: DAY }] });
    expect(await store.reassessed(DAY)).toEqual([{ unit, asOf: asOf(DAY), computedUs: LATER_US }]);
    expect((await store.assessments())[0]).toMatchObject({ computedUs: NOW_US, reassessedUs: LATER_US });
    await assessAndRank(store, asOf(DAY), { nowUs: LATER_US });
    expect(await store.reassessed(DAY)).toEqual([]);
    expect((await store.assessments())[0]).toMatchObject({ computedUs: LATER_US, reassessedUs: null });
  });

  it('with new cranks after the day look ahead from their own newest day; all others stay as they were', async () => {
    const store = await fresh('later');
    const unit = (await unitsOf(store))[7]!;
    const before = await found(store);
    const file = join(folder, 'later.csv');
    await writeFile(file, weakStarts(unit, ['2026-11-01', '2026-11-02']));
    await loadPaths(store, [file], { nowUs: LATER_US });
    const summary = await reassessAndRank(store, [unit], LATER_US);
    expect(summary.units).toMatchObject([{ unit, asOf: '2026-11-02' }]);
    const after = await found(store);
    const others = <Row extends { unit: string }>(rows: readonly Row[]) => rows.filter((row) => row.unit !== unit);
    expect(others(after.outlooks)).toEqual(others(before.outlooks));
    expect(others(after.trends)).toEqual(others(before.trends));
    expect(others(after.lives)).toEqual(others(before.lives));
    const own = after.lives.filter((life) => life.unit === unit && life.end === 'in_service');
    expect(own.map(({ watchedToOn }) => watchedToOn)).toEqual(own.map(() => '2026-11-02'));
    expect(after.outlooks.filter((row) => row.unit === unit)).not.toEqual(
      before.outlooks.filter((row) => row.unit === unit),
    );
  });

  it('are told on their page and in exports, with their own day', async () => {
    const store = await fresh('page');
    const unit = (await unitsOf(store))[7]!;
    const app = await appOver(store);
    const page = async () => (await app.inject(`/api/units/${unit}`)).json<UnitView>();
    expect(await page()).toMatchObject({ asOf: DAY, asOfOn: DAY, reassessed: null });
    const file = join(folder, 'page.csv');
    await writeFile(file, weakStarts(unit, ['2026-11-01', '2026-11-02']));
    await loadPaths(store, [file], { nowUs: LATER_US });
    await reassessAndRank(store, [unit], LATER_US);
    const after = await page();
    const reassessed = { at: isoInstant(LATER_US), parametersAt: isoInstant(NOW_US) };
    expect(after).toMatchObject({ asOf: DAY, asOfOn: '2026-11-02', reassessed });
    expect([...Value.Errors(UnitView, after)]).toEqual([]);
    expect(after.trends.length).toBeGreaterThan(0);
    const context = { store, asOf: asOf(DAY), settings: await store.settings(), decidedUs: LATER_US };
    for (const table of [OUTLOOK_EXPORT, TREND_EXPORT, RANKING_EXPORT]) {
      const at = table.columns.findIndex(({ name }) => name === 'unit');
      const days = new Map<unknown, unknown>();
      for await (const row of table.rows(context)) days.set(row[at], row[0]);
      expect([days.get(unit), new Set(days.values())]).toEqual(['2026-11-02', new Set([DAY, '2026-11-02'])]);
    }
    await app.close();
  });

  it('stand in the ranking where a ranking of all would have them, numbered without a gap', async () => {
    const store = await fresh('ranked');
    const units = (await unitsOf(store)).slice(3, 20);
    const file = join(folder, 'ranked.csv');
    await writeFile(
      file,
      units
        .map((unit) => weakStarts(unit, ['2026-11-01']))
        .join('\n')
        .replaceAll(`\n${header}`, ''),
    );
    await loadPaths(store, [file], { nowUs: LATER_US });
    const before = (await store.ranking(DAY))!;
    for (const unit of units) await reassessAndRank(store, [unit], LATER_US);
    const after = (await store.ranking(DAY))!;
    expect(after).not.toEqual(before);
    expect(after.rows.map(({ rank }) => rank)).toEqual(after.rows.map((_, at) => at + 1));
    expect(after.rows).toEqual((await rankedDay(store, asOf(DAY), LATER_US)).rows);
    expect(after.basis).toBe(before.basis);
  });

  it('are ranked with all others anew where settings have changed since', async () => {
    const store = await fresh('settings');
    const [unit] = await unitsOf(store);
    await store.saveSettings({ assumedVisitDays: 45 });
    await reassessAndRank(store, [unit!], LATER_US);
    const { rows, basis } = (await store.ranking(DAY))!;
    expect(basis).toBe(await rankingBasis(store));
    expect(rows).toEqual((await rankedDay(store, asOf(DAY), LATER_US)).rows);
  });

  it('take up how a person says that a record is to be read', async () => {
    const store = await fresh('corrected');
    const failed = (await store.lives(DAY)).find(({ end, workOrder }) => end === 'failure' && workOrder !== '')!;
    const { unit, workOrder } = failed;
    await store.correctReading({
      unit,
      workOrder,
      readings: [{ component: 'none', event: 'unrelated', unplanned: false, position: '' }],
      createdUs: LATER_US,
    });
    await reassessAndRank(store, [unit], LATER_US);
    expect((await store.lives(DAY, unit)).map((life) => life.workOrder)).not.toContain(workOrder);
  });

  it('follow a correction that is made on the page, and its being taken back', async () => {
    const store = await fresh('on-the-page');
    const { unit, workOrder } = (await store.lives(DAY)).find(
      (life) => life.end === 'failure' && life.workOrder !== '',
    )!;
    const before = await found(store);
    const app = await appOver(store);
    const url = `/api/work-orders/${encodeURIComponent(unit)}/${encodeURIComponent(workOrder)}/reading`;
    const payload = { readings: [{ component: 'none', event: 'unrelated', unplanned: false, position: '' }] };
    const made = await app.inject({ method: 'POST', url, payload });
    expect(made.json()).toMatchObject({
      takesEffect: expect.stringContaining(`lives and forecasts of ${unit} follow`),
    });
    expect((await store.lives(DAY, unit)).map((life) => life.workOrder)).not.toContain(workOrder);
    expect((await app.inject({ method: 'DELETE', url })).statusCode).toBe(204);
    expect(await found(store)).toEqual(before);
    await app.close();
  });

  it('are refused aloud where there is nothing to go by', async () => {
    const store = await fresh('refused');
    await expect(reassessAndRank(store, ['NO-SUCH'], LATER_US)).rejects.toThrow(
      'assess --unit requires a unit that was loaded, got NO-SUCH (--unit)',
    );
    const empty = await openStore(join(folder, 'empty.sqlite'));
    opened.push(empty);
    await expect(reassessAndRank(empty, ['U-1'], LATER_US)).rejects.toThrow(
      'assess --unit requires an assessment of the fleet, got none (--unit): run assess first',
    );
    await store.saveAssessment({ asOf: asOf(DAY), lives: [], trends: [], outlooks: [], fleet: { slopes: {} } }, 1, '');
    await expect(reassessAndRank(store, (await unitsOf(store)).slice(0, 1), LATER_US)).rejects.toThrow(
      `assess --unit requires an assessment by this version, got the one of ${DAY} by an older (--unit): run assess`,
    );
  });
});
