import { describe, expect, it } from 'vitest';
import type { UnitOutlook, UnitTrend, UnitView } from '../../../api/contract/unit.ts';
import { historyChart } from '../../../web/charts/history-chart.ts';
import { chartRange, indicatorChart } from '../../../web/charts/indicator-chart.ts';
import { daysBeyond } from '../../../web/charts/indicator-range.ts';
import { survivalChart } from '../../../web/charts/survival-chart.ts';
import { unitTimeDomain } from '../../../web/charts/unit-time-domain.ts';
import { waveformChart } from '../../../web/charts/waveform-chart.ts';
import { AS_OF, fixtureRanking, fixtureUnit, fixtureWaveform, unitName } from '../../browser/fixture-fleet.ts';
import { compileChart } from '../../support/compile-chart.ts';

const ms = (on: string) => Date.parse(`${on}T00:00:00Z`);
const frame = { width: 900, left: 84 };
const unit = fixtureUnit(fixtureRanking(20), unitName(0)) as UnitView;
const domain = unitTimeDomain(unit);
const times = (values: unknown[]) => values.map(Number);

function contextFor(outlook: UnitOutlook | null) {
  return { domain, asOfOn: AS_OF, outlook, replacedOn: ['2025-06-20'] };
}

describe('unit time domain', () => {
  it('begins with the first that is known, at most three years back, and ends one year ahead', () => {
    // The oldest fact of the fixture is the start of watching, 1 January 2024.
    expect(domain.from).toBe(ms('2024-01-01'));
    expect(domain.to).toBe(ms(AS_OF) + 365.25 * 86_400_000);
    const old = { ...unit, workOrders: [{ ...unit.workOrders[0]!, openedOn: '2011-01-01' }] };
    expect(unitTimeDomain(old).from).toBe(ms(AS_OF) - 3 * 365.25 * 86_400_000);
    const bare = unitTimeDomain({ asOfOn: AS_OF, trends: [], workOrders: [], lives: [] });
    expect(bare.to - bare.from).toBe(1.25 * 365.25 * 86_400_000);
  });
});

