import type { App } from '../app-context.ts';
import { NOT_YET, notYetWords, type NotYet } from '../not-yet.ts';
import { ProblemError } from '../problem-error.ts';

const ADDRESSES: Readonly<Record<string, NotYet>> = { '/api/plan': 'plan', '/api/policies': 'policies' };

/** Addresses that are promised: 501 tells whoever relies on them that they are right, and early. */
export function notYetRoutes(app: App): void {
  for (const [address, name] of Object.entries(ADDRESSES))
    app.get(address, { schema: { hide: true } }, () => {
      const { instead } = NOT_YET[name];
      throw new ProblemError(501, notYetWords(name, address), `${instead.charAt(0).toUpperCase()}${instead.slice(1)}.`);
    });
}
