import type { App } from '../../api/app-context.ts';
import { buildApp } from '../../api/app.ts';
import type { StoreKind } from '../../api/contract/scalars.ts';
import { emptyTable, FINISHED_COLUMNS, type FinishedTable } from '../../etl/model/crank.ts';
import type { Outlook } from '../../etl/model/outlook.ts';
import { asOf, dateUs, US_PER_DAY } from '../../etl/model/time.ts';
import { PATTERNS } from '../../etl/model/words.ts';
import type { ImportRecord, Store } from '../../etl/store/store.ts';
import { memoryStore, type MemoryContents, type MemoryStore } from './memory-store.ts';
import { exponentialSurvival, outlook } from './outlooks.ts';
import { unit } from './units.ts';

/** Unit numbers as tired or hostile people write them: a path, markup, a formula, letters and signs. */
export const AWKWARD_UNITS = [
  '../../x',
  '<img src=x onerror=alert(1)>',
  "=cmd|' /C calc'!A0",
  'ü/14 %',
  '+1',
  '-',
  '@a',
];

export const NOW_MS = Date.parse('2026-04-01T12:00:00Z');
export const AS_OF = asOf('2026-03-10');

export function importRecord(known: Partial<ImportRecord> = {}): ImportRecord {
  return {
    importId: 1,
    file: 'cranks.csv',
    kind: 'cranks',
    sha256: 'aa',
    bytes: 100,
    profile: '',
    reader: 'cranks-csv',
    readerVersion: 1,
    state: 'live',
    taken: 3,
    setAside: 0,
    unknownColumns: [],
    loadedUs: dateUs('2026-03-11'),
    ...known,
  };
}

/** So many steady cranks, one a day up to the as-of day. */
export function steadyCranks(count: number): FinishedTable {
  const table = emptyTable(FINISHED_COLUMNS, count);
  for (let index = 0; index < count; index++) {
    const timeUs = dateUs('2026-03-10') - (count - 1 - index) * US_PER_DAY + 123_456;
    table.columns.timeUs[index] = timeUs;
    table.columns.startUs[index] = timeUs;
    table.columns.source[index] = 1;
    table.columns.importId[index] = 1;
    table.columns.line[index] = index + 2;
    table.columns.restVolts[index] = 12.6;
    table.columns.dipVolts[index] = 7.2;
    table.columns.pattern[index] = PATTERNS.indexOf('steady');
    table.columns.quality[index] = 0;
  }
  return table;
}

export function awkwardFleet(): MemoryContents {
  const units = ['U1', ...AWKWARD_UNITS];
  return {
    imports: [importRecord()],
    units: units.map((each) => unit({ unit: each })),
    engines: units.map((each, index) => ({ engineId: index + 1, unit: each, position: '' })),
    finished: new Map(units.map((_, index) => [index + 1, steadyCranks(5)])),
  };
}

/** A store of awkward units, assessed on 2026-03-10. */
export async function assessedStore(contents: MemoryContents = awkwardFleet()): Promise<MemoryStore> {
  const store = memoryStore(contents);
  await store.saveAssessment(
    { asOf: AS_OF, lives: [], trends: [], outlooks: outlooksOf(contents), fleet: null },
    NOW_MS * 1000,
    await store.inputsVersion(),
  );
  return store;
}

function outlooksOf({ units }: MemoryContents): Outlook[] {
  return (units ?? []).flatMap(({ unit }, index) => [
    outlook({ unit, survival: exponentialSurvival(200 + 100 * index) }),
    outlook({ unit, component: 'starter', survival: exponentialSurvival(3000 + 100 * index) }),
  ]);
}

export function appOver(store: Store, storeKind: StoreKind = 'own'): Promise<App> {
  return buildApp({ store, storeKind, webFolder: '/nowhere', now: () => NOW_MS });
}
