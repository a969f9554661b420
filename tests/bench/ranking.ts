import { buildApp } from '../../api/app.ts';
import { assessedStore, NOW_MS } from '../support/fleet-app.ts';
import { unit } from '../support/units.ts';

const UNITS = 5000;
const REPEATS = 7;

/** `/api/ranking` of 5,000 units (10,000 rows): built anew after each change of a setting, and out of the cache. */
export async function bench(): Promise<{ name: string; figures: Record<string, number> }> {
  const units = Array.from({ length: UNITS }, (_, index) => unit({ unit: `U${index}` }));
  const store = await assessedStore({ imports: [], units, engines: [] });
  const app = await buildApp({ store, storeKind: 'own', webFolder: '', now: () => NOW_MS });
  const timed = async () => {
    const from = performance.now();
    await app.inject('/api/ranking');
    return performance.now() - from;
  };
  const [built, cached]: [number[], number[]] = [[], []];
  for (let repeat = 0; repeat < REPEATS; repeat++) {
    await store.saveSettings({ roadCallMinor: 50_000 + repeat });
    built.push(await timed());
    cached.push(await timed());
  }
  const median = (values: number[]) => Math.round(values.toSorted((a, b) => a - b)[REPEATS >> 1]! * 10) / 10;
  return { name: 'ranking', figures: { rows: 2 * UNITS, builtMs: median(built), cachedMs: median(cached) } };
}
