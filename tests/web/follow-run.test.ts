import { expect, it } from 'vitest';
import type { Run } from '../../api/contract/run.ts';
import { followRun } from '../../web/follow-run.ts';

const run = (state: Run['state']): Run => ({ what: 'unload', asOf: null, state, says: '' });

function answering(...states: Run['state'][]) {
  const left = [...states];
  return { runs: async () => ({ canRun: true, run: run(left.shift() ?? 'done') }) };
}

it('waits until what runs has ended, and tells how', async () => {
  const { signal } = new AbortController();
  expect(await followRun(answering('running', 'failed', 'done'), { stop: signal })).toEqual(run('failed'));
  expect(await followRun({ runs: async () => ({ canRun: true, run: null }) }, { stop: signal })).toBeNull();
});

it('stops asking once nobody listens', async () => {
  const gone = new AbortController();
  let asked = 0;
  const client = {
    runs: async () => {
      if (++asked === 2) gone.abort();
      return { canRun: true, run: run('running') };
    },
  };
  expect(await followRun(client, { stop: gone.signal })).toBeNull();
  expect(asked).toBe(2);
});
