import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { aliasMethods, aliasVersion } from './alias-store.ts';
import { distinctionMethods } from './distinction-store.ts';
import { assessmentMethods, sweepAssessments } from './assessment-store.ts';
import { backtestMethods, sweepBacktests } from './backtest-store.ts';
import { backupStore } from './backup.ts';
import { CommitGroup } from './commit-group.ts';
import { connect, writerOf, type StoreConnections } from './connection.ts';
import { crankBlockMethods, markOldLayouts } from './crank-blocks.ts';
import { liveEngine, liveEngines, liveEnginesOf } from './engine-dictionary.ts';
import { ImportHead } from './import-head.ts';
import { beginImport } from './import-writer.ts';
import { inputsVersion, liveImports, unload } from './live-imports.ts';
import { newestKnown, partsKnown, setAsideOf, unitsKnown, waitingUnits, workOrdersKnown } from './loaded-queries.ts';
import { migrateStore, storeMigrations, storeVersion } from './migrate.ts';
import { processIdentity } from './process-identity.ts';
import type { Store } from './store.ts';
import { bayHours, benchResultsKnown, plannedVisits, troubleCodesKnown } from './shop-queries.ts';
import { sweepOrphans } from './sweep.ts';
import { readingMethods, readingRulesVersion } from './reading-store.ts';
import { reassessmentMethods } from './reassessment-store.ts';
import { typedMethods } from './typed-store.ts';
import { noteUnreadable, unreadableRows } from './unreadable-files.ts';

/**
 * Opens a store; for writing it is made or brought up to date first, and what killed loads left behind is swept.
 * Throws RangeError for a file that is no store, one of a newer program, or (read-only) one that is not there or older.
 */
export async function openStore(path: string, options: { readonly?: boolean } = {}): Promise<Store> {
  const connections = options.readonly === true ? openForReading(path) : openForWriting(path);
  const { reader, writer } = connections;
  const me = processIdentity(process.pid);
  let group: CommitGroup | null = null;
  return {
    path,
    close() {
      reader.sqlite.close();
      writer?.sqlite.close();
    },
    async beginImport(start) {
      const own = writerOf(connections);
      group ??= new CommitGroup(own);
      return beginImport(own, new ImportHead(own, start, me), group);
    },
    imports: async () => liveImports(reader),
    unload: async (importId) => unload(connections, importId),
    setAside: (importId) => setAsideOf(reader, importId),
    unreadable: async () => unreadableRows(reader),
    noteUnreadable: async (met) => noteUnreadable(connections, met),
    waiting: async () => waitingUnits(reader),
    engines: async (unit) => (unit === undefined ? liveEngines(reader) : liveEnginesOf(reader, unit)),
    engine: async (unit, position) => liveEngine(reader, unit, position),
    units: async (asOfUs, unit) => unitsKnown(reader, asOfUs, unit),
    unit: async (unit) => unitsKnown(reader, Infinity, unit)[0] ?? null,
    fittedParts: async (asOfUs, unit) => partsKnown(reader, asOfUs, unit),
    workOrders: async (asOfUs, unit) => workOrdersKnown(reader, asOfUs, unit),
    benchResults: async (asOfUs, unit) => benchResultsKnown(reader, asOfUs, unit),
    troubleCodes: async (asOfUs, unit) => troubleCodesKnown(reader, asOfUs, unit),
    bays: async () => bayHours(reader),
    shopVisits: async (unit) => plannedVisits(reader, unit),
    inputsVersion: async () => inputsVersion(reader) + readingRulesVersion(reader) + aliasVersion(reader),
    newestKnownUs: async (limitUs) => newestKnown(reader, limitUs),
    ...crankBlockMethods(connections),
    ...assessmentMethods(connections, me),
    ...reassessmentMethods(connections),
    ...backtestMethods(connections, me),
    ...typedMethods(connections),
    ...readingMethods(connections),
    ...aliasMethods(connections),
    ...distinctionMethods(connections),
    backup: async (file) => backupStore(reader, file),
  };
}

function openForWriting(path: string): StoreConnections {
  mkdirSync(dirname(path), { recursive: true });
  const writer = explained(path, () => connect(path, 'writer'));
  try {
    migrateStore(writer);
    sweepOrphans(writer);
    sweepAssessments(writer);
    sweepBacktests(writer);
    markOldLayouts(writer);
    return { path, writer, reader: connect(path, 'reader') };
  } catch (error) {
    writer.sqlite.close();
    throw error;
  }
}

function openForReading(path: string): StoreConnections {
  if (!existsSync(path)) throw new RangeError(`a store requires a file that exists, got nothing there (${path})`);
  const reader = explained(path, () => connect(path, 'reader'));
  const known = storeMigrations().length;
  const version = storeVersion(reader, known);
  if (version < known) {
    reader.sqlite.close();
    throw new RangeError(
      `reading requires a store of version ${known}, got ${version}: any writing command updates it (${path})`,
    );
  }
  return { path, reader, writer: null };
}

function explained<Result>(path: string, open: () => Result): Result {
  try {
    return open();
  } catch (error) {
    if (error instanceof RangeError) throw error;
    const got = error instanceof Error ? error.message : String(error);
    throw new RangeError(`a store requires a file that this program made, got ${got} (${path})`, { cause: error });
  }
}
