import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import { FINISHED_COLUMNS } from '../../etl/model/crank.ts';
import type { Store } from '../../etl/store/store.ts';

/** Everything that a store shows, without its internal numbers: two stores with the same dump are the same store. */
export async function storeDump(store: Store): Promise<Record<string, unknown>> {
  const imports = await store.imports();
  const fileOf = new Map(imports.map((each) => [each.importId, basename(each.file)]));
  const cranks: Record<string, unknown> = {};
  for (const engine of await store.engines()) {
    const table = await store.finished(engine);
    const columns = FINISHED_COLUMNS.filter((name) => name !== 'importId').map((name) =>
      [...(table?.columns[name] ?? [])].join(),
    );
    const files = [...(table?.columns.importId ?? [])].map((id) => fileOf.get(id));
    const waveforms = await Promise.all(
      [...(await store.waveformTimes(engine))].map(async (us) => [us, hash(await store.waveform(engine, us))]),
    );
    cranks[`${engine.unit}/${engine.position}`] = {
      count: table?.count ?? 0,
      columns: hash(columns.join('\n')),
      files,
      waveforms,
    };
  }
  const setAside = [];
  for await (const { file, ...row } of store.setAside()) setAside.push({ file: basename(file), ...row });
  return {
    imports: imports
      .map(({ file, kind, sha256, taken, setAside: aside }) => [basename(file), kind, sha256, taken, aside].join(' '))
      .sort(),
    units: await store.units(),
    parts: await store.fittedParts(Infinity),
    orders: await store.workOrders(Infinity),
    benchResults: await store.benchResults(Infinity),
    codes: await store.troubleCodes(Infinity),
    bays: await store.bays(),
    visits: await store.shopVisits(),
    waiting: await store.waiting(),
    stale: (await store.staleEngines()).length,
    cranks,
    setAside: setAside.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1)),
  };
}

function hash(content: Uint8Array | string | null): string {
  return content === null ? '' : createHash('sha256').update(content).digest('hex').slice(0, 16);
}
