import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import type { StartCommand } from '../../api/background-runs.ts';
import { buildApp } from '../../api/app.ts';
import { Run, type Runs } from '../../api/contract/run.ts';
import { awkwardFleet, NOW_MS } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';
import { dateUs } from '../../etl/model/time.ts';

/** A command that ends when the test says so. */
function heldCommand() {
  const given: string[][] = [];
  let end: (code: number) => void = () => undefined;
  let fail: (why: Error) => void = () => undefined;
  let say: (words: string) => void = () => undefined;
  const startCommand: StartCommand = (words, onWords) => {
    given.push([...words]);
    say = onWords;
    return new Promise((resolve, reject) => ([end, fail] = [resolve, reject]));
  };
  return {
    given,
    startCommand,
    end: (code: number) => end(code),
    fail: (why: Error) => fail(why),
    say: (w: string) => say(w),
  };
}

async function served(startCommand?: StartCommand, begin: { begin?: 'backtest' } = {}) {
  const store = memoryStore({ ...awkwardFleet(), newestUs: dateUs('2026-03-10') });
  const options = { ...begin, store, storeKind: 'own' as const, webFolder: '/nowhere', now: () => NOW_MS };
  const app = await buildApp(startCommand === undefined ? options : { ...options, startCommand });
  const start = (payload: object) => app.inject({ method: 'POST', url: '/api/runs', payload });
  const runs = async () => (await app.inject('/api/runs')).json<Runs>();
  return { start, runs };
}

describe('work beside the server', () => {
  it('assesses a past day: started at once, followed by its words, done when the command ends', async () => {
    const held = heldCommand();
    const { start, runs } = await served(held.startCommand);
    expect(await runs()).toEqual({ canRun: true, run: null });
    const started = await start({ what: 'assess', asOf: '2026-01-10' });
    expect(started.statusCode).toBe(202);
    expect([...Value.Errors(Run, started.json())]).toEqual([]);
    expect(held.given).toEqual([['assess', '--as-of', '2026-01-10']]);
    held.say('assessing 2026-01-10: 40 %');
    expect((await runs()).run).toEqual({
      what: 'assess',
      asOf: '2026-01-10',
      state: 'running',
      says: 'assessing 2026-01-10: 40 %',
    });
    held.end(0);
    await expect.poll(async () => (await runs()).run?.state).toBe('done');
  });

  it('one at a time: the next is refused while it runs, and taken once it has ended', async () => {
    const held = heldCommand();
    const { start, runs } = await served(held.startCommand);
    await start({ what: 'backtest' });
    const second = await start({ what: 'assess', asOf: '2026-01-10' });
    expect([second.statusCode, second.json<{ detail: string }>().detail]).toEqual([
      409,
      'assess requires that nothing else runs, got backtest at work',
    ]);
    expect(held.given).toEqual([['backtest']]);
    held.end(2);
    await expect.poll(async () => (await runs()).run?.state).toBe('failed');
    expect((await start({ what: 'assess', asOf: '2026-01-10' })).statusCode).toBe(202);
    held.fail(new Error('no such program'));
    await expect.poll(async () => (await runs()).run).toMatchObject({ state: 'failed', says: 'no such program' });
  });

  it('begins by itself with what it is told to', async () => {
    const held = heldCommand();
    const { runs } = await served(held.startCommand, { begin: 'backtest' });
    expect(held.given).toEqual([['backtest']]);
    expect((await runs()).run).toMatchObject({ what: 'backtest', state: 'running' });
  });

  it.each([
    [{ what: 'assess', asOf: '2026-03-11' }, 400, 'assess requires a day that data reach, got 2026-03-11'],
    [{ what: 'assess', asOf: 'soon' }, 400, 'asOf requires a date YYYY-MM-DD, got soon'],
    [{ what: 'load' }, 400, /what requires one of assess, backtest, got load/],
  ])('refuses %o', async (payload, status, detail) => {
    const held = heldCommand();
    const { start } = await served(held.startCommand);
    const response = await start(payload);
    expect(response.statusCode).toBe(status);
    expect(response.json<{ detail: string }>().detail).toMatch(detail);
    expect(held.given).toEqual([]);
  });

  it('a store with a register alone tells no day: 409, and what to load', async () => {
    const store = memoryStore(awkwardFleet());
    const app = await buildApp({ store, storeKind: 'own', webFolder: '/nowhere', now: () => NOW_MS });
    const response = await app.inject({ method: 'POST', url: '/api/runs', payload: { what: 'backtest' } });
    expect([response.statusCode, response.json()]).toMatchObject([
      409,
      {
        detail: 'a run requires a crank or record to tell the date, got neither',
        remedy: 'Load cranks or repair records first.',
      },
    ]);
  });

  it('a server that starts no commands says so', async () => {
    const { start, runs } = await served();
    expect(await runs()).toEqual({ canRun: false, run: null });
    expect((await start({ what: 'backtest' })).statusCode).toBe(501);
  });
});
