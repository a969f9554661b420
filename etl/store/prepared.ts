import type { Database, Statement } from 'better-sqlite3';

const known = new WeakMap<Database, Map<string, Statement>>();

/**
 * A statement prepared once for each connection and text: preparing costs as much as some dozen rows, which counts where
 * many small files are loaded. For texts of a fixed set, run to their end before they are used again.
 */
export function prepared(sqlite: Database, text: string): Statement {
  let own = known.get(sqlite);
  if (own === undefined) known.set(sqlite, (own = new Map<string, Statement>()));
  let statement = own.get(text);
  if (statement === undefined) own.set(text, (statement = sqlite.prepare(text)));
  return statement;
}
