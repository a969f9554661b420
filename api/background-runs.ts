/**
 * Work that takes longer than a request may, such as the assessment of a past day: a command in a process of its own, so
 * that pages are answered meanwhile. One at a time, since each takes a core; the next is refused while it runs.
 */
import type { Run } from './contract/run.ts';
import { ProblemError } from './problem-error.ts';

/** Starts a command of this program on the store that is served; resolves with its exit code. */
export type StartCommand = (words: readonly string[], onWords: (words: string) => void) => Promise<number>;

/** `words`: what the command is given. */
export type Task = Pick<Run, 'what' | 'asOf'> & { words: readonly string[] };

export type BackgroundRuns = {
  canRun: boolean;
  /** What runs, or ran last. */
  current(): Run | null;
  start(task: Task): Run;
};

export function createBackgroundRuns(startCommand: StartCommand | null): BackgroundRuns {
  let current: Run | null = null;
  return {
    canRun: startCommand !== null,
    current: () => current,
    start({ what, asOf, words }) {
      if (startCommand === null)
        throw new ProblemError(501, `${what} requires a server that starts commands, got one that does not`, BY_HAND);
      if (current?.state === 'running')
        throw new ProblemError(
          409,
          `${what} requires that nothing else runs, got ${current.what} at work`,
          'Wait for it.',
        );
      const run: Run = { what, asOf, state: 'running', says: '' };
      current = run;
      startCommand([what, ...words], (said) => (run.says = said)).then(
        (code) => (run.state = code === 0 ? 'done' : 'failed'),
        (error: unknown) => {
          run.state = 'failed';
          run.says = error instanceof Error ? error.message : String(error);
        },
      );
      return run;
    },
  };
}

const BY_HAND = 'Give the command in a terminal, as the page shows it.';
