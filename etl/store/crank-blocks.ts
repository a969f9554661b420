import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm';
import { FINISHED_COLUMNS, type FinishedColumn, type FinishedTable } from '../model/crank.ts';
import type { Engine } from '../model/unit.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { measuredSources } from './crank-rows.ts';
import { spelledEngines } from './engine-dictionary.ts';
import { bytesOf, float64sOf } from './float64-bytes.ts';
import { byText } from './later-known.ts';
import { isLiveOne } from './live-one.ts';
import { prepared } from './prepared.ts';
import { crankBlocks, staleEngines } from './schema/derived.ts';
import { engines, imports, waveforms } from './schema/loaded.ts';
import type { EngineStanding, FinishedWrite, SpelledSource, Store } from './store.ts';
import { unitNames } from './unit-names.ts';

/** Names the columns of a block and their order; a block of another layout is stale. */
const LAYOUT = FINISHED_COLUMNS.join(' ');

/** A new layout makes every block stale. Called when a store is opened for writing. */
export function markOldLayouts({ db }: Connection): void {
  db.run(sql`
    insert into ${staleEngines} (engine_id, mark)
    select engine_id, 0 from ${crankBlocks} where layout <> ${LAYOUT}
    on conflict (engine_id) do nothing`);
}

type BlockMethods = Pick<
  Store,
  | 'staleEngines'
  | 'staleRows'
  | 'standing'
  | 'measured'
  | 'writeFinished'
  | 'writeFinishedAll'
  | 'finished'
  | 'waveform'
  | 'waveformTimes'
>;

/** Finished cranks: one block of Float64 columns an engine, kept in step with the measured rows by stale marks. */
export function crankBlockMethods(connections: StoreConnections): BlockMethods {
  const { reader } = connections;
  const read = new Map<number, EngineStanding>();
  const writeAll = (finished: readonly FinishedWrite[]) => {
    const writer = writerOf(connections);
    inTransaction(writer, () => {
      for (const { engine, table, keep, standing } of finished) {
        const now = standingOf(writer, engine.engineId);
        const then = standing ?? read.get(engine.engineId) ?? now;
        const unmoved = now.mark === then.mark && now.answered === then.answered;
        if (unmoved) writeBlock(writer, engine, { table, keep, mark: now.mark });
      }
    });
    for (const { engine } of finished) read.delete(engine.engineId);
  };
  return {
    async staleEngines() {
      const { nameOf } = unitNames(reader);
      return reader.db
        .select({ engineId: engines.engineId, unit: engines.unit, position: engines.position })
        .from(staleEngines)
        .innerJoin(engines, eq(engines.engineId, staleEngines.engineId))
        .all()
        .map((engine) => ({ ...engine, unit: nameOf(engine.unit) }))
        .sort((a, b) => byText(a.unit, b.unit) || byText(a.position, b.position));
    },
    async staleRows() {
      const rows = 'select coalesce(sum(rows), 0) from import_engines';
      const all = prepared(reader.sqlite, `${rows} where engine_id in (select engine_id from stale_engines)`);
      return Number(all.pluck().get());
    },
    standing: async ({ engineId }) => standingOf(reader, engineId),
    async measured({ engineId }): Promise<SpelledSource[]> {
      read.set(engineId, standingOf(reader, engineId));
      return measuredSources(reader, engineId);
    },
    writeFinished: async (engine, table, keep, standing) =>
      writeAll([{ engine, table, keep, ...(standing === undefined ? {} : { standing }) }]),
    writeFinishedAll: async (finished) => writeAll(finished),
    async finished({ engineId }) {
      const block = reader.db
        .select()
        .from(crankBlocks)
        .where(and(eq(crankBlocks.engineId, engineId), eq(crankBlocks.layout, LAYOUT)))
        .get();
      return block === undefined ? null : tableOf(block.count, block.columns);
    },
    async waveform({ engineId }, crankUs) {
      const row = liveWaveforms(reader, engineId, crankUs).get();
      return row === undefined ? null : new Uint8Array(row.samples);
    },
    async waveformTimes({ engineId }) {
      const rows = reader.db
        .selectDistinct({ crankUs: waveforms.crankUs })
        .from(waveforms)
        .innerJoin(imports, and(eq(imports.importId, waveforms.importId), eq(imports.state, 'live')))
        .where(inArray(waveforms.engineId, numbersOf(reader, engineId)))
        .orderBy(asc(waveforms.crankUs))
        .all();
      return Float64Array.from(rows, (row) => row.crankUs);
    },
  };
}

