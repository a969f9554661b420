import { describe, expect, it } from 'vitest';
import { buildApp } from '../../api/app.ts';
import type { StoreKind } from '../../api/contract/scalars.ts';
import { importRecord, NOW_MS } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

const aside = (line: number, field: string, reason: string, value = 'x') => ({
  file: 'cranks.csv',
  line,
  field,
  value,
  reason,
});

async function served(storeKind: StoreKind = 'own') {
  const given: string[][] = [];
  const store = memoryStore({
    imports: [importRecord({ importId: 4, file: 'cranks.csv', setAside: 9 })],
    unreadable: [{ file: 'a.parquet', reason: 'file requires a whole file' }],
    setAside: [
      aside(3, 'time', 'time requires a zone'),
      ...[5, 6, 7, 8, 9, 10].map((line) => aside(line, 'rest_volts', 'rest_volts requires a number', `v${line}`)),
      { ...aside(1, 'time', 'of another file'), file: 'other.csv' },
    ],
  });
  const startCommand = (words: readonly string[]) => {
    given.push([...words]);
    return new Promise<number>(() => undefined);
  };
  const app = await buildApp({ store, storeKind, startCommand, webFolder: '/nowhere', now: () => NOW_MS });
  return { app, given };
}

describe('imports', () => {
  it('name the files that could not be read, and how a command names the store', async () => {
    const { app } = await served();
    expect((await app.inject('/api/imports')).json()).toMatchObject({
      store: 'own',
      storeOption: '',
      unreadable: [{ file: 'a.parquet', reason: 'file requires a whole file' }],
    });
  });

  it('each reason for setting aside stands once, the most frequent first, with the first rows it met', async () => {
    const { app } = await served();
    expect((await app.inject('/api/imports/4/set-aside')).json()).toEqual({
      importId: 4,
      setAside: 9,
      kept: 7,
      reasons: [
        {
          field: 'rest_volts',
          reason: 'rest_volts requires a number',
          rows: 6,
          first: [5, 6, 7, 8, 9].map((line) => ({ line, value: `v${line}` })),
        },
        { field: 'time', reason: 'time requires a zone', rows: 1, first: [{ line: 3, value: 'x' }] },
      ],
    });
  });

  it('one is taken back beside the server, one at a time', async () => {
    const { app, given } = await served();
    const taken = await app.inject({ method: 'DELETE', url: '/api/imports/4' });
    expect([taken.statusCode, taken.json()]).toEqual([202, { what: 'unload', asOf: null, state: 'running', says: '' }]);
    expect((await app.inject({ method: 'DELETE', url: '/api/imports/4' })).statusCode).toBe(409);
    expect(given).toEqual([['unload', '4']]);
  });

  it.each([
    ['DELETE', '/api/imports/5', 'own', 404, 'import requires the number of a loaded file, got 5'],
    ['GET', '/api/imports/5/set-aside', 'own', 404, 'import requires the number of a loaded file, got 5'],
    ['DELETE', '/api/imports/4', 'sample', 409, 'unload requires a store of your own, got the sample'],
    ['DELETE', '/api/imports/--all', 'own', 400, /importId requires/],
  ] as const)('%s %s of the %s store is refused with %i', async (method, url, kind, status, detail) => {
    const { app, given } = await served(kind);
    const response = await app.inject({ method, url });
    expect(response.statusCode).toBe(status);
    expect(response.json<{ detail: string }>().detail).toMatch(detail);
    expect(given).toEqual([]);
  });
});
