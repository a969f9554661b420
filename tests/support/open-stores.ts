import { afterEach, beforeEach } from 'vitest';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { storeFolder } from './store-folder.ts';

/** A fresh store in a folder of its own for each test of the file; `another` is opened as another process would. */
export function freshStore(): { path: (name: string) => string; store: () => Store; another: () => Promise<Store> } {
  let folder: Awaited<ReturnType<typeof storeFolder>>;
  let opened: Store[] = [];
  const open = async () => {
    const store = await openStore(folder.path('store.sqlite'));
    opened.push(store);
    return store;
  };
  beforeEach(async () => {
    folder = await storeFolder();
    opened = [];
    await open();
  });
  afterEach(async () => {
    for (const store of opened) store.close();
    await folder.remove();
  });
  return { path: (name) => folder.path(name), store: () => opened[0]!, another: open };
}
