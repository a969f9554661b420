/**
 * Runs work that may be asked to stop: the first Ctrl-C (or SIGTERM) aborts the signal, so that the work can end in good
 * order; a second one ends the process at once, as if there were no handler.
 */
export async function stoppable<Result>(work: (signal: AbortSignal) => Promise<Result>): Promise<Result> {
  const interrupt = new AbortController();
  const stop = () => {
    forget();
    interrupt.abort();
  };
  const forget = () => {
    for (const name of ['SIGINT', 'SIGTERM'] as const) process.off(name, stop);
  };
  for (const name of ['SIGINT', 'SIGTERM'] as const) process.on(name, stop);
  try {
    return await work(interrupt.signal);
  } finally {
    forget();
  }
}
