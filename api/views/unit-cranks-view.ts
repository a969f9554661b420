import type { UnitView } from '../contract/unit.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { Engine } from '../../etl/model/unit.ts';
import { PATTERNS, SUSPECTS, type Pattern } from '../../etl/model/words.ts';
import type { Store } from '../../etl/store/store.ts';
import { crankId, isCounted } from './crank-view.ts';

/** What the unit's page needs of its cranks: how many, the newest, which waveforms are kept, what they looked like. */
export type UnitCranks = {
  count: number;
  lastUs: number | null;
  waveforms: UnitView['waveforms'];
  /** By position: how often each pattern occurred among the engine's newest cranks. */
  recentPatterns: Map<string, Partial<Record<Pattern, number>>>;
};

/** So many newest cranks say how the unit cranks now. Convention of this program: two to three weeks of use. */
const RECENT = 50;

export async function unitCranks(store: Store, engines: readonly Engine[], asOfUs: number): Promise<UnitCranks> {
  const cranks: UnitCranks = { count: 0, lastUs: null, waveforms: [], recentPatterns: new Map() };
  for (const engine of engines) await addEngine(cranks, store, { engine, asOfUs });
  cranks.waveforms.sort((a, b) => (a.at < b.at ? -1 : Number(a.at > b.at)));
  return cranks;
}

async function addEngine(
  cranks: UnitCranks,
  store: Store,
  { engine, asOfUs }: { engine: Engine; asOfUs: number },
): Promise<void> {
  const table = await store.finished(engine);
  if (table === null) return;
  const kept = new Set(await store.waveformTimes(engine));
  const times = table.columns.timeUs;
  let known = table.count;
  while (known > 0 && times[known - 1]! > asOfUs) known--;
  const recent: Partial<Record<Pattern, number>> = {};
  cranks.recentPatterns.set(engine.position, recent);
  for (let index = 0; index < known; index++) {
    const timeUs = times[index]!;
    const pattern = PATTERNS[table.columns.pattern[index]!] ?? 'unreadable';
    if (isCounted(table, index)) {
      cranks.count++;
      cranks.lastUs = Math.max(cranks.lastUs ?? timeUs, timeUs);
    }
    if (index >= known - RECENT) recent[pattern] = (recent[pattern] ?? 0) + 1;
    if (kept.has(timeUs))
      cranks.waveforms.push({
        id: crankId(engine, timeUs),
        position: engine.position,
        at: isoInstant(timeUs),
        pattern,
        suspect: SUSPECTS[table.columns.suspect[index]!] ?? null,
      });
  }
}
