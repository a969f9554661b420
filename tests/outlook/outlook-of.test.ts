import { describe, expect, it } from 'vitest';
import { failureProbability, SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { combinedSurvival, windowDate } from '../../etl/outlook/combine.ts';
import { fitLifeModels } from '../../etl/outlook/life-model.ts';
import { outlookOf, refusedOutlook, type OutlookInput } from '../../etl/outlook/outlook-of.ts';
import { fitWearModel, lastLevel, wearSurvival, type PathOfLife } from '../../etl/outlook/wear-model.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { batteryLife } from '../support/service-lives.ts';

/** Paths that drift at a pace of their own and fail near a level of 4; half of them healthy. */
function paths(count: number, seed: number): PathOfLife[] {
  const random = createRandom(seed, 'paths');
  return Array.from({ length: count }, (_, index) => {
    const pace = index % 2 === 0 ? 0.006 + 0.001 * random.normal() : 0;
    const day: number[] = [];
    const value: number[] = [];
    let level = 0.3 * random.normal();
    let failed = false;
    for (let k = 0; k < 34 && !failed; k++) {
      day.push(20_000 + 21 * k);
      value.push(level);
      failed = level > 4 + 0.3 * random.normal();
      level += 21 * pace + 0.15 * random.normal();
    }
    return { path: { day: Float64Array.from(day), value: Float64Array.from(value) }, failed };
  });
}

/** What is usual for the class; distances are given, so that the spread plays no part. */
const usual = (level: number) => ({ level, spread: 1, ofClass: true });

describe('wear', () => {
  const lives = paths(60, 1);
  const model = fitWearModel(lives)!;

  it('expects as many failures, looking back, as there were', () => {
    const failures = lives.filter(({ failed }) => failed).length;
    let expected = 0;
    for (const { path, failed } of lives)
      for (let k = 2; k < path.day.length; k += 3) {
        const soFar = { day: path.day.subarray(0, k + 1), value: path.value.subarray(0, k + 1) };
        const fails = failed && k + 3 >= path.day.length;
        const days = fails ? 63 : Math.min(63, path.day.at(-1)! - path.day[k]! + 21);
        expected += failureProbability(wearSurvival(soFar, model), days);
      }
    expect(expected).toBeGreaterThan(0.6 * failures * (1 - model.suddenShare));
    expect(expected).toBeLessThan(1.5 * failures);
  });

  it('puts a path that climbs above one that does not', () => {
    const climbing = lives.find(({ failed }) => failed)!.path;
    const level = lives.find(({ failed, path }) => !failed && lastLevel(path) < 1)!.path;
    expect(failureProbability(wearSurvival(climbing, model), 90)).toBeGreaterThan(
      10 * failureProbability(wearSurvival(level, model), 90),
    );
  });

  it('never goes up again', () => {
    for (const { path } of lives.slice(0, 10)) {
      const survival = wearSurvival(path, model);
      for (let k = 1; k < survival.length; k++) expect(survival[k]).toBeLessThanOrEqual(survival[k - 1]! + 1e-12);
    }
  });

  it('is refused with fewer than five paths', () => {
    expect(fitWearModel(lives.slice(0, 4))).toBeNull();
  });
});

describe('combination', () => {
  const life = Float64Array.from(SURVIVAL_DAYS, (t) => Math.exp(-t / 1000));
  const perfect = new Float64Array(SURVIVAL_DAYS.length).fill(1);

  it('without condition is the life model', () => {
    const all = combinedSurvival({ life, wear: null, suddenShare: 0.25, trust: 0 });
    all.forEach((value, k) => expect(value).toBeCloseTo(life[k]!, 12));
  });

  it('keeps sudden failures possible, however well the part looks', () => {
    const best = combinedSurvival({ life, wear: perfect, suddenShare: 0.25, trust: 1 });
    SURVIVAL_DAYS.forEach((t, k) => expect(best[k]).toBeCloseTo(Math.exp((-0.25 * t) / 1000), 12));
  });

  it('gives the dates of 10, 50 and 90 % (exponential, worked by hand: 105, 693, 2303 days)', () => {
    expect(windowDate(life, 0.1, 0)).toBe('1970-04-16');
    expect(windowDate(life, 0.5, 0)).toBe('1971-11-25');
    expect(windowDate(life, 0.9, 0)).toBeNull(); // past five years
  });
});

const input = (more: Partial<OutlookInput> = {}): OutlookInput => ({
  unit: 'U1',
  position: '',
  component: 'battery',
  class: 'van',
  life: batteryLife(),
  unitInServiceOn: '2015-01-01',
  model: fitLifeModels([]).battery['']!,
  wear: null,
  hazard: null,
  later: null,
  usual: {},
  readings: {},
  path: null,
  drifts: {},
  troubles: { jumpStarts: 0, noStarts: 0 },
  hasTemperature: true,
  asOfOn: '2025-12-31',
  systemVolts: 12,
  batteryCcaA: 600,
  ...more,
});

describe('an outlook', () => {
  it('says which part carried it, and its age', () => {
    const outlook = outlookOf(input());
    expect(outlook.basis).toContain('prior');
    expect(outlook.basis).not.toContain('condition');
    expect(outlook.ageDays).toBe(1460);
    expect(outlook.evidence[0]).toBe('battery is 4.0 years old; in class van half are taken to last 3.9 years');
  });

  it.each([
    ['2025-12-30', 'battery is 1 day old'],
    ['2025-12-01', 'battery is 30 days old'],
    ['2025-06-30', 'battery is 6 months old'],
  ])('a part fitted on %s: %s', (fittedOn, words) => {
    const { evidence } = outlookOf(input({ life: { ...batteryLife(), fittedOn } }));
    expect(evidence.join('; ')).toContain(words);
  });

  it('has probabilities that grow with the horizon and windows in order', () => {
    const { pFail30d, pFail60d, pFail90d, windowEarlyOn, windowMidOn } = outlookOf(input());
    expect(pFail30d!).toBeLessThan(pFail60d!);
    expect(pFail60d!).toBeLessThan(pFail90d!);
    expect(windowEarlyOn! < windowMidOn!).toBe(true);
  });

  it('begins at certainty: it works today', () => {
    expect(outlookOf(input()).survival![0]).toBe(1);
  });

  it('leaves a window date empty past five years, and says so', () => {
    const fresh = outlookOf(input({ life: batteryLife({ fittedOn: '2025-12-30', watchedFromOn: '2025-12-30' }) }));
    expect(fresh.windowLateOn).toBeNull();
    expect(fresh.basis).toContain('beyond_horizon');
  });

  it('names first what went before the fleet’s failures, of what stands about equally far out', () => {
    const ordinary = { level: 12.6, spread: 0.1, ofClass: true };
    const drift = { slopePerYear: null, slopeLow: null, slopeHigh: null, senSlopePerYear: null, pValue: null } as const;
    const standing = { n: 90, sinceOn: null, residual: null, standing: 'ok', slopeError: null } as const;
    // asinh(2) spreads times 0.6 are log 2.4.
    const column = { name: 'rest_volts now', mean: 0, sd: 1, coefficient: 0.6 };
    const level = { name: 'level', mean: 0, sd: 1, coefficient: 0 };
    const told = {
      path: {
        day: Float64Array.of(20_000),
        value: Float64Array.of(2),
        parts: [
          { indicator: 'crank_volts' as const, distance: 2.1, usual: usual(10.4), ordinary: 10.4 },
          { indicator: 'rest_volts' as const, distance: 2, usual: usual(12.6), ordinary: 12.6 },
        ],
      },
      drifts: {
        crank_volts: { ...drift, ...standing, level: 10.1 },
        rest_volts: { ...drift, ...standing, level: 12.4 },
      },
      usual: { van: { rest_volts: ordinary } },
      readings: { rest_volts: { fortnight: 12.4, month: 12.4, before: 12.4 } },
    };
    const hazard = { columns: [level, column], covariance: [0, 0, 0, 0], failures: 40, effective: 2 };
    const volts = 'cranking voltage 10.10 V (class van: 10.40 V)';
    const rest = 'overnight rest voltage 12.40 V, 63 to 88 % charged (class van: 12.60 V)';
    expect(outlookOf(input(told)).evidence.slice(0, 2)).toEqual([volts, rest]);
    expect(outlookOf(input({ ...told, hazard })).evidence.slice(0, 2)).toEqual([rest, volts]);
    const asUsual = { ...told.drifts, crank_volts: { ...told.drifts.crank_volts, level: 10.401 } };
    expect(outlookOf(input({ ...told, drifts: asUsual })).evidence[0]).toBe(rest);
  });

  it('puts a jump start first among its reasons', () => {
    const outlook = outlookOf(input({ troubles: { jumpStarts: 2, noStarts: 0 } }));
    expect(outlook.evidence[0]).toBe('2 jump starts in the last 90 days');
  });

  it('reads rest voltage and resistance by the handbook', () => {
    const drift = { slopePerYear: null, slopeLow: null, slopeHigh: null, senSlopePerYear: null, pValue: null } as const;
    const standing = { n: 90, sinceOn: null, residual: null, standing: 'ok', slopeError: null } as const;
    const path = {
      day: Float64Array.of(20_000),
      value: Float64Array.of(2),
      parts: [
        { indicator: 'battery_ohms' as const, distance: 3, usual: usual(0.005), ordinary: 0.005 },
        { indicator: 'rest_volts' as const, distance: 2, usual: usual(12.7), ordinary: 12.7 },
      ],
    };
    const drifts = {
      battery_ohms: { ...drift, ...standing, level: 0.0121 },
      rest_volts: { ...drift, ...standing, level: 12.21 },
    };
    expect(outlookOf(input({ path, drifts })).evidence.slice(0, 2)).toEqual([
      'battery resistance 12.1 mΩ, over the 10.0 mΩ at which it would fail a load test (class van: 5.0 mΩ)',
      'overnight rest voltage 12.21 V, 39 to 64 % charged (class van: 12.70 V)',
    ]);
  });

  it('of which nothing can be said says why', () => {
    const refused = refusedOutlook(
      { unit: 'U9', position: '', component: 'starter' },
      'the unit is not in the register',
    );
    expect(refused).toMatchObject({
      basis: ['none'],
      survival: null,
      pFail90d: null,
      evidence: ['the unit is not in the register'],
    });
  });
});
