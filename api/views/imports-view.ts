import type { Imports } from '../contract/imports.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';

export async function importsView(store: Store): Promise<Omit<Imports, 'store' | 'storeOption'>> {
  const [imports, waiting, unreadable] = await Promise.all([store.imports(), store.waiting(), store.unreadable()]);
  return {
    imports: imports.map(({ importId, file, kind, bytes, taken, setAside, unknownColumns, loadedUs }) => ({
      importId,
      file,
      kind,
      bytes,
      taken,
      setAside,
      unknownColumns,
      loadedAt: loadedUs === null ? null : isoInstant(loadedUs),
    })),
    waiting,
    unreadable: unreadable.map(({ file, reason }) => ({ file, reason })),
  };
}
