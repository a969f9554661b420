import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { BenchTests } from '../contract/bench-tests.ts';
import { requireUnit } from '../views/known-unit.ts';
import { BENCH_TESTS, benchTest } from '../../etl/model/bench-tests.ts';
import { isoInstant } from '../../etl/model/time.ts';

const Query = Type.Object(
  { unit: Type.Optional(Type.String({ minLength: 1, description: 'its results alone; those of all if left out' })) },
  { additionalProperties: false },
);

/** What can be measured on the bench and on the vehicle, what it should read, and what was loaded of it. */
export function benchTestsRoute(app: App, { store, now }: AppContext): void {
  const schema = { querystring: Query, response: { 200: BenchTests }, summary: 'Tests, and what was measured' };
  app.get('/api/bench-tests', { schema }, async ({ query }) => {
    const unit = query.unit === undefined ? undefined : (await requireUnit(store, query.unit)).unit;
    const results = (await store.benchResults(now() * 1000, unit)).map(({ timeUs, enteredUs, ...result }) => ({
      ...result,
      at: isoInstant(timeUs),
      unitOfMeasure: benchTest(result.test).unitOfMeasure,
      enteredAt: enteredUs === null ? null : isoInstant(enteredUs),
    }));
    return { tests: [...BENCH_TESTS], results };
  });
}
