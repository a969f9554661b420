import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { standingAt } from '../../api/planning/known-decisions.ts';
import { rank, type RankQuestion } from '../../api/planning/rank.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { asOf } from '../../etl/model/time.ts';
import { exponentialSurvival, outlook, weibullSurvival } from '../support/outlooks.ts';
import { unit } from '../support/units.ts';

const question: RankQuestion = {
  asOf: asOf('2026-03-10'),
  outlooks: [],
  units: [unit({ unit: 'U1' }), unit({ unit: 'U2', depot: 'South' })],
  settings: DEFAULT_SETTINGS,
  bookings: [],
  shopVisits: [],
  deferrals: [],
};
const decision = { position: '', component: 'battery' as const, note: '', createdUs: 0, withdrawnUs: null };
const nothingKnown = { survival: null, meanLifeDays: null, basis: ['none'] as const, evidence: ['12 days of data'] };

describe('ranking', () => {
  it('of one battery with an exponential life of 300 days, by hand', () => {
    // Next visit assumed in 90 days: F = 1 − e^(−0.3) = 0.259182; service 300 × F = 77.755 days.
    // Waiting: 0.259182 × 1,171.00 − 410.00 × 77.755 / 1,200 = 303.502 − 26.566 = 276.94; pulling in costs 255.00.
    const [row] = rank({ ...question, outlooks: [outlook({ survival: exponentialSurvival(300) })] });
    expect(row).toMatchObject({
      rank: 1,
      unit: 'U1',
      depot: 'North',
      component: 'battery',
      action: 'book_now',
      actByOn: '2026-03-10',
      costNowMinor: 66_500,
      costOfWaitingMinor: 27_694,
      nextVisitOn: '2026-06-08',
      nextVisitFrom: 'assumed',
      reason:
        '26 % likely to fail before the assumed visit on 2026-06-08 (log sag ratio rising 0.21 a year): ' +
        'waiting would cost USD 277 on average, more than the USD 255 to pull it in.',
    });
    expect(row!.pFailToNextVisit).toBeCloseTo(0.259182, 6);
  });

  it('puts the highest cost of waiting first and refusals last, without figures', () => {
    const rows = rank({
      ...question,
      outlooks: [
        outlook({ unit: 'U1', ...nothingKnown }),
        outlook({ unit: 'U2', survival: exponentialSurvival(5000) }),
        outlook({ unit: 'U1', component: 'starter', survival: exponentialSurvival(200) }),
      ],
    });
    expect(rows.map((row) => [row.rank, row.unit, row.component])).toEqual([
      [1, 'U1', 'starter'],
      [2, 'U2', 'battery'],
      [3, 'U1', 'battery'],
    ]);
    expect(rows[2]).toMatchObject({
      action: 'measure_first',
      actByOn: null,
      pFailToNextVisit: null,
      costNowMinor: null,
      costOfWaitingMinor: null,
      roadCallRisk: null,
      reason: 'No forecast: 12 days of data. A test on the vehicle would tell.',
    });
  });

  it('combines the components of an engine into its road-call risk', () => {
    const rows = rank({
      ...question,
      outlooks: [
        outlook({ survival: exponentialSurvival(300) }),
        outlook({ component: 'starter', survival: exponentialSurvival(900) }),
      ],
    });
    // Hazards add: 1 − e^(−90/300 − 90/900) = 1 − e^(−0.4).
    for (const row of rows) expect(row.roadCallRisk).toBeCloseTo(1 - Math.exp(-0.4), 9);
  });

  it('breaks ties by road-call risk, then unit, position, component', () => {
    const same = exponentialSurvival(800);
    const rows = rank({
      ...question,
      outlooks: [
        outlook({ unit: 'U10', position: 'rear', survival: same }),
        outlook({ unit: 'U10', position: 'front', survival: same }),
        outlook({ unit: 'U02', survival: same }),
        outlook({ unit: 'U30', survival: same }),
        outlook({ unit: 'U30', component: 'starter', survival: exponentialSurvival(90_000) }),
      ],
    });
    expect(rows.map((row) => row.unit + row.position)).toEqual(['U30', 'U02', 'U10front', 'U10rear', 'U30']);
  });

  it('takes a booked job as the visit and shortens the wait', () => {
    const outlooks = [outlook({ survival: exponentialSurvival(300) })];
    const bookings = [{ ...decision, bookingId: 1, unit: 'U1', bookedOn: '2026-03-20' }];
    const [row] = rank({ ...question, outlooks, bookings });
    expect(row).toMatchObject({ nextVisitOn: '2026-03-20', nextVisitFrom: 'booked' });
    expect(row!.pFailToNextVisit).toBeCloseTo(1 - Math.exp(-10 / 300), 9);
  });

  it('ranks what is deferred where it belongs and says so', () => {
    const outlooks = [outlook({ survival: exponentialSurvival(300) })];
    const deferrals = [{ ...decision, deferralId: 1, unit: 'U1', untilOn: '2026-04-01', reason: 'parts on order' }];
    const [row] = rank({ ...question, outlooks, deferrals });
    expect(row!.rank).toBe(1);
    expect(row!.reason).toMatch(/ Deferred to 2026-04-01\.$/);
  });

  it('ranks a unit that is not in the register, without a depot', () => {
    const [row] = rank({ ...question, outlooks: [outlook({ unit: '../../x' })] });
    expect(row).toMatchObject({ unit: '../../x', depot: '' });
  });

  it('gives every action its reason', () => {
    const words = (known: Parameters<typeof outlook>[0]) => rank({ ...question, outlooks: [outlook(known)] })[0]!;
    const onAge = words({ survival: exponentialSurvival(300), basis: ['prior'] });
    expect([onAge.action, onAge.reason]).toEqual(['measure_first', expect.stringContaining('known by its age only')]);
    const middling = words({ survival: exponentialSurvival(700) });
    expect([middling.action, middling.reason]).toEqual([
      'book_at_next_visit',
      expect.stringContaining('less than the USD 255 to pull it in, so replace it then'),
    ]);
    const young = words({ survival: weibullSurvival(3, 1500, 30) });
    expect([young.action, young.reason]).toEqual(['leave', expect.stringContaining('would throw away USD')]);
    expect(young.reason).toMatch(/^under 1 % likely/);
  });

  it('does not depend on the order of its input, and numbers the rows from 1 without gap', () => {
    const one = fc.record({
      unit: fc.constantFrom('A', 'B', 'C', 'ü/14 %'),
      component: fc.constantFrom('battery' as const, 'starter' as const),
      survival: fc.double({ min: 50, max: 20_000, noNaN: true }).map(exponentialSurvival),
    });
    const many = fc.uniqueArray(one, { selector: (each) => each.unit + each.component, maxLength: 8 });
    fc.assert(
      fc.property(many, (each) => {
        const outlooks = each.map(outlook);
        const rows = rank({ ...question, outlooks });
        expect(rank({ ...question, outlooks: outlooks.toReversed() })).toEqual(rows);
        expect(rows.map((row) => row.rank)).toEqual(outlooks.map((_, index) => index + 1));
        const costs = rows.map((row) => row.costOfWaitingMinor!);
        expect(costs).toEqual(costs.toSorted((a, b) => b - a));
      }),
    );
  });
});

describe('decisions as known at an instant', () => {
  it('are those made and not withdrawn by then', () => {
    const made = { createdUs: 10, withdrawnUs: null };
    const withdrawn = { createdUs: 10, withdrawnUs: 20 };
    expect(standingAt([made, withdrawn], 9)).toEqual([]);
    expect(standingAt([made, withdrawn], 15)).toEqual([made, withdrawn]);
    expect(standingAt([made, withdrawn], 20)).toEqual([made]);
  });
});
