import type { App, AppContext } from '../app-context.ts';
import { newestDay } from '../assess-and-rank.ts';
import { Run, RunRequest, Runs } from '../contract/run.ts';
import { ProblemError } from '../problem-error.ts';

/** Assessments of past days and backtests, worked out beside the server. */
export function runRoutes(app: App, { store, runs, now }: AppContext): void {
  app.get(
    '/api/runs',
    { schema: { response: { 200: Runs }, summary: 'What is being worked out beside the server' } },
    async () => ({ canRun: runs.canRun, run: runs.current() }),
  );
  app.post(
    '/api/runs',
    { schema: { body: RunRequest, response: { 202: Run }, summary: 'Assesses a past day, or runs the backtest' } },
    async ({ body: { what, asOf } }, reply) => {
      if ((await store.imports()).length === 0)
        throw new ProblemError(409, `${what} requires loaded data, got an empty store`, 'Load a folder first.');
      const on = await newestOn(store, now() * 1000);
      if (what === 'assess' && asOf !== undefined && asOf > on)
        throw new ProblemError(400, `assess requires a day that data reach, got ${asOf}`, `The newest is ${on}.`);
      const day = what === 'assess' ? (asOf ?? on) : null;
      return reply.code(202).send(runs.start({ what, asOf: day, words: day === null ? [] : ['--as-of', day] }));
    },
  );
}

/** A register alone tells no day: that is said of the store, not as a failure of the server. */
async function newestOn(store: AppContext['store'], nowUs: number): Promise<string> {
  try {
    return (await newestDay(store, nowUs)).on;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const detail = 'a run requires a crank or record to tell the date, got neither';
    throw new ProblemError(409, detail, 'Load cranks or repair records first.');
  }
}
