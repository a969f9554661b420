import { backtest, type BacktestOptions } from '../../etl/backtest.ts';
import { finishWithJobs } from '../../etl/loading/finish-with-jobs.ts';
import type { Backtest } from '../../etl/model/backtest.ts';
import { asOf } from '../../etl/model/time.ts';
import { newestDay } from '../assess-and-rank.ts';
import { command, jsonLine, withStore, type AddCommand, type CommonOptions } from './command.ts';
import { defaultJobs } from './jobs-option.ts';

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
    const walked = await withStore(options, context, async (store) => {
      // A load may have been killed before it.
      await finishWithJobs(store, defaultJobs());
      // Read before: a file that is loaded meanwhile makes this backtest stale, as it should.
      const inputs = await store.inputsVersion();
      const newest = await newestDay(store, nowUs);
      const progress = context.console.progress('walking forward');
      try {
        const found = await backtest(store, {
          ...planOptions(options),
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
    await context.console.result(options.json === true ? jsonLine(scores) : words(walked));
  });
  program.addCommand(walking);
};

function planOptions({ from, to, step, horizon }: Options): Omit<BacktestOptions, 'newest'> {
  return {
    ...(from === undefined ? {} : { fromOn: day(from, '--from') }),
    ...(to === undefined ? {} : { toOn: day(to, '--to') }),
    ...(step === undefined ? {} : { stepDays: Number(step) }),
    ...(horizon === undefined ? {} : { horizonDays: Number(horizon) }),
  };
}

function day(text: string, option: string): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text)) return asOf(text).on;
  throw new RangeError(`backtest requires a date YYYY-MM-DD, got ${text} (${option})`);
}

function words({ origins, plan, forecasts, followedToOn, scores }: Backtest): string {
  const head = [
    `${origins.length} days from ${origins[0]!} to ${origins.at(-1)!}, ${forecasts.length} forecasts,`,
    `held to ${plan.horizonDays} days; what happened is known up to ${followedToOn}`,
  ].join(' ');
  const parts = scores.map(({ component, failures, parts, pulls, verdict }) =>
    [
      `\n${component}: ${failures} of ${parts} parts failed within a horizon`,
      ...verdict.map((each) => `  ${each}`),
      `  Pulled at the first ${Math.round(100 * pulls.calledAt)} %: ${pulls.hits} hits, ${pulls.misses} misses, ` +
        `${pulls.needless} needless${pulls.leadDaysMedian === null ? '' : `, median lead ${Math.round(pulls.leadDaysMedian)} days`}`,
    ].join('\n'),
  );
  return `${head}\n${parts.join('\n')}\n`;
}
