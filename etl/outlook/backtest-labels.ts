/**
 * The same scores if some of the records name the wrong part.
 *
 * Records of repair are not the truth: a part is changed that had not failed, and one that had is booked under another
 * name. So a share of the parts that failed are taken not to have failed (cut off at that day), and as many parts that
 * lived are taken to have failed on a random day on which they were followed. Only what the forecasts are held against
 * is changed; the forecasts stay. Seeded, mean over some draws.
 */
import type { BacktestForecast, WrongLabels } from '../model/backtest.ts';
import { groupBy } from '../model/group-by.ts';
import { dateOf, dayNumber } from '../model/time.ts';
import { createRandom, type Random } from '../stats/random.ts';
import { columnsOf, isScored } from './backtest-columns.ts';
import { measuresOf, type MeasureOptions, type Measures } from './backtest-measures.ts';
import { failedWithin } from './backtest-outcome.ts';
import { partKey } from './backtest-pulls.ts';

export type LabelOptions = MeasureOptions & { seed: number; draws: number };

export function scoresWithWrongLabels(
  forecasts: readonly BacktestForecast[],
  share: number,
  options: LabelOptions,
): WrongLabels {
  const { seed, draws, horizonDays } = options;
  const measures = Array.from({ length: draws }, (_, draw) => {
    const random = createRandom(seed, `wrong labels ${share} ${draw}`);
    return measuresOf(columnsOf(withWrongLabels(forecasts, share, { random, horizonDays })), {
      ...options,
      forecasters: ['outlook', 'base_rate'],
    });
  });
  return {
    share,
    unoC: meanOf(measures, 'outlook unoC'),
    auc: meanOf(measures, 'outlook auc'),
    skill: meanOf(measures, 'outlook skill'),
    ratio: meanOf(measures, 'ratio'),
    slope: meanOf(measures, 'slope'),
  };
}

function meanOf(measures: readonly Measures[], name: string): number | null {
  const known = measures.map((each) => each[name] ?? null).filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
}

export function withWrongLabels(
  forecasts: readonly BacktestForecast[],
  share: number,
  { random, horizonDays }: { random: Random; horizonDays: number },
): BacktestForecast[] {
  const parts = [...groupBy(forecasts.filter(isScored), partKey).values()];
  const failed = parts.filter((own) => own[0]!.failedOn !== null);
  const lived = parts.filter((own) => own[0]!.failedOn === null);
  const count = Math.round(share * failed.length);
  const cleared = new Set(chosen(failed, count, random));
  const blamed = new Set(chosen(lived, count, random));
  return parts
    .flatMap((own) => {
      if (cleared.has(own)) return own.map((each) => ({ ...each, failedOn: null, end: 'planned' as const }));
      return blamed.has(own) ? blame(own, random) : own;
    })
    .map((each) => ({ ...each, failedWithin: failedWithin(each, dayNumber(each.asOfOn), horizonDays) }));
}

function chosen<Item>(items: readonly Item[], count: number, random: Random): Item[] {
  const left = [...items];
  return Array.from({ length: Math.min(count, items.length) }, () => {
    return left.splice(Math.floor(random.uniform() * left.length), 1)[0]!;
  });
}

/** Failed on a random day on which it was followed; forecasts made on that day or later were about nothing. */
function blame(own: readonly BacktestForecast[], random: Random): BacktestForecast[] {
  const from = own.reduce((least, { asOfOn }) => Math.min(least, dayNumber(asOfOn)), Infinity);
  const to = dayNumber(own[0]!.followedToOn);
  const failedOn = dateOf(from + 1 + Math.floor(random.uniform() * (to - from)));
  return own
    .filter(({ asOfOn }) => asOfOn < failedOn)
    .map((each) => ({ ...each, failedOn, end: 'failure' as const, followedToOn: failedOn }));
}
