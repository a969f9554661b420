import type { Outcome } from './read-input.ts';

/** Room for what the child writes of where it is. */
export const AT_BYTES = 400;
/** An input must not cost more. By the wall the limit is wider, since the machine may have other work. */
export const CPU_SECONDS = 1;
export const WALL_SECONDS = 10;
/** Of one process, whatever it reads. */
export const MOST_RSS_MIB = 600;

export type Finding = { index: number; sample: string; what: string; path: string };

export type ToParent =
  | ({ is: 'outcome' } & Outcome)
  | ({ is: 'finding' } & Finding)
  /** An undamaged sample was not read whole: the run would say little. */
  | { is: 'unsound'; sample: string; outcome: Outcome };
