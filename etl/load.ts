import { finishStale } from './loading/finish-stale.ts';
import { loadFile, type FileContext } from './loading/file.ts';
import { findFiles, type FoundFile } from './loading/files.ts';
import { readableOrNot, unreadable, type FileReport, type LoadReport } from './loading/report.ts';
import { openSource } from './loading/source.ts';
import { LARGE_BYTES, startThreads, type Threads } from './loading/threads.ts';
import type { ImportProfile } from './model/import-profile.ts';
import type { Store } from './store/store.ts';
import { aliasOffers } from './unit-aliases.ts';

export type { FileReport, LoadReport } from './loading/report.ts';

export type LoadProgress = (progress: { file: string; bytes: number; totalBytes: number }) => void;

export type LoadOptions = {
  /** The clock, µs: stamps the import, and tells a logger's clock that runs ahead. */
  nowUs: number;
  /** How foreign files are to be read; those that it does not fit are read by their own columns. */
  profile?: ImportProfile | null;
  onProgress?: LoadProgress;
  /** Engines finished of all that a load has touched. */
  onFinish?: (done: number, total: number) => void;
  /** Threads that read and search beside this one, which writes; 1 does everything here. The store is the same. */
  jobs?: number;
  /** With less to read no thread is started: it would take longer to start than to read. */
  threadsFromBytes?: number;
  /** Once aborted the files under way are given up, as if they had never been begun, and no other is begun. */
  signal?: AbortSignal;
};

/** What one thread reads while another one starts, about. */
const THREADS_FROM_BYTES = 8 * 2 ** 20;
/** Of small files a second thread saves nothing before this: it has to learn the search anew (measured on two cores). */
const SMALL_FILES_FROM_BYTES = 64 * 2 ** 20;

/**
 * Loads files and folders into the store. Each file appears as a whole or not at all; one that cannot be read does not
 * stop the others. Killed at any moment and run again, it ends in the same store.
 * Throws UnreadableFile for a path that does not exist.
 */
export async function loadPaths(store: Store, paths: readonly string[], options: LoadOptions): Promise<LoadReport> {
  const found = findFiles(paths);
  const files = found.unreadable.map(({ path, reason }) => unreadable(path, reason));
  const failure = new AbortController();
  const signal = AbortSignal.any([failure.signal, ...(options.signal === undefined ? [] : [options.signal])]);
  const threads = threadsFor(found.files, options, signal);
  try {
    files.push(...(await loadFiles(store, found.files, { options, threads, failure, signal })));
    await store.noteUnreadable(readableOrNot(files));
    await finishStale(store, { onFinish: options.onFinish, signal, finisher: threads?.finisher(store.path) });
  } finally {
    await threads?.close();
  }
  const [waiting, offers] = [await store.waiting(), await aliasOffers(store)];
  return {
    files,
    waiting,
    alike: offers.map(({ unit, spellings }) => [unit, ...spellings]),
    taken: files.reduce((sum, file) => sum + (file.result === 'loaded' ? file.taken : 0), 0),
    setAside: files.reduce((sum, file) => sum + file.setAside, 0),
    interrupted: options.signal?.aborted === true,
  };
}

type Loading = { options: LoadOptions; threads: Threads | null; failure: AbortController; signal: AbortSignal };

/** The reports of all files that were dealt with, in the order of the files. */
async function loadFiles(
  store: Store,
  files: readonly FoundFile[],
  { options, threads, failure, signal }: Loading,
): Promise<FileReport[]> {
  const onBytes = progressOf(files, options.onProgress);
  const { nowUs, profile = null } = options;
  const context = { store, known: await store.imports(), nowUs, profile, signal };
  const open = threads?.open ?? openSource;
  return inParallel(files, { width: threads?.width ?? 1, failure }, async (file, index, turn) =>
    loadFile(file, { ...context, open, ...turn, onBytes: (bytes) => onBytes(index, bytes) }),
  );
}

function threadsFor(files: readonly FoundFile[], options: LoadOptions, signal: AbortSignal): Threads | null {
  const { jobs = 1 } = options;
  const bytes = files.reduce((sum, file) => sum + file.bytes, 0);
  const large = files.filter((file) => file.bytes >= LARGE_BYTES).length;
  const worthIt = large > 0 ? THREADS_FROM_BYTES : SMALL_FILES_FROM_BYTES;
  if (jobs < 2 || bytes < (options.threadsFromBytes ?? worthIt)) return null;
  return startThreads(jobs, signal, { readsLogs: jobs < 4 || large < 2 });
}

/** Adds up what has been read of each file. */
function progressOf(files: readonly FoundFile[], onProgress: LoadProgress | undefined) {
  const read = new Float64Array(files.length);
  const totalBytes = files.reduce((sum, file) => sum + file.bytes, 0);
  let sum = 0;
  return (index: number, bytes: number) => {
    const file = files[index]!;
    // A file that grows meanwhile is no more than it was.
    const now = Math.min(bytes, file.bytes);
    sum += now - read[index]!;
    read[index] = now;
    onProgress?.({ file: file.path, bytes: sum, totalBytes });
  };
}

type Width = { width: number; failure: AbortController };
type Turn = Pick<FileContext, 'turn' | 'onHandedOver'>;
type Work = (file: FoundFile, index: number, turn: Turn) => Promise<FileReport | null>;

/** Files that a lane has read and that wait for the store: it writes as many at once. */
const MOST_AHEAD = 16;

/**
 * Some files at a time. `turn` of a file comes when the store has all before it that have the same size: which of two
 * equal files is the first does not depend on the speed of threads. After a failure the others are given up.
 */
async function inParallel(files: readonly FoundFile[], { width, failure }: Width, work: Work): Promise<FileReport[]> {
  const reports = new Array<FileReport | null>(files.length).fill(null);
  const bySize = new Map<number, Promise<unknown>>();
  const todo = files.entries();
  const lane = async () => {
    const ahead: Promise<unknown>[] = [];
    for (const [index, file] of todo) {
      const turn = bySize.get(file.bytes) ?? Promise.resolve();
      const handedOver = new Promise<void>((resolve) => {
        const done = work(file, index, { turn, onHandedOver: resolve }).then((report) => (reports[index] = report));
        done.catch(() => failure.abort()).finally(resolve);
        ahead.push(done);
      });
      bySize.set(file.bytes, Promise.all([turn, handedOver]));
      await handedOver;
      if (ahead.length >= MOST_AHEAD) await ahead.shift();
    }
    await Promise.all(ahead);
  };
  const lanes = Array.from({ length: width }, lane);
  const failed = (await Promise.allSettled(lanes)).find(({ status }) => status === 'rejected');
  if (failed?.status === 'rejected') throw failed.reason;
  return reports.filter((report) => report !== null);
}
