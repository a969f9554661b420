import type { Store } from '../../etl/store/store.ts';

/** Raised whenever the same outlooks, settings and decisions give other rows: what an older program ranked is ranked anew. */
const RANKING_RULES = 2;

/** What a stored ranking rests on, beside its assessment: equal as long as ranking anew would give the same rows. */
export async function rankingBasis(store: Pick<Store, 'settingsVersion'>): Promise<string> {
  return `${RANKING_RULES}-${await store.settingsVersion()}`;
}
