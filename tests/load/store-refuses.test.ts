import { writeFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { loadFile } from '../../etl/loading/file.ts';
import { openSource } from '../../etl/loading/source.ts';
import type { Store } from '../../etl/store/store.ts';
import { freshStore } from '../support/open-stores.ts';
import { NOW_US } from '../support/store-folder.ts';

const fresh = freshStore();

/** Loads a file of two rows into a store whose writer fails with a code of the database. */
async function loadedWith(code: string) {
  const path = fresh.path('cranks.csv');
  const text = 'unit,time,rest_volts,dip_volts,crank_seconds\nU1,2026-01-02T06:00:00Z,12.6,8,0.9\n';
  await writeFile(path, text);
  const store = fresh.store();
  const failing: Store = {
    ...store,
    async beginImport(start) {
      const failure = Object.assign(new Error('no room for this row'), { code });
      return { ...(await store.beginImport(start)), cranks: () => Promise.reject(failure) };
    },
  };
  const { signal } = new AbortController();
  const given = { store: failing, open: openSource, known: [], profile: null, signal, turn: Promise.resolve() };
  return loadFile({ path, bytes: text.length }, { ...given, onBytes: () => undefined, nowUs: NOW_US });
}

it('what the store refuses of a file costs that file alone, and leaves nothing of it', async () => {
  const report = await loadedWith('SQLITE_CONSTRAINT_PRIMARYKEY');
  expect(report).toMatchObject({ result: 'unreadable', taken: 0, setAside: 1 });
  expect(report!.reasons[0]!.reason).toContain('got a failure of the reader (no room for this row)');
  expect(await fresh.store().imports()).toEqual([]);
});

it('a store that fails ends the load', async () => {
  await expect(loadedWith('SQLITE_FULL')).rejects.toThrow('no room for this row');
  expect(await fresh.store().imports()).toEqual([]);
});

it('a code that one line names twice is one code, and costs nothing', async () => {
  const store = fresh.store();
  const start = {
    file: 'bus.log',
    kind: 'can_log',
    bytes: 1,
    profile: '',
    reader: 'candump',
    readerVersion: 1,
  } as const;
  const writer = await store.beginImport(start);
  const row = { unit: 'T-1', position: '', timeUs: NOW_US, code: null, spn: 168, fmi: 4 };
  await writer.troubleCodes([row, row, { ...row, fmi: 3 }].map((each) => ({ line: 7, row: each })));
  const end = { sha256: 'aa', taken: 1, setAside: 0, unknownColumns: [], loadedUs: NOW_US };
  expect(await writer.commit(end)).toBe('live');
  const codes = await store.troubleCodes(Infinity, 'T-1');
  expect(new Set(codes.map(({ spn, fmi }) => `${spn} ${fmi}`))).toEqual(new Set(['168 3', '168 4']));
  expect(codes.length).toBe(2);
});
