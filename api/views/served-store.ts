import type { StoreKind } from '../contract/scalars.ts';

/** Which store is served, and how a command names it. */
export type ServedStore = {
  storeKind: StoreKind;
  /** Words to add to a command so that it works on this store, ` --store /a/b`; none for the default one. */
  storeOption?: string;
};

/** As answers say it. */
export function servedWords({ storeKind, storeOption = '' }: ServedStore): { store: StoreKind; storeOption: string } {
  return { store: storeKind, storeOption };
}
