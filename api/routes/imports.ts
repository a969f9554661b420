import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { Imports, ImportSetAside } from '../contract/imports.ts';
import { Run } from '../contract/run.ts';
import { ProblemError } from '../problem-error.ts';
import { importSetAsideView, requireImport } from '../views/import-set-aside-view.ts';
import { importsView } from '../views/imports-view.ts';
import { servedWords } from '../views/served-store.ts';

const Params = Type.Object({ importId: Type.Integer({ minimum: 1 }) });

/** What was loaded, what was set aside of it and why, and the units that rows wait for. */
export function importsRoutes(app: App, context: AppContext): void {
  const { store, storeKind, runs } = context;
  const schema = { response: { 200: Imports }, summary: 'The files that were loaded' };
  app.get('/api/imports', { schema }, async () => ({ ...servedWords(context), ...(await importsView(store)) }));
  app.get(
    '/api/imports/:importId/set-aside',
    { schema: { params: Params, response: { 200: ImportSetAside }, summary: 'Why rows of a file were set aside' } },
    ({ params }) => importSetAsideView(store, params.importId),
  );
  app.delete(
    '/api/imports/:importId',
    { schema: { params: Params, response: { 202: Run }, summary: 'Takes a loaded file back, beside the server' } },
    async ({ params: { importId } }, reply) => {
      await requireImport(store, importId);
      if (storeKind === 'sample')
        throw new ProblemError(409, 'unload requires a store of your own, got the sample', 'Load your files first.');
      return reply.code(202).send(runs.start({ what: 'unload', asOf: null, words: [String(importId)] }));
    },
  );
}
