import type { Figures } from './figures.ts';
import { SCORED } from './rows.ts';

const COLUMNS = ['harrellC', 'unoC', 'auc', 'skill', 'ratio', 'slope', 'top10'] as const;

function text(value: number): string {
  return (Number.isNaN(value) ? '–' : value.toFixed(3)).padStart(9);
}

export function tableOf(title: string, figures: Figures): string {
  const { rows, failures, of, coverage, closed } = figures;
  const head = `${''.padEnd(11)}${COLUMNS.map((name) => name.padStart(9)).join('')}`;
  const lines = SCORED.map((name) => `${name.padEnd(11)}${COLUMNS.map((column) => text(of[name][column])).join('')}`);
  const way = (['harrellC', 'unoC', 'skill'] as const)
    .map((name) => {
      const { fromBaseline, fromNotebook, toWorn } = closed[name];
      const [all, notebook, worn] = [fromBaseline, fromNotebook, toWorn].map((each) => text(each).trim());
      return `${name} ${all} (from the notebook ${notebook}; to the wear alone ${worn})`;
    })
    .join(', ');
  const [inside, low, high, before] = [coverage.inside, coverage.low, coverage.high, coverage.before].map((each) =>
    text(each).trim(),
  );
  return [
    `${title}: ${rows} forecasts, ${failures} parts failed within a horizon`,
    head,
    ...lines,
    `way closed: ${way}`,
    `window: inside ${inside} (${low} to ${high}), before ${before}`,
  ].join('\n');
}
