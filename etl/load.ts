import { createCanCranks } from './signal/can-cranks.ts';
import type { FoundCranks } from './signal/crank-finder.ts';
import { createCrankFinder } from './signal/crank-finder.ts';
import { finishCranks } from './signal/finish.ts';
import { keptOnsets } from './signal/retention.ts';
import { openBytes, type FileBytes } from './readers/byte-stream.ts';
import type { FinishedTable } from './model/crank.ts';
import type { Kind } from './model/kinds.ts';
import type { Unit } from './model/unit.ts';
import type { Reader, ReaderSink, ReadReport } from './readers/reader.ts';
import { sniffFile } from './readers/sniff.ts';
import type { ImportWriter, Store } from './store/store.ts';
import { UnreadableFile, type SetAside } from './model/set-aside.ts';
import { alikeUnits } from './alike-units.ts';
import { findFiles, type FoundFile } from './load-files.ts';

export type LoadProgress = (progress: { file: string; bytes: number; totalBytes: number }) => void;

export type LoadOptions = {
  /** The clock, µs: stamps the import, and tells a logger's clock that runs ahead. */
  nowUs: number;
  onProgress?: LoadProgress;
  /** Engines finished of all that a load has touched. */
  onFinish?: (done: number, total: number) => void;
};

export type FileReport = {
  file: string;
  /** `loaded`, `already` (the same bytes are there), `unreadable` (why stands in the first set-aside row). */
  result: 'loaded' | 'already' | 'unreadable';
  kind: Kind | null;
  importId: number | null;
  /** Rows used. */
  taken: number;
  setAside: number;
  /** Reasons and how often each came, most frequent first. */
  reasons: { reason: string; rows: number }[];
  /** The first few set-aside rows. */
  examples: SetAside[];
  /** Cranks found in a waveform file or a bus log. */
  cranks: number;
  unknownColumns: string[];
  notes: string[];
};

export type LoadReport = {
  files: FileReport[];
  /** Units that rows wait for: not in the register. */
  waiting: { unit: string; rows: number }[];
  /** Spellings that may be one unit: offered, never merged. */
  alike: string[][];
  taken: number;
  setAside: number;
};

/**
 * Loads files and folders into the store. Each file appears as a whole or not at all; one that cannot be read does not
 * stop the others. Killed at any moment and run again, it ends in the same store.
 * Throws UnreadableFile for a path that does not exist.
 */
export async function loadPaths(store: Store, paths: readonly string[], options: LoadOptions): Promise<LoadReport> {
  const found = await findFiles(paths);
  const files = found.unreadable.map(({ path, reason }) => unreadable(path, reason));
  const totalBytes = found.files.reduce((sum, file) => sum + file.bytes, 0);
  const known = await store.imports();
  let before = 0;
  for (const file of found.files) {
    const onBytes = (bytes: number) => options.onProgress?.({ file: file.path, bytes: before + bytes, totalBytes });
    files.push(await loadFile(file, { store, known, onBytes, nowUs: options.nowUs }));
    before += file.bytes;
  }
  await finishStale(store, options.onFinish);
  const [units, waiting] = [await store.units(), await store.waiting()];
  return {
    files,
    waiting,
    alike: alikeUnits([...units, ...waiting].map(({ unit }) => unit)),
    taken: files.reduce((sum, file) => sum + (file.result === 'loaded' ? file.taken : 0), 0),
    setAside: files.reduce((sum, file) => sum + file.setAside, 0),
  };
}

type FileContext = {
  store: Store;
  known: Awaited<ReturnType<Store['imports']>>;
  onBytes: (bytes: number) => void;
  nowUs: number;
};

async function loadFile(file: FoundFile, context: FileContext): Promise<FileReport> {
  const { store, known, onBytes } = context;
  try {
    const sniffed = await sniffFile({ path: file.path, bytes: openBytes(file.path) });
    if ('unrecognised' in sniffed) return unreadable(file.path, sniffed.unrecognised);
    const { reader } = sniffed;
    const twin = await liveTwin(file, reader, known);
    if (twin !== null)
      return { ...emptyReport(file.path, 'already'), kind: reader.kind, importId: twin.importId, taken: twin.taken };
    const writer = await store.beginImport({
      file: file.path,
      kind: reader.kind,
      bytes: file.bytes,
      profile: '',
      reader: reader.name,
      readerVersion: reader.version,
    });
    return await readInto(openBytes(file.path, onBytes), { file, reader, writer, nowUs: context.nowUs });
  } catch (error) {
    if (error instanceof UnreadableFile) return unreadable(file.path, error.message);
    throw error;
  }
}

/** A live import of the same bytes; files are hashed for it only where one of the same size is there. */
async function liveTwin(file: FoundFile, reader: Reader, known: FileContext['known']) {
  const same = known.filter(
    (one) =>
      one.bytes === file.bytes &&
      one.reader === reader.name &&
      one.readerVersion === reader.version &&
      one.profile === '',
  );
  if (same.length === 0) return null;
  const bytes = openBytes(file.path);
  try {
    for await (const _ of bytes) continue;
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
  }
  const sha256 = hashOf(bytes);
  return same.find((one) => one.sha256 === sha256 && one.file === file.path) ?? null;
}

