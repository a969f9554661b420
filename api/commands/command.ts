import { Command } from 'commander';
import type { Store } from '../../etl/store/store.ts';
import { openStore } from '../../etl/store/open-store.ts';
import { storePath, type Environment } from '../config.ts';
import type { CommandConsole } from './command-console.ts';
import { terminalWords } from './terminal-words.ts';

/** What a command is given of the outside world. */
export type CommandContext = {
  console: CommandConsole;
  env: Environment;
  /** Milliseconds since 1970. */
  now: () => number;
  /** Exit code 1: done, but not all of it. */
  doneInPart: () => void;
  /** Exit code 130: asked to stop before it was done. */
  interrupted: () => void;
};

/** Adds one command to the program. */
export type AddCommand = (program: Command, context: CommandContext) => void;

export type CommonOptions = { store?: string; json?: boolean };

/** A command with what all of them take, and an example in its help. */
export function command(name: string, about: string, examples: readonly string[]): Command {
  return new Command(name)
    .description(about)
    .option('--store <path>', 'the store to work on (default: CRANKLEDGER_STORE, else in the data folder)')
    .option('--json', 'print machine-readable results')
    .addHelpText('after', `\nExamples:\n${examples.map((each) => `  ${each}`).join('\n')}`);
}

/** Opens the store that is asked for, does the work and closes it, whatever happens. */
export async function withStore<Result>(
  { store }: CommonOptions,
  context: CommandContext,
  work: (store: Store) => Promise<Result>,
): Promise<Result> {
  const opened = await openStore(storePath(store, context.env));
  try {
    return await work(opened);
  } finally {
    opened.close();
  }
}

/** What a command found: for a machine with `--json`, else in words. */
export async function answer(
  { json }: CommonOptions,
  { console }: CommandContext,
  found: { value: unknown; words: string },
): Promise<void> {
  await console.result(json === true ? jsonLine(found.value) : terminalWords(found.words));
}

export const jsonLine = (value: unknown) => `${JSON.stringify(value)}\n`;
