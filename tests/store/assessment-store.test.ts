import { describe, expect, it } from 'vitest';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import { asOf } from '../../etl/model/time.ts';
import type { Trend } from '../../etl/model/trend.ts';
import { connect } from '../../etl/store/connection.ts';
import type { Assessment, RankedRow } from '../../etl/store/store.ts';
import { freshStore } from '../support/open-stores.ts';
import { outlook } from '../support/outlooks.ts';

const fresh = freshStore();

const life = (known: Partial<ServiceLife> = {}): ServiceLife => ({
  unit: 'U1',
  position: '',
  component: 'battery',
  fittedOn: null,
  fittedFrom: 'assumed',
  removedOn: '2025-03-01',
  end: 'failure',
  watchedFromOn: '2024-01-01',
  watchedToOn: '2025-03-01',
  workOrder: 'W1',
  ...known,
});
const trend = (known: Partial<Trend> = {}): Trend => ({
  unit: 'U1',
  position: '',
  component: 'battery',
  indicator: 'log_sag_ratio',
  level: -0.42,
  slopePerYear: 0.1 + 0.2,
  slopeLow: 0.1,
  slopeHigh: 0.5,
  senSlopePerYear: 0.29,
  pValue: 1e-12,
  n: 210,
  sinceOn: '2024-01-01',
  residual: 0.03,
  standing: 'ok',
  ...known,
});
const unknown = { level: null, slopePerYear: null, slopeLow: null, slopeHigh: null, senSlopePerYear: null };
const silent = trend({
  ...unknown,
  unit: 'U2',
  pValue: null,
  sinceOn: null,
  residual: null,
  n: 0,
  standing: 'logger_silent',
});
const ranked = (known: Partial<RankedRow> = {}): RankedRow => ({
  rank: 1,
  unit: 'U1',
  position: '',
  depot: 'North',
  component: 'battery',
  action: 'book_now',
  actByOn: '2026-07-01',
  pFailToNextVisit: 0.31,
  costNowMinor: 32_000,
  costOfWaitingMinor: 51_200,
  roadCallRisk: 0.3,
  nextVisitOn: '2026-08-01',
  nextVisitFrom: 'assumed',
  reason: 'log sag ratio rising',
  ...known,
});

function assessment(label: string, known: Partial<Assessment> = {}): Assessment {
  return {
    asOf: asOf(label),
    lives: [life(), life({ unit: 'U2', position: 'left', component: 'starter', fittedOn: '2025-01-01' })],
    trends: [trend(), silent],
    outlooks: [
      outlook({ unit: 'U2', windowEarlyOn: '2026-07-01', windowMidOn: '2027-01-01' }),
      outlook({
        survival: null,
        pFail30d: null,
        pFail60d: null,
        pFail90d: null,
        ageDays: null,
        meanLifeDays: null,
        basis: ['none'],
      }),
    ],
    fleet: { classes: { van: { shape: 2.5 } } },
    ...known,
  };
}

describe('an assessment', () => {
  it('comes back as it was saved: rows in their order, curves to the last digit, what is unknown as null', async () => {
    const store = fresh.store();
    const saved = assessment('2026-06-01');
    await store.saveAssessment(saved, 1.75e15, 'inputs-1');
    expect(await store.assessments()).toEqual([
      { asOf: saved.asOf, computedUs: 1.75e15, inputs: 'inputs-1', reassessedUs: null, rankingBasis: null },
    ]);
    expect(await store.lives('2026-06-01')).toEqual(saved.lives);
    expect(await store.trends('2026-06-01')).toEqual(saved.trends);
    expect(await store.outlooks('2026-06-01')).toEqual(saved.outlooks);
    expect(await store.fleet('2026-06-01')).toEqual(saved.fleet);
    expect(await store.lives('2026-06-01', 'U2')).toEqual([saved.lives[1]]);
    expect(await store.trends('2026-06-01', 'U2')).toEqual([silent]);
    expect(await store.outlooks('2026-06-01', 'U1')).toEqual([saved.outlooks[1]]);
  });

  it('stands beside those of other days, newest first', async () => {
    const store = fresh.store();
    for (const label of ['2026-05-01', '2026-06-01T12:00:00Z', '2026-04-01', '2026-06-01'])
      await store.saveAssessment(assessment(label), 1, 'i');
    const labels = (await store.assessments()).map((each) => each.asOf.label);
    expect(labels).toEqual(['2026-06-01', '2026-06-01T12:00:00Z', '2026-05-01', '2026-04-01']);
  });

  it('replaces the former one of its day at once, ranking and all', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    const many = Array.from({ length: 12_000 }, (_, index) => life({ unit: `U${index}` }));
    await store.saveAssessment(assessment('2026-06-01', { lives: many }), 1, 'one');
    await store.saveRanking('2026-06-01', 'settings-1', [ranked()]);
    await store.saveAssessment(assessment('2026-06-01', { fleet: null }), 2, 'two');
    expect((await other.assessments()).map(({ inputs }) => inputs)).toEqual(['two']);
    expect(await other.lives('2026-06-01')).toEqual(assessment('2026-06-01').lives);
    expect([await other.fleet('2026-06-01'), await other.ranking('2026-06-01')]).toEqual([null, null]);
    const { sqlite } = connect(store.path, 'reader');
    expect(sqlite.prepare('select count(*) from lives').pluck().get()).toBe(2);
    sqlite.close();
  });

  it('left half saved by a process that is gone is not seen, and swept', async () => {
    const store = fresh.store();
    await store.saveAssessment(assessment('2026-06-01'), 1, 'i');
    const { sqlite } = connect(store.path, 'writer');
    sqlite.prepare(`update assessments set state = 'saving', saver = '1 1 another-boot'`).run();
    expect(await store.assessments()).toEqual([]);
    await fresh.another();
    expect(sqlite.prepare('select count(*) from assessments').pluck().get()).toBe(0);
    sqlite.close();
  });

  it('of a day that was not assessed is refused by name', async () => {
    const store = fresh.store();
    const refusal = 'an as-of requires a date that was assessed, got 2026-01-01 (store)';
    for (const part of ['lives', 'trends', 'outlooks', 'fleet', 'ranking'] as const)
      await expect(store[part]('2026-01-01')).rejects.toThrow(refusal);
    await expect(store.saveRanking('2026-01-01', 's', [])).rejects.toThrow(refusal);
  });
});

describe('a ranking', () => {
  it('comes back with the settings it was made under, and gives way to the next', async () => {
    const store = fresh.store();
    await store.saveAssessment(assessment('2026-06-01'), 1, 'i');
    expect(await store.ranking('2026-06-01')).toBeNull();
    const rows = [
      ranked(),
      ranked({ rank: 2, unit: 'U2', position: 'left', action: 'leave', actByOn: null, pFailToNextVisit: null }),
    ];
    await store.saveRanking('2026-06-01', 'settings-1', rows);
    expect(await store.ranking('2026-06-01')).toEqual({ basis: 'settings-1', rows });
    await store.saveRanking('2026-06-01', 'settings-2', []);
    expect(await store.ranking('2026-06-01')).toEqual({ basis: 'settings-2', rows: [] });
  });
});
