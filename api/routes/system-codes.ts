import type { App, AppContext } from '../app-context.ts';
import { SystemCodes } from '../contract/system-codes.ts';
import { systemCodesView } from '../views/system-codes-view.ts';

/** What the fleet's own codes are, so that somebody can say which component each means. */
export function systemCodesRoute(app: App, { store, answers }: AppContext): void {
  const schema = { response: { 200: SystemCodes }, summary: 'The fleet’s own repair codes and what they mean' };
  app.get('/api/system-codes', { schema, config: { cached: true } }, async (request, reply) => {
    const parts = ['system-codes', await store.inputsVersion(), await store.settingsVersion()];
    const make = async () => JSON.stringify(await systemCodesView(store));
    return answers.send({ request, reply }, { parts, type: 'application/json', make });
  });
}
