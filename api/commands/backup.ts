import { existsSync } from 'node:fs';
import { storePath } from '../config.ts';
import { answer, command, withStore, type AddCommand, type CommonOptions } from './command.ts';

/** `backup FILE`: a consistent copy of the store while it is in use. */
export const addBackup: AddCommand = (program, context) => {
  const backup = command('backup', 'copy the store while it is in use', ['crankledger backup fleet-2026-03-01.sqlite']);
  backup.argument('<file>', 'a file that does not exist yet');
  backup.action(async (file: string, options: CommonOptions) => {
    const path = storePath(options.store, context.env);
    // Opening makes a store where there is none: the copy of a misspelt one would pass for a backup.
    if (!existsSync(path)) throw new RangeError(`backup requires a store, got none (${path})`);
    await withStore(options, context, (store) => store.backup(file));
    await answer(options, context, { value: { file }, words: `store copied to ${file}\n` });
  });
  program.addCommand(backup);
};
