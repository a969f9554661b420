import { simulateFleet } from '../../sample-data/simulate.ts';
import { answer, command, type AddCommand, type CommonOptions } from './command.ts';
import { counted } from '../../etl/model/counted.ts';

type Options = CommonOptions & { units: string; days: string; seed: string; out: string; truth?: string };

/** `simulate`: writes an invented fleet of any size in the formats that load reads. */
export const addSimulate: AddCommand = (program, context) => {
  const simulate = command('simulate', 'write an invented fleet of any size', [
    'crankledger simulate --units 100 --days 730 --seed 1 --out invented',
    'crankledger simulate --units 100 --days 730 --seed 1 --out invented --truth invented-truth',
  ]);
  simulate
    .requiredOption('--units <n>', 'number of units')
    .requiredOption('--days <n>', 'days of history')
    .requiredOption('--seed <n>', 'the same seed gives the same fleet')
    .requiredOption('--out <folder>', 'a new or empty folder')
    .option('--truth <folder>', 'where to write what truly happened; outside the other folder');
  simulate.action(async ({ units, days, seed, out, truth, json }: Options) => {
    const progress = context.console.progress('simulating');
    try {
      const report = await simulateFleet({
        units: wholeNumber(units, '--units'),
        days: wholeNumber(days, '--days'),
        seed: wholeNumber(seed, '--seed'),
        out,
        truth,
        onProgress: (done, total) => progress.at(done, total),
      });
      const made = [
        counted(report.units, 'unit'),
        counted(report.cranks, 'crank'),
        counted(report.workOrders, 'work order'),
      ];
      await answer({ json: json === true }, context, { value: report, words: `${made.join(', ')} in ${out}\n` });
    } finally {
      progress.end();
    }
  });
  program.addCommand(simulate);
};

function wholeNumber(text: string, where: string): number {
  if (!/^\d{1,10}$/.test(text)) throw new RangeError(`simulate requires a whole number, got ${text} (${where})`);
  return Number(text);
}
