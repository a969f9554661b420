import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { setImmediate } from 'node:timers/promises';
import { UnreadableFile } from '../../model/set-aside.ts';
import { gunzip, isGzip } from './gzip.ts';
import type { ByteStream } from '../reader.ts';

/** A file's bytes, unzipped where it is gzip, with what is known of the file as it lies on disk. */
export type FileBytes = ByteStream & {
  /** Bytes on disk read so far. */
  bytesRead(): number;
  /** SHA-256 (hex) of the bytes on disk. Throws RangeError before the stream has been read to its end. */
  hash(): string;
};

export type OpenFile = (path: string) => number;

/** Large enough that the system call does not count, small enough to stay in the processor's cache. */
export const CHUNK_BYTES = 1 << 20;

/** Large enough that the system call does not count, small enough to stay in the processor's cache with all made of it. */
const READ_BYTES = 1 << 18;

/** Opens on the first read. `onRead` is told the bytes on disk read so far, once a chunk. */
export function openBytes(
  path: string,
  onRead: (bytes: number) => void = () => undefined,
  openFile: OpenFile = (name) => openSync(name, 'r'),
): FileBytes {
  const sha256 = createHash('sha256');
  let bytesRead = 0;
  let digest: string | null = null;

  async function* onDisk(): ByteStream {
    for await (const chunk of fileChunks(path, openFile)) {
      sha256.update(chunk);
      bytesRead += chunk.length;
      onRead(bytesRead);
      yield chunk;
    }
    digest = sha256.digest('hex');
  }

  return {
    [Symbol.asyncIterator]: () => unzipped(onDisk(), path)[Symbol.asyncIterator](),
    bytesRead: () => bytesRead,
    hash() {
      if (digest === null)
        throw new RangeError(`hash requires a file read to its end, got ${bytesRead} bytes (${path})`);
      return digest;
    },
  };
}

/** Passes plain bytes on as they are; unzips where the first two bytes say gzip. */
export async function* unzipped(source: ByteStream, path: string): ByteStream {
  const chunks = source[Symbol.asyncIterator]();
  try {
    const first = await chunks.next();
    if (first.done === true) return;
    const whole = startingWith(first.value, chunks);
    yield* isGzip(first.value) ? gunzip(whole, path) : whole;
  } finally {
    await chunks.return?.();
  }
}

async function* startingWith(first: Uint8Array, rest: AsyncIterator<Uint8Array>): ByteStream {
  yield first;
  for (let next = await rest.next(); next.done !== true; next = await rest.next()) yield next.value;
}

/** Buffers of files that have been read, for the next ones: many small files would touch fresh memory for each. */
const spare: Uint8Array[] = [];
const MOST_SPARE = 8;

export function borrowChunk(): Uint8Array {
  return spare.pop() ?? new Uint8Array(CHUNK_BYTES);
}

export function giveBackChunks(...chunks: Uint8Array[]): void {
  if (spare.length < MOST_SPARE) spare.push(...chunks);
}

/**
 * Read at once, by this thread: the system reads ahead by itself, and what another thread has read costs three times as
 * much to look at, from processor to processor. Between chunks whatever else waits has its turn.
 */
async function* fileChunks(path: string, openFile: OpenFile): ByteStream {
  let file: number | null = null;
  const buffer = borrowChunk();
  try {
    file = openFile(path);
    for (;;) {
      const length = readSync(file, buffer, 0, READ_BYTES, null);
      if (length === 0) return;
      yield buffer.subarray(0, length);
      await setImmediate();
    }
  } catch (error) {
    throw explained(error, path);
  } finally {
    if (file !== null) closeSync(file);
    giveBackChunks(buffer);
  }
}

const EXPLANATIONS: Record<string, [requires: string, got: string]> = {
  EACCES: ['permission to read it', 'none: ask its owner to allow reading'],
  EPERM: ['permission to read it', 'none: ask its owner to allow reading'],
  EISDIR: ['a plain file', 'a folder'],
  ENOENT: ['a path that exists', 'nothing there'],
  ENOTDIR: ['a path that exists', 'a path through something that is no folder'],
  EIO: ['a disk that can be read', 'a read error: the disk or the connection to it fails'],
};

function explained(error: unknown, path: string): unknown {
  if (!(error instanceof Error) || !('code' in error) || error instanceof UnreadableFile) return error;
  const code = String(error.code);
  const [requires, got] = EXPLANATIONS[code] ?? ['a file that the system can read', code];
  return new UnreadableFile(`file requires ${requires}, got ${got} (${path})`, { cause: error });
}
