import { backtest, type BacktestOptions } from '../../etl/backtest.ts';
import { finishWithJobs } from '../../etl/loading/finish-with-jobs.ts';
import type { Backtest } from '../../etl/model/backtest.ts';
import { isDate } from '../../etl/model/time.ts';
import { newestDay } from '../assess-and-rank.ts';
import { answer, command, withStore, type AddCommand, type CommonOptions } from './command.ts';
import { counted } from '../../etl/model/counted.ts';
import { defaultJobs } from './jobs-option.ts';
import { wholeNumber } from './whole-number-option.ts';

type Options = CommonOptions & { from?: string; to?: string; step?: string; horizon?: string };

/** `backtest`: walks forward through history and scores the forecasts against what then happened. */
export const addBacktest: AddCommand = (program, context) => {
  const walking = command('backtest', 'walk forward through history and score the forecasts', [
    'crankledger backtest',
    'crankledger backtest --from 2025-06-01 --to 2026-06-01 --horizon 60',
    'crankledger backtest --json > scores.json',
  ]);
  walking
    .option('--from <date>', 'first day to stand at (default: a year before the last, or as early as data allow)')
    .option('--to <date>', 'last day to stand at (default: the newest whose horizon is over)')
    .option('--step <days>', 'days between two of them (default: 30)')
    .option('--horizon <days>', 'how far ahead a forecast is held to its word (default: 90)');
  walking.action(async (options: Options) => {
    const nowUs = context.now() * 1000;
    const asked = planOptions(options);
    const walked = await withStore(options, context, async (store) => {
      // A load may have been killed before it.
      await finishWithJobs(store, defaultJobs());
      // Read before: a file that is loaded meanwhile makes this backtest stale, as it should.
      const inputs = await store.inputsVersion();
      const newest = await newestDay(store, nowUs);
      const progress = context.console.progress('walking forward');
      try {
        const found = await backtest(store, {
          ...asked,
          newest,
          onProgress: (done, total) => progress.at(done, total),
        });
        await store.saveBacktest(found, nowUs, inputs);
        return found;
      } finally {
        progress.end();
      }
    });
    const { forecasts: _, ...scores } = walked;
    await answer(options, context, { value: scores, words: words(walked) });
  });
  program.addCommand(walking);
};

function planOptions({ from, to, step, horizon }: Options): Omit<BacktestOptions, 'newest'> {
  const [fromOn, toOn] = [day(from, '--from'), day(to, '--to')];
  if (fromOn !== undefined && toOn !== undefined && fromOn > toOn)
    throw new RangeError(`backtest requires a first day not after the last, got ${fromOn} and ${toOn} (--from, --to)`);
  return {
    ...(fromOn === undefined ? {} : { fromOn }),
    ...(toOn === undefined ? {} : { toOn }),
    ...(step === undefined ? {} : { stepDays: days(step, '--step') }),
    ...(horizon === undefined ? {} : { horizonDays: days(horizon, '--horizon') }),
  };
}

function day(text: string | undefined, where: string): string | undefined {
  if (text === undefined || isDate(text)) return text;
  throw new RangeError(`backtest requires a date YYYY-MM-DD, got ${text === '' ? 'nothing' : text} (${where})`);
}

/** Ten years: longer than any history is worth walking. Convention of this program. */
const MOST_DAYS = 3653;
const days = (text: string, where: string) => wholeNumber(text, { what: 'backtest', where, least: 1, most: MOST_DAYS });

function words({ origins, plan, forecasts, followedToOn, scores }: Backtest): string {
  const head = [
    `${counted(origins.length, 'day')} from ${origins[0]!} to ${origins.at(-1)!}, ${counted(forecasts.length, 'forecast')},`,
    `held to ${counted(plan.horizonDays, 'day')}; what happened is known up to ${followedToOn}`,
  ].join(' ');
  const parts = scores.map(({ component, failures, parts, pulls, verdict }) =>
    [
      `\n${component}: ${failures} of ${counted(parts, 'part')} failed within a horizon`,
      ...verdict.map((each) => `  ${each}`),
      `  Pulled at the first ${Math.round(100 * pulls.calledAt)} %: ${counted(pulls.hits, 'hit')}, ${counted(pulls.misses, 'miss', 'misses')}, ` +
        `${pulls.needless} needless${pulls.leadDaysMedian === null ? '' : `, median lead ${counted(Math.round(pulls.leadDaysMedian), 'day')}`}`,
    ].join('\n'),
  );
  return `${head}\n${parts.join('\n')}\n`;
}