describe('charts', () => {
  it('draw every indicator on the common time axis, without a warning', async () => {
    for (const trend of unit.trends.filter((each) => each.days.length > 0)) {
      const outlook = unit.outlooks.find((each) => each.component === trend.component) ?? null;
      const chart = await compileChart(indicatorChart(trend, contextFor(outlook), frame));
      expect(chart.warnings).toEqual([]);
      expect(times(chart.domain('x'))).toEqual([domain.from, domain.to]);
      expect(chart.svg).toContain('>2025<');
    }
  });

  it('carry the trend forward by its slope: one year ahead it stands at level plus slope', async () => {
    const trend = unit.trends.find((each) => each.indicator === 'crank_volts') as UnitTrend;
    const spec = indicatorChart(trend, contextFor(null), frame) as unknown as {
      layer: { data: { values: { at: number; value: number }[] }; mark: { strokeDash?: number[]; type: string } }[];
    };
    const ahead = spec.layer.find((layer) => layer.mark.type === 'line' && layer.mark.strokeDash?.[0] === 5)!;
    // Level 18.6 V, slope −0.7 V a year in the fixture.
    expect(ahead.data.values.map(({ value }) => value)).toEqual([18.6, expect.closeTo(17.9, 9)]);
  });

  it('show no counts below none, although the band of a trend would reach there', async () => {
    const trend = unit.trends.find((each) => each.indicator === 'crank_volts') as UnitTrend;
    const counts = {
      level: 0.2,
      slopePerYear: 0,
      slopeLow: 0,
      slopeHigh: 0,
      residual: 3,
      values: trend.days.map(() => 0.2),
    };
    const low = async (given: UnitTrend) =>
      Number((await compileChart(indicatorChart(given, contextFor(null), frame))).domain('y')[0]);
    const retries = { ...trend, ...counts, rawValues: counts.values, indicator: 'retries_per_100' as const };
    expect(await low(retries)).toBe(0);
    expect(await low({ ...retries, indicator: 'log_sag_ratio' })).toBeLessThan(-5);
  });

  it('break the line of the days where none was recorded for long', async () => {
    const trend = unit.trends.find((each) => each.indicator === 'rest_volts') as UnitTrend;
    const lines = async (given: UnitTrend) => {
      const { svg, warnings } = await compileChart(indicatorChart(given, contextFor(null), frame));
      expect(warnings).toEqual([]);
      // The thin line is the first of the line marks; each stretch begins with a move.
      const path = /mark-line[^>]*>.*? d="([^"]*)"/.exec(svg)?.[1] ?? '';
      return path.split('M').length - 1;
    };
    expect(await lines(trend)).toBe(1);
    const silent = trend.days.map((day, index) => (index >= trend.days.length / 2 ? day + 60 : day));
    expect(await lines({ ...trend, days: silent })).toBe(2);
  });

  it('one odd day stretches no axis: it stands at the edge, pointing to where it lies', async () => {
    const trend = unit.trends.find((each) => each.indicator === 'rest_volts') as UnitTrend;
    const odd = { ...trend, values: trend.values.map((value, index) => (index === 5 ? 3 : value)) };
    const drawn = async (given: UnitTrend) => compileChart(indicatorChart(given, contextFor(null), frame));
    const [plain, with3] = [await drawn(trend), await drawn(odd)];
    expect(with3.warnings).toEqual([]);
    expect(Number(with3.domain('y')[0])).toBeCloseTo(Number(plain.domain('y')[0]), 1);
    expect(daysBeyond(odd, chartRange(odd, contextFor(null)))).toEqual([5]);
    expect(daysBeyond(trend, chartRange(trend, contextFor(null)))).toEqual([]);
    const path = (svg: string) => svg.split('mark-symbol').length;
    expect(path(with3.svg)).toBe(path(plain.svg) + 1);
  });

  it('show an indicator without a trend as its points alone', async () => {
    const trend: UnitTrend = { ...unit.trends[0]!, level: null, slopePerYear: null, standing: 'too_few_points' };
    const chart = await compileChart(indicatorChart(trend, contextFor(null), frame));
    expect(chart.warnings).toEqual([]);
    expect(times(chart.domain('x'))).toEqual([domain.from, domain.to]);
  });

  it('draw lives, orders and windows in one lane a component, without a warning', async () => {
    const chart = await compileChart(historyChart(unit, domain, frame));
    expect(chart.warnings).toEqual([]);
    expect(times(chart.domain('x'))).toEqual([domain.from, domain.to]);
    expect(chart.domain('y')).toEqual(['Battery', 'Starter']);
    const empty = { ...unit, lives: [], workOrders: [], outlooks: [] };
    expect((await compileChart(historyChart(empty, domain, frame))).warnings).toEqual([]);
  });

  it('draw survival from 0 to 100 % and at least a year ahead, without a warning', async () => {
    const chart = await compileChart(survivalChart(unit.outlooks, { asOfOn: AS_OF, nextVisitOn: '2026-04-01' }, frame));
    expect(chart.warnings).toEqual([]);
    expect(chart.domain('y')).toEqual([0, 1]);
    const soon = unit.outlooks.map((each) => ({ ...each, survivalDays: [0, 10, 20], survival: [1, 0.5, 0.01] }));
    const near = await compileChart(survivalChart(soon, { asOfOn: AS_OF, nextVisitOn: null }, frame));
    expect(times(near.domain('x'))).toEqual([ms(AS_OF), ms(AS_OF) + 365 * 86_400_000]);
  });

  it('where the day lies in the past, the day on which the part went stands beside its curve', async () => {
    const gone = { position: '', component: 'battery', end: 'failure', on: '2026-04-10', days: 40 } as const;
    const ended = [{ ...gone, workOrder: '', window: 'inside', pFailByThen: 0.3 } as const];
    const chart = await compileChart(survivalChart(unit.outlooks, { asOfOn: AS_OF, nextVisitOn: null, ended }, frame));
    expect(chart.warnings).toEqual([]);
    expect(chart.svg).toContain('>failed 10 Apr<');
  });

  it('lay the newest crank over the early one from half a second before onset, without a warning', async () => {
    const [newest, early] = [fixtureWaveform('w11'), fixtureWaveform('w0')];
    const chart = await compileChart(waveformChart(newest, early, frame));
    expect(chart.warnings).toEqual([]);
    // The fixture's record ends 8.596 s after onset.
    expect(chart.domain('x')).toEqual([-0.5, expect.closeTo(8.596, 9)]);
    expect((await compileChart(waveformChart(newest, null, frame))).warnings).toEqual([]);
  });

  it('name the page’s own colours, so that a drawing follows light and dark', async () => {
    const { svg } = await compileChart(historyChart(unit, domain, frame));
    expect(svg).toContain('var(--battery)');
    expect(svg).not.toMatch(/fill="#|stroke="#/);
  });
});
