import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import type { Lined } from '../readers/reader.ts';
import { BATCH_BYTES, batchQueue, inBatches } from './batch-queue.ts';
import { bulkInsert, bulkInsertOnce } from './bulk-insert.ts';
import type { CommitGroup } from './commit-group.ts';
import { inTransaction, type Connection } from './connection.ts';
import { contentHash } from './content-hash.ts';
import { crankImport } from './crank-import.ts';
import type { ImportHead } from './import-head.ts';
import { dropImport, markStale } from './live-imports.ts';
import { prepared } from './prepared.ts';
import {
  bayRows,
  benchResultRows,
  partRows,
  setAsideRows,
  shopVisitRows,
  troubleCodeRows,
  unitRows,
  workOrderRows,
} from './schema/loaded.ts';
import type { ImportWriter } from './store.ts';
import { sweepImport } from './sweep.ts';

/** Set-aside rows of one file that are kept in detail; the count is whole. */
const SET_ASIDE_KEPT = 10_000;

type End = Parameters<ImportWriter['commit']>[0];

/** Begins an import: no query sees its rows until `commit`, which writes the last of them together with those of others. */
export function beginImport(writer: Connection, head: ImportHead, group: CommitGroup): ImportWriter {
  const { sqlite } = writer;
  const queue = batchQueue((work) => head.inTransaction(work));
  const cranks = crankImport(writer, head);
  /** A row of the model has the columns of its table by name. */
  const write = (table: SQLiteTable, rows: Lined<object>[], insert = bulkInsert) => {
    for (const some of inBatches(rows)) {
      const bytes = textBytes(some);
      queue.add({ rows: some.length, bytes }, (importId) => insert(sqlite, table, storedRows(importId, some)));
      // Pages of long texts are not met again: kept, they would fill the cache.
      if (bytes >= BATCH_BYTES) sqlite.pragma('shrink_memory');
    }
  };
  let setAsideKept = 0;

  return {
    get importId() {
      return head.importId;
    },
    units: async (rows) => write(unitRows, rows),
    fittedParts: async (rows) => write(partRows, rows),
    workOrders: async (rows) => write(workOrderRows, rows),
    benchResults: async (rows) => write(benchResultRows, rows),
    // A message may name a code twice: one line, one content.
    troubleCodes: async (rows) => write(troubleCodeRows, rows, bulkInsertOnce),
    bays: async (rows) => write(bayRows, rows),
    shopVisits: async (rows) => write(shopVisitRows, rows),
    async cranks(batch) {
      cranks.batch(batch);
    },
    async measured(unit, position, table) {
      if (table.count === 0) return;
      queue.add({ rows: table.count }, (importId) => cranks.table(importId, { unit, position }, table));
    },
    async waveforms(kept) {
      for (const { unit, position, crankUs, sampleCount, samples } of kept)
        queue.add({ rows: 1, bytes: samples.byteLength }, (importId) => {
          const engineId = cranks.engineId(unit, position);
          keepWaveform(writer).run(engineId, crankUs, importId, sampleCount, Buffer.from(samples));
        });
    },
    async setAside(rows) {
      const [from, kept] = [setAsideKept, rows.slice(0, SET_ASIDE_KEPT - setAsideKept)];
      setAsideKept += kept.length;
      queue.add({ rows: kept.length }, (importId) => {
        const stored = kept.map((row, index) => ({ importId, seq: from + index, ...row }));
        bulkInsert(sqlite, setAsideRows, stored);
      });
    },
    async commit(end) {
      cranks.flush();
      const { write: last, ...size } = queue.take();
      const { importId, result } = await group.commit(size, () =>
        head.within((id) => {
          last(id);
          return flip(writer, id, end);
        }),
      );
      head.written(importId);
      for (const id of result.gone) sweepImport(writer, id);
      return result.verdict;
    },
    async abandon() {
      queue.clear();
      const { importId } = head;
      if (importId !== null && inTransaction(writer, () => hide(writer, importId))) sweepImport(writer, importId);
    },
  };
}

function storedRows(importId: number, rows: readonly Lined<object>[]) {
  return rows.map(({ line, row }) => ({ importId, line, contentHash: contentHash(row), ...row }));
}

/** Complaints may be long: rows of them fill a batch sooner. Two bytes a character at the most, as they are held. */
function textBytes(rows: readonly Lined<object>[]): number {
  let characters = 0;
  for (const { row } of rows)
    for (const value of Object.values(row)) if (typeof value === 'string') characters += value.length;
  return 2 * characters;
}

/** A log may hold a capture twice (two copies put together): of one crank in one file the longer waveform is kept. */
function keepWaveform({ sqlite }: Connection) {
  return prepared(
    sqlite,
    `insert into waveforms (engine_id, crank_us, import_id, sample_count, samples) values (?, ?, ?, ?, ?)
     on conflict (engine_id, crank_us, import_id) do update set
       sample_count = excluded.sample_count, samples = excluded.samples
     where excluded.sample_count > waveforms.sample_count`,
  );
}

/** What an import is told by, beside its bytes; raw, as all that each of many small files asks for. */
const IDENTITY = 'import_id as importId, profile, reader, reader_version as readerVersion';
type Identity = { importId: number; profile: string; reader: string; readerVersion: number };

/**
 * The one moment at which a file appears. Bytes are the same by their hash alone: the size was looked up before they
 * were read, and a log may have grown in between. The same bytes read in the same way are there already: this import goes, and
 * leaves its path. The same bytes read in another way (profile, reader): the former import goes, and leaves its paths.
 * Returns the ids of what went, for sweeping.
 */
function flip(writer: Connection, importId: number, end: End): { verdict: 'live' | 'already'; gone: number[] } {
  const { sqlite } = writer;
  const own = prepared(sqlite, `select ${IDENTITY}, state from imports where import_id = ?`).get(importId) as
    (Identity & { state: string }) | undefined;
  if (own?.state !== 'loading') throw new Error(`commit requires an import that is loading, got ${own?.state} (store)`);
  const former = prepared(
    sqlite,
    `select ${IDENTITY} from imports where sha256 = ? and state = 'live' order by import_id`,
  ).all(end.sha256) as Identity[];
  const twin = former.find(
    (one) => one.profile === own.profile && one.reader === own.reader && one.readerVersion === own.readerVersion,
  );
  if (twin) {
    inheritPaths(writer, importId, twin.importId);
    hide(writer, importId);
    return { verdict: 'already', gone: [importId] };
  }
  for (const { importId: old } of former) {
    inheritPaths(writer, old, importId);
    dropImport(writer, old);
  }
  prepared(
    sqlite,
    `update imports set sha256 = ?, taken = ?, set_aside = ?, unknown_columns = ?, loaded_us = ?, state = 'live', loader = ''
     where import_id = ?`,
  ).run(end.sha256, end.taken, end.setAside, JSON.stringify(end.unknownColumns), end.loadedUs, importId);
  markStale(writer, importId, importId);
  return { verdict: 'live', gone: former.map((one) => one.importId) };
}

/** Whether there was anything to hide: what has appeared stays, whatever failed afterwards. */
function hide({ sqlite }: Connection, importId: number): boolean {
  const drop = `update imports set state = 'dropped', loader = '' where import_id = ? and state = 'loading'`;
  return prepared(sqlite, drop).run(importId).changes > 0;
}

function inheritPaths({ sqlite }: Connection, from: number, to: number): void {
  prepared(
    sqlite,
    `insert into import_files (import_id, file) select ?, file from import_files where import_id = ?
     on conflict do nothing`,
  ).run(to, from);
}
