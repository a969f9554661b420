import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline/promises';
import { restoreStore } from '../../etl/store/backup.ts';
import { storePath } from '../config.ts';
import { answer, command, type AddCommand, type CommonOptions } from './command.ts';

/** `restore FILE`: puts a backup in the place of the store, after asking. */
export const addRestore: AddCommand = (program, context) => {
  const restore = command('restore', 'put a backup in the place of the store', [
    'crankledger restore fleet-2026-03-01.sqlite',
    'crankledger restore fleet-2026-03-01.sqlite --yes',
  ]);
  restore.argument('<file>', 'what the command backup wrote');
  restore.option('--yes', 'do not ask');
  restore.action(async (file: string, options: CommonOptions & { yes?: boolean }) => {
    const path = storePath(options.store, context.env);
    // Before anybody is asked: a misspelt name is no question.
    if (!existsSync(file)) throw new RangeError(`restore requires a file that exists, got nothing there (${file})`);
    if (options.yes !== true && existsSync(path)) await confirm(path);
    restoreStore(file, path);
    await answer(options, context, { value: { file, path }, words: `${path} restored from ${file}\n` });
  });
  program.addCommand(restore);
};

async function confirm(path: string): Promise<void> {
  if (!process.stdin.isTTY)
    throw new RangeError(`restore requires --yes where nobody can be asked, got none (${path} would be replaced)`);
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  const answer = await terminal.question(`Replace ${path}? It is kept beside it as .replaced. [y/N] `);
  terminal.close();
  if (!/^y(es)?$/i.test(answer.trim()))
    throw new RangeError(`restore requires a yes, got ${answer.trim() || 'nothing'}`);
}
