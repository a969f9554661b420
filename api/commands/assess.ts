import { asOf, isoInstant } from '../../etl/model/time.ts';
import { assessAndRank, newestDay, requireData } from '../assess-and-rank.ts';
import { reassessAndRank } from '../reassess-and-rank.ts';
import { answer, command, withStore, type AddCommand, type CommandContext, type CommonOptions } from './command.ts';
import { counted } from '../../etl/model/counted.ts';
import { defaultJobs, jobsOption } from './jobs-option.ts';

/** `assess`: trends, outlooks and ranking as of a date, out of what was known by then. */
export const addAssess: AddCommand = (program, context) => {
  const assess = command('assess', 'compute trends, outlooks and the ranking of a date', [
    'crankledger assess',
    'crankledger assess --as-of 2026-03-01',
    'crankledger assess --unit T-014',
  ]);
  assess.option('--as-of <date>', 'end of that day, or an instant (default: the newest crank or record)');
  assess.option(
    '--unit <unit...>',
    'only these units, put into the newest assessment under the parameters that it found of the fleet',
  );
  assess.addOption(jobsOption('threads at most; the answer is the same to the last digit'));
  assess.action(async (options: AssessCommandOptions) => {
    if (options.unit !== undefined) return assessUnits(options.unit, options, context);
    const { jobs = defaultJobs() } = options;
    const nowUs = context.now() * 1000;
    const summary = await withStore(options, context, async (store) => {
      const given = options.asOf === undefined ? null : asOf(options.asOf, (await store.settings()).timeZone);
      await requireData(store);
      const day = given ?? (await newestDay(store, nowUs));
      const progress = context.console.progress(`assessing ${day.label}`);
      try {
        return await assessAndRank(store, day, { nowUs, jobs, onProgress: (done, total) => progress.at(done, total) });
      } finally {
        progress.end();
      }
    });
    const { asOf: label, units, outlooks, refused } = summary;
    const words = `as of ${label}: ${counted(units, 'unit')}, ${counted(outlooks, 'outlook')}, ${refused} of them without a forecast\n`;
    await answer(options, context, { value: summary, words });
  });
  program.addCommand(assess);
};

type AssessCommandOptions = CommonOptions & { asOf?: string; jobs?: number; unit?: string[] };

/** Some units anew; what the fleet was found to be stays until the next whole run, and that is said. */
async function assessUnits(units: string[], options: AssessCommandOptions, context: CommandContext): Promise<void> {
  if (options.asOf !== undefined)
    throw new RangeError(`--unit requires the newest assessment, got another day (--as-of ${options.asOf})`);
  const summary = await withStore(options, context, async (store) =>
    reassessAndRank(store, units, context.now() * 1000),
  );
  const parameters = isoInstant(summary.parametersUs);
  const words = summary.units.map(
    ({ unit, asOf: day, outlooks, refused }) =>
      `${unit} as of ${day}: ${counted(outlooks, 'outlook')}, ${refused} of them without a forecast\n`,
  );
  const kept = `put into the assessment as of ${summary.asOf}; the fleet’s parameters are those of its run at ${parameters}\n`;
  const { parametersUs: _, ...shown } = summary;
  await answer(options, context, { value: { ...shown, parametersAt: parameters }, words: words.join('') + kept });
}
