import { availableParallelism } from 'node:os';
import { Option } from 'commander';
import { wholeNumber } from './whole-number-option.ts';

/** More threads than this wait for the one that writes. Convention of this program. */
const MOST_BY_DEFAULT = 8;
const MOST_ASKED_FOR = 64;

/** `--jobs N`: threads that work at the same time. */
export function jobsOption(about: string): Option {
  return new Option('--jobs <count>', `${about} (default: one a core, at most ${MOST_BY_DEFAULT})`).argParser((text) =>
    wholeNumber(text, { what: '--jobs', where: '--jobs', least: 1, most: MOST_ASKED_FOR }),
  );
}

export function defaultJobs(): number {
  return Math.min(MOST_BY_DEFAULT, availableParallelism());
}
