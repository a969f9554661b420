import { finishStale } from '../../etl/loading/finish-stale.ts';
import { command, jsonLine, withStore, type AddCommand, type CommonOptions } from './command.ts';

/** `unload IMPORT`: takes one file back, as if it had never been loaded. */
export const addUnload: AddCommand = (program, context) => {
  const unload = command('unload', 'take one file back', ['crankledger unload 3']);
  unload.argument('<import>', 'its number in the list that the command imports prints');
  unload.action(async (text: string, options: CommonOptions) => {
    if (!/^\d{1,15}$/.test(text))
      throw new RangeError(`unload requires the number of an import, got ${text} (see the command imports)`);
    const { importId, file, kind, taken } = await withStore(options, context, async (store) => {
      const record = await store.unload(Number(text));
      await finishStale(store);
      return record;
    });
    const words = `import ${importId} taken back: ${file}, ${taken} rows of kind ${kind}\n`;
    await context.console.result(options.json === true ? jsonLine({ importId, file, kind, taken }) : words);
    context.console.note('run assess again: the ranking still rests on it');
  });
  program.addCommand(unload);
};
