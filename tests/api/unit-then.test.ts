/** The unit's page moved back in time: what was said then, and what became of it since. */
import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import { Assessments } from '../../api/contract/assessments.ts';
import { UnitView, type PartSince } from '../../api/contract/unit.ts';
import { partsSince } from '../../api/views/since-view.ts';
import { appOver } from '../support/fleet-app.ts';
import { batteryLife } from '../support/service-lives.ts';
import { FAILED, IN_SERVICE, NOW, SAID, THEN, twiceAssessed } from '../support/twice-assessed.ts';

describe('a unit as known on an earlier day', () => {
  it('shows that day’s outlook and records, and what became of its parts since', async () => {
    const app = await appOver(await twiceAssessed());
    const view = (await app.inject('/api/units/U1?as_of=2026-01-10')).json<UnitView>();
    expect([...Value.Errors(UnitView, view)]).toEqual([]);
    expect(view).toMatchObject({ asOfOn: '2026-01-10', newestOn: '2026-03-10', newestAsOf: '2026-03-10' });
    expect(view.outlooks.map(({ windowEarlyOn }) => windowEarlyOn)).toEqual(['2026-01-21']);
    expect(new Set(view.workOrders.map((order) => order.workOrder))).toEqual(new Set(['W/8']));
    // The cranks of the fleet come from March on.
    expect(view.crankCount).toBe(0);
    const [since] = view.since;
    expect(since).toMatchObject({ component: 'battery', end: 'failure', on: '2026-02-19', days: 40, workOrder: 'W/9' });
    expect(since!.window).toBe('inside');
    // Exponential life of 100 days: 1 − e^(−0.4).
    expect(since!.pFailByThen).toBeCloseTo(1 - Math.exp(-0.4), 6);
  });

  it('on the newest day has nothing since, and lists what the backtest said of this unit alone, newest first', async () => {
    const view = (await (await appOver(await twiceAssessed())).inject('/api/units/U1')).json<UnitView>();
    expect(view.since).toEqual([]);
    expect(view.pastForecasts.map(({ unit, asOfOn, pFail }) => [unit, asOfOn, pFail])).toEqual([
      ['U1', '2025-09-01', 0.3],
      ['U1', '2025-08-01', 0.2],
    ]);
    expect(view.pastHorizonDays).toBe(90);
  });

  it('says how a day that was not assessed can be', async () => {
    const response = await (await appOver(await twiceAssessed())).inject('/api/units/U1?as_of=2026-02-01');
    expect(response.statusCode).toBe(404);
    expect(response.json()).toMatchObject({ remedy: 'Run: npm run -s cli -- assess --as-of 2026-02-01' });
  });

  it('the assessed days are listed, the newest first', async () => {
    const answer = (await (await appOver(await twiceAssessed())).inject('/api/assessments')).json<Assessments>();
    expect([...Value.Errors(Assessments, answer)]).toEqual([]);
    expect(answer.days.map((day) => day.asOf)).toEqual(['2026-03-10', '2026-01-10']);
  });
});

describe('what became of a part', () => {
  const since = (now: Parameters<typeof partsSince>[1], of = SAID): PartSince =>
    partsSince({ outlooks: [of], lives: [IN_SERVICE] }, now, { said: THEN, known: NOW })[0]!;

  it.each([
    [{ windowEarlyOn: '2026-02-20' }, 'before'],
    [{ windowEarlyOn: '2026-02-19' }, 'inside'],
    [{ windowEarlyOn: '2026-01-11', windowLateOn: '2026-02-19' }, 'inside'],
    [{ windowEarlyOn: '2026-01-11', windowLateOn: '2026-02-18' }, 'after'],
    [{ windowEarlyOn: null, windowLateOn: null }, 'before'],
  ] as const)('a failure against the window %o fell %s', (window, place) => {
    expect(since([FAILED], { ...SAID, ...window }).window).toBe(place);
  });

  it('a planned replacement is no failure, and has no place in the window', () => {
    expect(since([{ ...FAILED, end: 'planned' }])).toMatchObject({ end: 'planned', days: 40, window: null });
  });

  it('a part that is still in service is followed to the newest day', () => {
    const still = { ...IN_SERVICE, watchedToOn: '2026-03-10' };
    expect(since([still])).toMatchObject({ end: 'in_service', on: '2026-03-10', days: 59, workOrder: '' });
  });

  it('one that had already gone, entered later, is told so; one that no record names any more is lost', () => {
    const before = { ...FAILED, removedOn: '2026-01-02', watchedToOn: '2026-01-02' };
    const after = batteryLife({ fittedOn: '2026-01-02', watchedFromOn: '2026-01-02', watchedToOn: '2026-03-10' });
    expect(since([before, after])).toMatchObject({ end: 'gone', pFailByThen: null });
    expect(since([])).toMatchObject({ end: 'lost', pFailByThen: null });
  });
});
