import { Command } from 'commander';
import { NOT_YET, notYetWords, type NotYet } from '../not-yet.ts';
import type { AddCommand } from './command.ts';

export const addPlan: AddCommand = (program) => addNotYet(program, 'plan');
export const addWatch: AddCommand = (program) => addNotYet(program, 'watch');

/** Takes whatever comes with it, so that the answer is about the command and not about an option. Not in the list. */
function addNotYet(program: Command, name: NotYet): void {
  const command = new Command(name).description(`${NOT_YET[name].does}: not in this version`);
  command.allowUnknownOption().allowExcessArguments();
  command.action(() => {
    throw notYet(name);
  });
  program.addCommand(command, { hidden: true });
}

export function notYet(name: NotYet, asked: string = name): RangeError {
  return new RangeError(`${notYetWords(name, asked)} (${NOT_YET[name].instead})`);
}
