import type { App, AppContext } from '../app-context.ts';
import { Assessments } from '../contract/assessments.ts';
import { isoInstant } from '../../etl/model/time.ts';

/** The days that were assessed: a page can be moved back to each. */
export function assessmentsRoute(app: App, { store, storeOption = '' }: AppContext): void {
  const schema = { response: { 200: Assessments }, summary: 'The days that were assessed' };
  app.get('/api/assessments', { schema }, async () => ({
    days: (await store.assessments()).map(({ asOf, computedUs }) => ({
      asOf: asOf.label,
      asOfOn: asOf.on,
      computedAt: isoInstant(computedUs),
    })),
    storeOption,
  }));
}
