import type { Baseline, ComponentScores, Estimate, Margin } from '../model/backtest.ts';

/** What the scores come to, in sentences that need no statistics. Said of the forecast as it is: also where a baseline wins. */
export const BASELINE_NAMES: Record<Baseline, string> = {
  base_rate: 'the base rate',
  age_only: 'age alone',
  voltage_threshold: 'a fixed voltage threshold',
  last_value: 'the last value',
};

type Scored = Pick<ComponentScores, 'component' | 'failures' | 'forecasters' | 'margins' | 'calibration' | 'window'>;

/** Fewer, and not even the order can be told from chance. Common practice. */
const LEAST_FAILURES = 10;

export function verdictOf(scores: Scored): string[] {
  const { component, failures } = scores;
  if (failures === 0) return [`No ${component} failed within a horizon: there is nothing to judge.`];
  const words = failures < LEAST_FAILURES ? [`Only ${failures} failures: every figure is loose.`] : [];
  return [...words, ...orderWords(scores), ...probabilityWords(scores), calibrationWords(scores), windowWords(scores)];
}

function orderWords({ margins, forecasters }: Scored): string[] {
  const own = forecasters.find(({ forecaster }) => forecaster === 'outlook')?.unoC ?? null;
  if (own === null) return [];
  return [`Which fails first: ${comparison(margins, 'unoC')} (C ${two(own)}).`];
}

function probabilityWords({ margins, forecasters }: Scored): string[] {
  const own = forecasters.find(({ forecaster }) => forecaster === 'outlook')?.skill ?? null;
  if (own === null) return [];
  return [`How likely: ${comparison(margins, 'skill')} (Brier skill ${two(own)}).`];
}

/** Beaten, not told apart, beaten by: each baseline in one of three groups. */
function comparison(margins: readonly Margin[], figure: 'unoC' | 'skill'): string {
  const names = (side: (margin: Estimate) => boolean) =>
    margins.flatMap((margin) => {
      const estimate = margin[figure];
      return estimate !== null && side(estimate) ? [BASELINE_NAMES[margin.against]] : [];
    });
  const wins = names(({ low }) => low !== null && low > 0);
  const losses = names(({ high }) => high !== null && high < 0);
  const open = names(({ low, high }) => low === null || high === null || (low <= 0 && high >= 0));
  return [
    wins.length > 0 ? `the forecast does better than ${listed(wins)}` : '',
    open.length > 0 ? `it cannot be told apart from ${listed(open)}` : '',
    losses.length > 0 ? `${listed(losses)} ${losses.length === 1 ? 'does' : 'do'} better than the forecast` : '',
  ]
    .filter((part) => part !== '')
    .join('; ');
}

function calibrationWords({ calibration, failures }: Scored): string {
  const { judgeable, ratio } = calibration;
  if (!judgeable) return `Calibration cannot be judged: ${failures} failures, and about 100 are needed.`;
  if (ratio === null) return 'Calibration cannot be judged: nothing was expected to fail.';
  const { low, high } = ratio;
  const told =
    low === null || high === null || (low <= 1 && high >= 1) ? 'as many as' : low > 1 ? 'more than' : 'fewer than';
  return `On the whole ${told} forecast failed: ${two(ratio)} for each one expected.`;
}

function windowWords({ window }: Scored): string {
  const { inside, before } = window;
  if (inside !== null) return `The window held ${percent(inside)} of the failures; 80 % would be right.`;
  const early = before === null ? '' : ` Before it fell ${percent(before)}; 10 % would be right.`;
  return `Too few parts were followed to the end of their window to say how much it held.${early}`;
}

function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`;
}

function two({ value, low, high }: Estimate): string {
  const text = (figure: number) => figure.toFixed(2).replace('-', '−');
  return `${text(value)}${low === null || high === null ? '' : `, ${text(low)} to ${text(high)}`}`;
}

function percent({ value, low, high }: Estimate): string {
  const whole = (share: number) => (100 * share).toFixed(0);
  return `${whole(value)} %${low === null || high === null ? '' : ` (${whole(low)} to ${whole(high)} %)`}`;
}
