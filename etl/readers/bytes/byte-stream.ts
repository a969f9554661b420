import { createHash } from 'node:crypto';
import { open, type FileHandle } from 'node:fs/promises';
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

export type OpenFile = (path: string) => Promise<FileHandle>;

/** Large enough that the system call does not count, small enough to stay in the processor's cache. */
export const CHUNK_BYTES = 1 << 20;

/** Opens on the first read. `onRead` is told the bytes on disk read so far, once a chunk. */
export function openBytes(
  path: string,
  onRead: (bytes: number) => void = () => undefined,
  openFile: OpenFile = async (name) => open(name, 'r'),
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

/** Two buffers in turn: the next chunk is on its way from the disk while the caller works on this one. */
async function* fileChunks(path: string, openFile: OpenFile): ByteStream {
  let file: FileHandle | null = null;
  let ahead: Promise<Uint8Array> | null = null;
  let [current, other] = [borrowChunk(), borrowChunk()];
  try {
    file = await openFile(path);
    ahead = fill(file, current);
    for (;;) {
      const chunk = await ahead;
      if (chunk.length === 0) return;
      [current, other] = [other, current];
      ahead = fill(file, current);
      yield chunk;
    }
  } catch (error) {
    throw explained(error, path);
  } finally {
    await ahead?.catch(() => undefined);
    await file?.close();
    giveBackChunks(current, other);
  }
}

async function fill(file: FileHandle, buffer: Uint8Array): Promise<Uint8Array> {
  let length = 0;
  while (length < buffer.length) {
    const { bytesRead } = await file.read(buffer, length, buffer.length - length, null);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return buffer.subarray(0, length);
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
