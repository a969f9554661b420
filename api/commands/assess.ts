import { asOf } from '../../etl/model/time.ts';
import { assessAndRank, newestDay } from '../assess-and-rank.ts';
import { command, jsonLine, withStore, type AddCommand, type CommonOptions } from './command.ts';
import { defaultJobs, jobsOption } from './jobs-option.ts';

/** `assess`: trends, outlooks and ranking as of a date, out of what was known by then. */
export const addAssess: AddCommand = (program, context) => {
  const assess = command('assess', 'compute trends, outlooks and the ranking of a date', [
    'crankledger assess',
    'crankledger assess --as-of 2026-03-01',
  ]);
  assess.option('--as-of <date>', 'end of that day, or an instant (default: the newest crank or record)');
  assess.addOption(jobsOption('threads at most, for cranks that a load left unfinished; the rest runs in one'));
  assess.action(async (options: CommonOptions & { asOf?: string; jobs?: number }) => {
    const { jobs = defaultJobs() } = options;
    const nowUs = context.now() * 1000;
    const summary = await withStore(options, context, async (store) => {
      const newest = await newestDay(store, nowUs);
      const day = options.asOf === undefined ? newest : asOf(options.asOf, (await store.settings()).timeZone);
      const progress = context.console.progress(`assessing ${day.label}`);
      try {
        return await assessAndRank(store, day, { nowUs, jobs, onProgress: (done, total) => progress.at(done, total) });
      } finally {
        progress.end();
      }
    });
    const { asOf: label, units, outlooks, refused } = summary;
    const words = `as of ${label}: ${units} units, ${outlooks} outlooks, ${refused} of them without a forecast\n`;
    await context.console.result(options.json === true ? jsonLine(summary) : words);
  });
  program.addCommand(assess);
};
