import { describe, expect, it } from 'vitest';
import { PULL_KINDS, pullsChart } from '../../../web/charts/pulls-chart.ts';
import { reliabilityChart } from '../../../web/charts/reliability-chart.ts';
import { inventedForecasts, inventedSummary } from '../../support/backtest-forecasts.ts';
import { compileChart } from '../../support/compile-chart.ts';

const { scores, months } = inventedSummary(inventedForecasts({ units: 80 }));
const battery = scores[0]!;
const frame = { width: 480, left: 44 };
const marks = (svg: string, kind: string) =>
  new RegExp(`mark-${kind}[^>]*>(.*?)</g>`).exec(svg)?.[1]?.split('<path').length ?? 1;

describe('forecast and what came', () => {
  it('has a mark a group, both axes alike, and no warning', async () => {
    const chart = await compileChart(reliabilityChart(battery, frame));
    expect(chart.warnings).toEqual([]);
    expect(chart.domain('x')).toEqual(chart.domain('y'));
    const highest = Math.max(...battery.calibration.groups.map(({ observed }) => observed.high ?? 0));
    expect(chart.domain('x')).toEqual([0, Math.min(1, highest)]);
    expect(marks(chart.svg, 'symbol') - 1).toBe(battery.calibration.groups.length);
    expect(chart.svg).toContain('var(--battery)');
    expect(chart.svg).not.toMatch(/fill="#|stroke="#/);
  });

  it('of nothing is an empty frame', async () => {
    const chart = await compileChart(reliabilityChart(scores[1]!, frame));
    expect(chart.warnings).toEqual([]);
    expect(chart.domain('x')).toEqual([0, 0.1]);
  });
});

describe('pulls by month', () => {
  const most = Math.max(...months.flatMap((each) => PULL_KINDS.map((kind) => each[kind])));

  it.each(PULL_KINDS)('%s have a bar a month on one scale, without a warning', async (kind) => {
    const chart = await compileChart(pullsChart(months, { kind, component: 'battery', most }, frame));
    expect(chart.warnings).toEqual([]);
    expect(chart.domain('y')).toEqual([0, most]);
    expect(marks(chart.svg, 'rect') - 1).toBe(months.filter((each) => each[kind] > 0).length);
    expect(chart.svg).not.toMatch(/fill="#|stroke="#/);
  });
});