/** A file that breaks off is still read to its end by the stream, so that it has a hash. */
function hashOf(bytes: FileBytes): string | null {
  try {
    return bytes.hash();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

type Reading = { file: FoundFile; reader: Reader; writer: ImportWriter; nowUs: number };

async function readInto(bytes: FileBytes, { file, reader, writer, nowUs }: Reading): Promise<FileReport> {
  const report = emptyReport(file.path, 'loaded');
  const tally = new Map<string, number>();
  const sink = sinkInto(writer, (rows) => {
    for (const { reason } of rows) tally.set(reason, (tally.get(reason) ?? 0) + 1);
    report.examples.push(...rows.slice(0, 5 - report.examples.length));
  });
  try {
    const read = await reader.read({ path: file.path, bytes }, sink, { nowUs });
    const signal = await sink.close();
    const end = endOf(read, signal.setAside);
    const sha256 = bytes.hash();
    const verdict = await writer.commit({ sha256, ...end, unknownColumns: read.unknownColumns, loadedUs: nowUs });
    report.result = verdict === 'live' ? 'loaded' : 'already';
    const reasons = [...tally].map(([reason, rows]) => ({ reason, rows })).sort((a, b) => b.rows - a.rows);
    const { unknownColumns, notes } = read;
    const { importId } = writer;
    return { ...report, ...end, importId, kind: reader.kind, reasons, cranks: signal.cranks, unknownColumns, notes };
  } catch (error) {
    await writer.abandon();
    throw error;
  }
}

/** The recorder may set aside samples that the reader took. */
function endOf(read: ReadReport, bySignal: number): { taken: number; setAside: number } {
  return { taken: read.taken - bySignal, setAside: read.setAside + bySignal };
}

type LoadSink = ReaderSink & { close(): Promise<{ setAside: number; cranks: number }> };

/** Rows go to the store as they come; samples through the crank finder first. */
function sinkInto(writer: ImportWriter, onSetAside: (rows: SetAside[]) => void): LoadSink {
  const finder = createCrankFinder();
  const canCranks = createCanCranks();
  const count = { setAside: 0, cranks: 0 };
  const setAside = async (rows: SetAside[]) => {
    onSetAside(rows);
    await writer.setAside(rows);
  };
  const store = async (finding: { cranks: FoundCranks[]; setAside: SetAside[] }) => {
    for (const { unit, position, measured, waveforms } of finding.cranks) {
      count.cranks += measured.count;
      await writer.measured(unit, position, measured);
      if (waveforms.length > 0) await writer.waveforms(waveforms);
    }
    count.setAside += finding.setAside.length;
    if (finding.setAside.length > 0) await setAside(finding.setAside);
  };
  return {
    units: (rows) => writer.units(rows),
    fittedParts: (rows) => writer.fittedParts(rows),
    workOrders: (rows) => writer.workOrders(rows),
    benchResults: (rows) => writer.benchResults(rows),
    troubleCodes: (rows) => writer.troubleCodes(rows),
    bays: (rows) => writer.bays(rows),
    shopVisits: (rows) => writer.shopVisits(rows),
    cranks: (batch) => writer.cranks(batch),
    samples: (batch) => store(finder.push(batch)),
    busSignals: (batch) => store({ cranks: canCranks.push(batch), setAside: [] }),
    setAside,
    progress: () => undefined,
    async close() {
      await store(finder.end());
      await store({ cranks: canCranks.end(), setAside: [] });
      return count;
    },
  };
}

/**
 * Brings every engine whose measured rows changed up to date: which cranks count, speed, pattern, starts, kept
 * waveforms. One engine at a time, each in one short transaction: it may be killed and taken up again at any moment.
 */
export async function finishStale(store: Store, onFinish?: (done: number, total: number) => void): Promise<number> {
  const stale = await store.staleEngines();
  const { keptNewestWaveforms } = await store.settings();
  for (const [index, engine] of stale.entries()) {
    // In this order: what becomes known after `measured` marks the engine as stale anew.
    const sources = await store.measured(engine);
    const unit = await store.unit(engine.unit);
    const table = finishCranks(sources, unit);
    await store.writeFinished(engine, table, keptOf(table, unit, keptNewestWaveforms));
    onFinish?.(index + 1, stale.length);
  }
  return stale.length;
}

/** While a unit waits for the register all its waveforms are kept: only the register can tell a slow crank. */
function keptOf(table: FinishedTable, unit: Unit | null, newest: number): Float64Array {
  return unit === null ? table.columns.timeUs.subarray(0, table.count) : keptOnsets(table, newest);
}

function emptyReport(file: string, result: FileReport['result']): FileReport {
  return {
    file,
    result,
    kind: null,
    importId: null,
    taken: 0,
    setAside: 0,
    reasons: [],
    examples: [],
    cranks: 0,
    unknownColumns: [],
    notes: [],
  };
}

function unreadable(file: string, reason: string): FileReport {
  const row = { line: 0, field: '', value: '', reason };
  return { ...emptyReport(file, 'unreadable'), setAside: 1, reasons: [{ reason, rows: 1 }], examples: [row] };
}
