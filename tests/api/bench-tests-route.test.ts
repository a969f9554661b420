import { afterAll, beforeAll, expect, it } from 'vitest';
import type { App } from '../../api/app-context.ts';
import type { BenchTests } from '../../api/contract/bench-tests.ts';
import { BENCH_TESTS } from '../../etl/model/bench-tests.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { appOver, NOW_MS } from '../support/fleet-app.ts';
import { imported, lined } from '../support/imported.ts';
import { storeFolder } from '../support/store-folder.ts';

let folder: Awaited<ReturnType<typeof storeFolder>>;
let store: Store;
let app: App;
const DAY_US = 86_400e6;
const NOW_US = NOW_MS * 1000;

beforeAll(async () => {
  folder = await storeFolder();
  store = await openStore(folder.path('store.sqlite'));
  const result = { position: '', note: null, enteredUs: null };
  await imported(store, 'tests.csv', async (writer) =>
    writer.benchResults(
      lined(
        { ...result, unit: 'U2', timeUs: NOW_US - 2 * DAY_US, test: 'brush_length', value: 9.5, position: 'left' },
        { ...result, unit: 'U1', timeUs: NOW_US - 3 * DAY_US, test: 'cold_cranking_amps', value: 610, note: 'cold' },
        { ...result, unit: 'U1', timeUs: NOW_US - 1 * DAY_US, test: 'brush_length', value: 8, enteredUs: NOW_US + 1 },
      ),
    ),
  );
  app = await appOver(store);
});
afterAll(async () => {
  await app.close();
  store.close();
  await folder.remove();
});

it('lists every test with what it should read, and what was measured and is known by now', async () => {
  const { tests, results } = (await app.inject('/api/bench-tests')).json<BenchTests>();
  expect(tests).toEqual(BENCH_TESTS);
  expect(results).toEqual([
    {
      unit: 'U1',
      position: '',
      at: '2026-03-29T12:00:00Z',
      test: 'cold_cranking_amps',
      value: 610,
      unitOfMeasure: 'A',
      note: 'cold',
      enteredAt: null,
    },
    expect.objectContaining({ unit: 'U2', position: 'left', test: 'brush_length', value: 9.5, unitOfMeasure: 'mm' }),
  ]);
});

it('of one unit alone', async () => {
  const { results } = (await app.inject('/api/bench-tests?unit=U2')).json<BenchTests>();
  expect(results.map(({ unit }) => unit)).toEqual(['U2']);
});
