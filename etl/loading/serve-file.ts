import { failureOf, handOn } from './calls.ts';
import { HeldFile } from './held-file.ts';
import { identityOf, readFile } from './read-file.ts';
import { throughSignal, type LogSink } from './sink.ts';
import type { Answer, Ask, FileTask } from './tasks.ts';
import type { Reader } from '../readers/reader.ts';
import { sniffFile } from '../readers/sniff.ts';

/** Read between two words of how far the file is: each wakes the main thread. */
const BYTES_A_WORD = 4 * 2 ** 20;

/** Opens a file, then answers what the main thread asks about it, until that closes the port. */
export function serveFile({ path, read, control, out }: FileTask): void {
  const file = new HeldFile(path);
  const sniffed = sniffFile({ path, bytes: file.bytes() }, read);
  // A file that is in memory needs no word of how far it is.
  let told = 0;
  const onBytes = (bytes: number) => {
    if (file.isHeld || bytes - told < BYTES_A_WORD) return;
    told = bytes;
    control.postMessage({ bytes } satisfies Answer);
  };
  const readInto = async (reader: Reader) => {
    const all = async (log: LogSink) => readFile(reader, { file, read, onBytes }, log);
    await handOn(out, async (store) => throughSignal(store, all));
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
