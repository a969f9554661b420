/** What a made-up fleet has loaded: a file whole, one with rows set aside, one that could not be read. */
import type { Imports, ImportSetAside } from '../../api/contract/imports.ts';

export const FIXTURE_IMPORTS: Imports = {
  store: 'own',
  storeOption: '',
  imports: [
    {
      importId: 1,
      file: '/data/october/cranks.csv',
      kind: 'cranks',
      bytes: 1_400_000,
      taken: 12_400,
      setAside: 0,
      unknownColumns: [],
      loadedAt: '2026-03-01T08:00:00Z',
    },
    {
      importId: 2,
      file: '/data/units.csv',
      kind: 'units',
      bytes: 2100,
      taken: 29,
      setAside: 1,
      unknownColumns: ['colour'],
      loadedAt: '2026-03-01T08:00:01Z',
    },
  ],
  waiting: [{ unit: 'GHOST 1', rows: 80 }],
  unreadable: [{ file: '/data/empty.csv', reason: 'file requires a header row, got an empty file' }],
};

export const FIXTURE_SET_ASIDE: ImportSetAside = {
  importId: 2,
  setAside: 1,
  kept: 1,
  reasons: [
    { field: 'system_volts', reason: 'system_volts requires 12 or 24', rows: 1, first: [{ line: 11, value: '36' }] },
  ],
};
