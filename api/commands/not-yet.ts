import { Command } from 'commander';
import { programVersion } from '../config.ts';
import type { AddCommand } from './command.ts';

/** Commands that are promised and not there yet: whoever tries one is told so, and what to do until then. */
const NOT_YET = {
  plan: {
    does: 'books replacements into bays',
    instead: 'until then export ranking says what to book, and by when',
  },
  watch: {
    does: 'loads what arrives in a folder',
    instead: 'until then run load on the folder again: what is in is not read twice',
  },
} as const;
type NotYet = keyof typeof NOT_YET;

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

export function notYet(name: NotYet, where: string = name): RangeError {
  const { does, instead } = NOT_YET[name];
  return new RangeError(`${where} requires a version that ${does}, got ${programVersion()} (${instead})`);
}
