#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { processConsole } from './commands/command-console.ts';
import type { AddCommand, CommandContext } from './commands/command.ts';
import { programVersion } from './config.ts';
import { usageWords } from './commands/usage-error.ts';
import { terminalWords } from './commands/terminal-words.ts';
import { failureWords } from './failure-words.ts';

/** In the order in which they are used. Only the one that is asked for is loaded: the whole takes three times as long. */
const COMMANDS: Readonly<Record<string, () => Promise<AddCommand>>> = {
  load: async () => (await import('./commands/load.ts')).addLoad,
  imports: async () => (await import('./commands/imports.ts')).addImports,
  unload: async () => (await import('./commands/unload.ts')).addUnload,
  alias: async () => (await import('./commands/alias.ts')).addAlias,
  assess: async () => (await import('./commands/assess.ts')).addAssess,
  backtest: async () => (await import('./commands/backtest.ts')).addBacktest,
  export: async () => (await import('./commands/export.ts')).addExport,
  serve: async () => (await import('./commands/serve.ts')).addServe,
  backup: async () => (await import('./commands/backup.ts')).addBackup,
  restore: async () => (await import('./commands/restore.ts')).addRestore,
  simulate: async () => (await import('./commands/simulate.ts')).addSimulate,
  tests: async () => (await import('./commands/tests.ts')).addTests,
  plan: async () => (await import('./commands/not-yet.ts')).addPlan,
  watch: async () => (await import('./commands/not-yet.ts')).addWatch,
};

const [DONE, DONE_IN_PART, COULD_NOT] = [0, 1, 2];
/** As shells count a program that Ctrl-C has ended: 128 and the number of SIGINT. */
const INTERRUPTED = 130;

// A reader that has seen enough (`| head`) ends the program; it is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => process.exit(error.code === 'EPIPE' ? DONE : COULD_NOT));

const console = processConsole(Date.now);
const context: CommandContext = {
  console,
  env: process.env,
  now: Date.now,
  doneInPart: () => (process.exitCode = DONE_IN_PART),
  interrupted: () => (process.exitCode = INTERRUPTED),
};

const program = new Command('crankledger')
  .description('Which units of a fleet will next fail to crank, why, and when to pull them in.')
  .version(programVersion());
for (const load of asked(process.argv[2])) (await load())(program, context);
const own = [program, ...program.commands, ...program.commands.flatMap(({ commands }) => commands)];
for (const each of own) {
  each.exitOverride();
  each.configureOutput({ outputError: (text, write) => write(terminalWords(usageWords(text, spokenName(each)))) });
}

try {
  await program.parseAsync(process.argv);
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? DONE : COULD_NOT;
  else {
    console.note(failureWords(error));
    process.exitCode = COULD_NOT;
  }
}

/** `alias add`: as it is typed after the program's name. */
function spokenName(command: Command): string {
  const { parent } = command;
  return parent === null || parent === program ? command.name() : `${spokenName(parent)} ${command.name()}`;
}

/** All of them where none is named: for the help, and for the word nearest to a misspelt one. */
function asked(word: string | undefined): readonly (() => Promise<AddCommand>)[] {
  return word !== undefined && Object.hasOwn(COMMANDS, word) ? [COMMANDS[word]!] : Object.values(COMMANDS);
}
