import type { ImportRecord, Store } from '../../etl/store/store.ts';
import type { ImportSetAside } from '../contract/imports.ts';
import { ProblemError } from '../problem-error.ts';

/** So many rows of a reason show what is meant; the export has them all. Convention of this program. */
const EXAMPLES = 5;

/** Why rows of one file were set aside: each reason once, the most frequent first, with the first rows that it met. */
export async function importSetAsideView(store: Store, importId: number): Promise<ImportSetAside> {
  const live = await requireImport(store, importId);
  const reasons = new Map<string, ImportSetAside['reasons'][number]>();
  let kept = 0;
  for await (const { field, reason, line, value } of store.setAside(importId)) {
    kept++;
    const key = JSON.stringify([field, reason]);
    const group = reasons.get(key) ?? { field, reason, rows: 0, first: [] };
    group.rows++;
    if (group.first.length < EXAMPLES) group.first.push({ line, value });
    reasons.set(key, group);
  }
  const byFrequency = [...reasons.values()].sort((a, b) => b.rows - a.rows);
  return { importId, setAside: live.setAside, kept, reasons: byFrequency };
}

export async function requireImport(store: Store, importId: number): Promise<ImportRecord> {
  const live = (await store.imports()).find((each) => each.importId === importId);
  if (live === undefined)
    throw new ProblemError(404, `import requires the number of a loaded file, got ${importId}`, 'Reload the page.');
  return live;
}
