import type { App, AppContext } from '../app-context.ts';
import { Imports } from '../contract/imports.ts';
import { importsView } from '../views/imports-view.ts';

/** What was loaded, and the units that rows wait for. */
export function importsRoute(app: App, { store, storeKind }: AppContext): void {
  const schema = { response: { 200: Imports }, summary: 'The files that were loaded' };
  app.get('/api/imports', { schema }, async () => ({ store: storeKind, ...(await importsView(store)) }));
}
