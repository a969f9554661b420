import { parentPort, type MessagePort } from 'node:worker_threads';
import { finishedEngine } from './finish-stale.ts';
import { CallSender, failureOf, replayCalls } from './calls.ts';
import { throughSignal, type LogSink, type StoreSink } from './sink.ts';
import { identityOf, readFile, type ReadEnd, type SourceEnd } from './source.ts';
import type { Answer, Ask, FileTask, FinishAnswer, FinishTask, Task } from './tasks.ts';
import type { Engine } from '../model/unit.ts';
import type { Reader } from '../readers/reader.ts';
import { HeldFile } from './held-file.ts';
import { sniffFile } from '../readers/sniff.ts';

/** A thread of a load: reads files, or searches what another thread reads. Writes nothing. */
parentPort?.on('message', (task: Task) => {
  if ('control' in task) serveFile(task);
  else if ('engines' in task) serveEngines(task);
  else void handOn(task.out, async (store) => searchInto(task.from, store));
});

/** Opens a file, then answers what the main thread asks about it, until that closes the port. */
function serveFile({ path, read, control, out, searches }: FileTask): void {
  const file = new HeldFile(path);
  const sniffed = sniffFile({ path, bytes: file.bytes() }, read);
  // A file that is in memory needs no word of how far it is.
  const onBytes = (bytes: number) => {
    if (!file.isHeld) control.postMessage({ bytes } satisfies Answer);
  };
  const readInto = async (reader: Reader) => {
    const all = async (log: LogSink) => readFile(reader, { file, read, onBytes }, log);
    await handOn(out, async (store) => (searches ? readAndSearch(store, all) : all(store)));
  };
  let work: Promise<unknown> = sniffed;
  const answer = (answered: Promise<Answer>) => {
    work = answered.then(
      (given) => control.postMessage(given),
      (error: unknown) => control.postMessage({ failed: failureOf(error) } satisfies Answer),
    );
  };
  answer(sniffed.then((found) => ({ opened: 'reader' in found ? { reader: identityOf(found.reader) } : found })));
  control.on('message', (ask: Ask) => {
    if (ask === 'hash') answer(file.hash().then((hash) => ({ hash })));
    else work = sniffed.then(async (found) => ('reader' in found ? readInto(found.reader) : undefined));
  });
  control.on('close', () => void work.finally(() => file.close()));
}

/** Does some work that ends in the port: its calls, and what it came to or what went wrong. */
async function handOn(port: MessagePort, work: (sink: LogSink & StoreSink) => Promise<unknown>): Promise<void> {
  const sender = new CallSender(port);
  try {
    sender.end(await work(sender.sink));
  } catch (error) {
    sender.fail(error);
  }
}

async function searchInto(from: MessagePort, store: StoreSink): Promise<SourceEnd> {
  return readAndSearch(store, async (log) => replayCalls<ReadEnd>(from, log));
}

async function readAndSearch(store: StoreSink, read: (log: LogSink) => Promise<ReadEnd>): Promise<SourceEnd> {
  const log = throughSignal(store);
  const end = await read(log);
  return { ...end, bySignal: await log.close() };
}

/** Finishes the engines that come through the port, until it is closed. The store is loaded only where it is needed. */
function serveEngines({ store: path, newest, engines }: FinishTask): void {
  const opening = import('../store/open-store.ts').then(async ({ openStore }) => openStore(path, { readonly: true }));
  const answer = async (engine: Engine): Promise<FinishAnswer> => {
    const { engineId } = engine;
    try {
      return { engineId, finished: await finishedEngine(await opening, engine, newest) };
    } catch (error) {
      return { engineId, failed: failureOf(error) };
    }
  };
  engines.on(
    'message',
    (engine: Engine) => void answer(engine).then((done) => engines.postMessage(done, partsOf(done))),
  );
  engines.on('close', () => void opening.then((store) => store.close()));
}

/** The memory of a finished table goes over to the thread that writes it; its columns share one piece. */
function partsOf(answer: FinishAnswer): ArrayBuffer[] {
  if ('failed' in answer) return [];
  const { table, keep } = answer.finished;
  return [...new Set([...Object.values(table.columns), keep].map(({ buffer }) => buffer as ArrayBuffer))];
}