/**
 * Where either part of the standing has moved since the rows were read, another process has changed the rows or answered
 * the change: what was finished from the former rows must neither clear that mark, nor replace that block, nor prune
 * waveforms of which it does not know.
 */
function standingOf({ sqlite }: Connection, engineId: number): EngineStanding {
  return prepared(
    sqlite,
    `select (select mark from stale_engines where engine_id = ?) as mark,
            (select mark from crank_blocks where engine_id = ?) as answered`,
  ).get(engineId, engineId) as EngineStanding;
}

/** The numbers of an engine, one for each spelling of its unit. */
const numbersOf = (connection: Connection, engineId: number) =>
  spelledEngines(connection, engineId).map((spelled) => spelled.engineId);

/** Of one crank that two files hold: the waveform with more samples, at a tie of the greater content hash. */
function liveWaveforms(connection: Connection, engineId: number, crankUs: number) {
  return connection.db
    .select({ samples: waveforms.samples })
    .from(waveforms)
    .innerJoin(imports, and(eq(imports.importId, waveforms.importId), eq(imports.state, 'live')))
    .where(and(inArray(waveforms.engineId, numbersOf(connection, engineId)), eq(waveforms.crankUs, crankUs)))
    .orderBy(desc(waveforms.sampleCount), desc(imports.sha256))
    .limit(1);
}

type Block = { table: FinishedTable; keep: Float64Array; mark: number | null };

function writeBlock(writer: Connection, { engineId }: Engine, { table, keep, mark }: Block): void {
  const { sqlite } = writer;
  const columns = blockOf(table);
  prepared(
    sqlite,
    `insert into crank_blocks (engine_id, mark, layout, count, columns) values (?, ?, ?, ?, ?)
     on conflict (engine_id) do update set
       mark = excluded.mark, layout = excluded.layout, count = excluded.count, columns = excluded.columns`,
  ).run(engineId, mark, LAYOUT, table.count, columns);
  pruneWaveforms(writer, engineId, keep);
  prepared(sqlite, 'delete from stale_engines where engine_id = ?').run(engineId);
}

/** The columns one behind the other: as they lie, where they do. */
function blockOf({ count, columns }: FinishedTable): Buffer {
  const parts = FINISHED_COLUMNS.map((name) => columns[name].subarray(0, count));
  const { buffer, byteOffset } = parts[0]!;
  const lieSo = parts.every((part, at) => part.buffer === buffer && part.byteOffset === byteOffset + at * count * 8);
  return lieSo ? Buffer.from(buffer, byteOffset, parts.length * count * 8) : Buffer.concat(parts.map(bytesOf));
}

function pruneWaveforms(writer: Connection, engineId: number, keep: Float64Array): void {
  const kept = new Set(keep);
  for (const number of numbersOf(writer, engineId)) pruneSpelled(writer, number, kept);
}

/** Only waveforms of live imports: those of a load at work are not this engine's yet. */
function pruneSpelled({ sqlite }: Connection, engineId: number, kept: ReadonlySet<number>): void {
  const standing = prepared(
    sqlite,
    `select crank_us, import_id from waveforms where engine_id = ? and ${isLiveOne('waveforms')}`,
  ).all(engineId) as { crank_us: number; import_id: number }[];
  const drop = prepared(sqlite, 'delete from waveforms where engine_id = ? and crank_us = ? and import_id = ?');
  for (const row of standing) if (!kept.has(row.crank_us)) drop.run(engineId, row.crank_us, row.import_id);
}

function tableOf(count: number, bytes: Buffer): FinishedTable {
  const values = float64sOf(bytes);
  const columns = Object.fromEntries(
    FINISHED_COLUMNS.map((name, index) => [name, values.subarray(index * count, (index + 1) * count)]),
  );
  return { count, columns: columns as Record<FinishedColumn, Float64Array> };
}
