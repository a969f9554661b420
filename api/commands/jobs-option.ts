import { availableParallelism } from 'node:os';
import { Option } from 'commander';

/** More threads than this wait for the one that writes. Convention of this program. */
const MOST_BY_DEFAULT = 8;
const MOST_ASKED_FOR = 64;

/** `--jobs N`: threads that work at the same time. */
export function jobsOption(about: string): Option {
  return new Option('--jobs <count>', `${about} (default: one a core, at most ${MOST_BY_DEFAULT})`).argParser(jobsOf);
}

export function defaultJobs(): number {
  return Math.min(MOST_BY_DEFAULT, availableParallelism());
}

function jobsOf(text: string): number {
  const jobs = Number(text);
  if (/^\d{1,3}$/.test(text) && jobs >= 1 && jobs <= MOST_ASKED_FOR) return jobs;
  throw new RangeError(`--jobs requires a whole number from 1 to ${MOST_ASKED_FOR}, got ${text} (--jobs)`);
}
