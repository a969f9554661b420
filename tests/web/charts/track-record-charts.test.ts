import { describe, expect, it } from 'vitest';
import { PULL_KINDS, pullsChart } from '../../../web/charts/pulls-chart.ts';
import { reliabilityChart } from '../../../web/charts/reliability-chart.ts';
import { windowChart } from '../../../web/charts/window-chart.ts';
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

describe('failures and their window', () => {
  it('has a mark where a share is known, words where it is not, and what would be right', async () => {
    const some = { value: 0.12, low: 0.05, high: 0.2 };
    const scored = { ...battery, window: { ...battery.window, before: some, inside: null, after: null } };
    const chart = await compileChart(windowChart(scored, frame));
    expect(chart.warnings).toEqual([]);
    expect(chart.domain('x')).toEqual([0, 1]);
    expect(marks(chart.svg, 'symbol') - 1).toBe(1);
    expect(chart.svg.match(/>too few followed to its end/g)).toHaveLength(2);
    expect(chart.svg).not.toMatch(/fill="#|stroke="#/);
  });

  it('with all three known has no words', async () => {
    const share = (value: number) => ({ value, low: value - 0.05, high: value + 0.05 });
    const window = { ...battery.window, before: share(0.1), inside: share(0.8), after: share(0.1) };
    const chart = await compileChart(windowChart({ ...battery, window }, frame));
    expect(marks(chart.svg, 'symbol') - 1).toBe(3);
    expect(chart.svg).not.toContain('too few');
  });
});
