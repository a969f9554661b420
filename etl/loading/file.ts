import type { FoundFile } from './files.ts';
import { emptyReport, SetAsideTally, unreadable, type FileReport } from './report.ts';
import { intoWriter, type StoreSink } from './sink.ts';
import type { OpenedSource, OpenSource, SourceEnd } from './source.ts';
import type { ImportProfile } from '../model/import-profile.ts';
import { UnreadableFile } from '../model/set-aside.ts';
import { profileHash } from '../readers/profile/profile-hash.ts';
import { isConstraintFailure } from '../store/constraint-failure.ts';
import type { ImportWriter, Store } from '../store/store.ts';

export type FileContext = {
  store: Store;
  open: OpenSource;
  known: Awaited<ReturnType<Store['imports']>>;
  onBytes: (bytes: number) => void;
  nowUs: number;
  profile: ImportProfile | null;
  signal: AbortSignal;
  /** Settles when this file may appear. */
  turn: Promise<unknown>;
  /** Called once all of it is read and the store has it, to appear with others. */
  onHandedOver?: () => void;
};

class Interrupted extends Error {}
/** What the store throws ends the whole load; what a reader throws costs its file. */
class StoreFailed extends Error {}

/** Loads one file, whole or not at all. Null where the load was asked to stop before it was done. */
export async function loadFile(file: FoundFile, context: FileContext): Promise<FileReport | null> {
  const { signal } = context;
  if (signal.aborted) return null;
  try {
    const { onBytes, nowUs, profile } = context;
    const source = await context.open(file, { onBytes, read: { nowUs, profile }, signal });
    if ('unrecognised' in source) return unreadable(file.path, source.unrecognised);
    try {
      return await loadSource(file, source, context);
    } finally {
      source.close();
    }
  } catch (error) {
    if (error instanceof StoreFailed && isConstraintFailure(error.cause))
      return unreadable(file.path, reasonOf(error.cause));
    if (error instanceof StoreFailed) throw error.cause;
    if (error instanceof Interrupted || signal.aborted) return null;
    return unreadable(file.path, reasonOf(error));
  } finally {
    if (!signal.aborted) context.onBytes(file.bytes);
  }
}

function reasonOf(error: unknown): string {
  if (error instanceof UnreadableFile) return error.message;
  const got = error instanceof Error ? error.message : String(error);
  return `file requires content that its reader gets through, got a failure of the reader (${got})`;
}

function stopIfAsked(signal: AbortSignal): void {
  if (signal.aborted) throw new Interrupted('load requires not to be interrupted, got an interrupt (load)');
}

async function loadSource(file: FoundFile, source: OpenedSource, context: FileContext): Promise<FileReport> {
  const { reader } = source;
  const profile = reader.byProfile === true && context.profile !== null ? profileHash(context.profile) : '';
  const twin = await liveTwin(file, source, { known: context.known, profile });
  stopIfAsked(context.signal);
  if (twin !== null)
    return { ...emptyReport(file.path, 'already'), kind: reader.kind, importId: twin.importId, taken: twin.taken };
  const writer = await stored(async () =>
    context.store.beginImport({
      file: file.path,
      kind: reader.kind,
      bytes: file.bytes,
      profile,
      reader: reader.name,
      readerVersion: reader.version,
    }),
  );
  try {
    return await readInto(file, { source, writer, profile }, context);
  } catch (error) {
    await stored(async () => writer.abandon());
    throw error;
  }
}

type Twins = { known: FileContext['known']; profile: string };

/** A live import of the same bytes; files are hashed for it only where one of the same size is there. */
async function liveTwin(file: FoundFile, source: OpenedSource, { known, profile }: Twins) {
  const same = readAlike(known, source, profile).filter(({ bytes }) => bytes === file.bytes);
  if (same.length === 0) return null;
  const sha256 = await source.hash();
  return same.find((one) => one.sha256 === sha256 && one.file === file.path) ?? null;
}

/** Imports that were read in the same way. */
function readAlike(known: FileContext['known'], { reader }: OpenedSource, profile: string): FileContext['known'] {
  return known.filter(
    (one) => one.reader === reader.name && one.readerVersion === reader.version && one.profile === profile,
  );
}

type Reading = { source: OpenedSource; writer: ImportWriter; profile: string };

async function readInto(file: FoundFile, reading: Reading, context: FileContext): Promise<FileReport> {
  const { source, writer, profile } = reading;
  const tally = new SetAsideTally();
  const sink = guarded(
    intoWriter(writer, (rows) => tally.add(rows)),
    context.signal,
  );
  const { read, sha256, bySignal } = await source.readInto(sink);
  source.close();
  await context.turn;
  stopIfAsked(context.signal);
  const { unknownColumns, notes } = read;
  const end = endOf(read, bySignal.setAside);
  const { nowUs, onHandedOver } = context;
  const committed = stored(async () => writer.commit({ sha256, ...end, unknownColumns, loadedUs: nowUs }));
  onHandedOver?.();
  const verdict = await committed;
  const holders = verdict === 'live' ? [] : readAlike(await context.store.imports(), source, profile);
  return {
    ...emptyReport(file.path, verdict === 'live' ? 'loaded' : 'already'),
    ...end,
    importId: holders.find((one) => one.sha256 === sha256)?.importId ?? writer.importId,
    kind: source.reader.kind,
    reasons: tally.reasons(),
    examples: tally.examples,
    cranks: bySignal.cranks,
    unknownColumns,
    notes: [...bySignal.notes, ...notes],
  };
}

/** The recorder may set aside samples that the reader took. */
function endOf(read: SourceEnd['read'], bySignal: number): { taken: number; setAside: number } {
  return { taken: read.taken - bySignal, setAside: read.setAside + bySignal };
}

/** Each call first looks whether to stop; what fails in it is the store's failure. */
function guarded(sink: StoreSink, signal: AbortSignal): StoreSink {
  const calls = Object.entries(sink) as [string, (given: never, ...more: never[]) => Promise<void>][];
  const guard = (call: (typeof calls)[number][1]) => async (given: never) => {
    stopIfAsked(signal);
    await stored(async () => call(given));
  };
  return Object.fromEntries(calls.map(([name, call]) => [name, guard(call)])) as StoreSink;
}

async function stored<Result>(work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    throw new StoreFailed('store', { cause: error });
  }
}
