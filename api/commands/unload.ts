import { finishStale } from '../../etl/loading/finish-stale.ts';
import type { Kind } from '../../etl/model/kinds.ts';
import { answer, command, withStore, type AddCommand, type CommonOptions } from './command.ts';
import { counted } from '../../etl/model/counted.ts';

const HOLDS_CRANKS: readonly Kind[] = ['waveform', 'cranks', 'can_log'];
/** Cranks and their figures come back as they were; raw samples are let go for good, since they are not kept twice. */
const LET_GO =
  'samples of earlier cranks that were let go for newer ones of this file do not come back: to see them, unload and load their file again';

/** `unload IMPORT`: takes one file back, as if it had never been loaded. */
export const addUnload: AddCommand = (program, context) => {
  const unload = command('unload', 'take one file back', ['crankledger unload 3']);
  unload.argument('<import>', 'its number in the list that the command imports prints');
  unload.action(async (text: string, options: CommonOptions) => {
    if (!/^\d{1,15}$/.test(text))
      throw new RangeError(`unload requires the number of an import, got ${text} (see the command imports)`);
    const { importId, file, kind, taken, assessed } = await withStore(options, context, async (store) => {
      const record = await store.unload(Number(text));
      await finishStale(store);
      return { ...record, assessed: (await store.assessments()).length > 0 };
    });
    const words = `import ${importId} taken back: ${file}, ${counted(taken, 'row')} of kind ${kind}\n`;
    await answer(options, context, { value: { importId, file, kind, taken }, words });
    if (HOLDS_CRANKS.includes(kind)) context.console.note(LET_GO);
    if (assessed) context.console.note('run assess again: the ranking still rests on it');
  });
  program.addCommand(unload);
};
