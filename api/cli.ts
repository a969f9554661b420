#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { addAlias } from './commands/alias.ts';
import { addAssess } from './commands/assess.ts';
import { addBacktest } from './commands/backtest.ts';
import { addBackup } from './commands/backup.ts';
import { processConsole } from './commands/command-console.ts';
import type { AddCommand, CommandContext } from './commands/command.ts';
import { addExport } from './commands/export.ts';
import { addImports } from './commands/imports.ts';
import { addLoad } from './commands/load.ts';
import { addRestore } from './commands/restore.ts';
import { addServe } from './commands/serve.ts';
import { addSimulate } from './commands/simulate.ts';
import { addTests } from './commands/tests.ts';
import { addUnload } from './commands/unload.ts';
import { programVersion } from './config.ts';
import { failureWords } from './failure-words.ts';

/** In the order in which they are used. */
const COMMANDS: readonly AddCommand[] = [
  addLoad,
  addImports,
  addUnload,
  addAlias,
  addAssess,
  addBacktest,
  addExport,
  addServe,
  addBackup,
  addRestore,
  addSimulate,
  addTests,
];

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
  .version(programVersion())
  .showHelpAfterError('(--help explains)');
for (const add of COMMANDS) add(program, context);
const own = [program, ...program.commands, ...program.commands.flatMap(({ commands }) => commands)];
for (const each of own) each.exitOverride();

try {
  await program.parseAsync(process.argv);
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? DONE : COULD_NOT;
  else {
    console.note(failureWords(error));
    process.exitCode = COULD_NOT;
  }
}
