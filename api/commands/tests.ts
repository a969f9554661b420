import { BENCH_TESTS } from '../../etl/model/bench-tests.ts';
import { answer, command, type AddCommand, type CommonOptions } from './command.ts';

/** `tests`: what can be measured on the bench and on the vehicle, and what it should read. */
export const addTests: AddCommand = (program, context) => {
  const tests = command('tests', 'list the bench and on-vehicle tests with unit and expected values', [
    'crankledger tests',
    'crankledger tests --json',
  ]);
  tests.action(async (options: CommonOptions) => {
    const text = BENCH_TESTS.map(
      ({ test, where, unitOfMeasure, how, expected12, expected24, source }) =>
        `${test} (${unitOfMeasure}, ${where})\n  ${how}\n  12 V: ${expected12}\n  24 V: ${expected24}\n  source: ${source}\n`,
    );
    await answer(options, context, { value: BENCH_TESTS, words: text.join('\n') });
  });
  program.addCommand(tests);
};
