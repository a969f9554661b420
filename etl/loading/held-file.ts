import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { UnreadableFile } from '../model/set-aside.ts';
import { borrowChunk, giveBackChunks, openBytes, unzipped, type FileBytes } from '../readers/bytes/byte-stream.ts';
import type { ByteStream } from '../readers/reader.ts';

/**
 * A file that is looked at first and read afterwards. A small one is read from the disk but once, at once: each request
 * to the pool of threads that reads files costs more than its bytes.
 */
export class HeldFile {
  readonly path: string;
  #buffer: Uint8Array | null;
  readonly #held: Uint8Array | null;

  constructor(path: string) {
    this.path = path;
    this.#buffer = borrowChunk();
    const length = readWhole(path, this.#buffer);
    this.#held = length === null ? null : this.#buffer.subarray(0, length);
    if (length === null) this.close();
  }

  /** Whether its bytes are in memory. */
  get isHeld(): boolean {
    return this.#held !== null;
  }

  /** Its bytes from the first on. `onRead` is told the bytes on disk read so far. */
  bytes(onRead: (bytes: number) => void = () => undefined): FileBytes {
    const held = this.#held;
    if (held === null) return openBytes(this.path, onRead);
    async function* whole(bytes: Uint8Array): ByteStream {
      onRead(bytes.length);
      if (bytes.length > 0) yield bytes;
    }
    return {
      [Symbol.asyncIterator]: () => unzipped(whole(held), this.path)[Symbol.asyncIterator](),
      bytesRead: () => held.length,
      hash: () => sha256Of(held),
    };
  }

  /** SHA-256 (hex) of its bytes on disk; null where they cannot be read to their end. */
  async hash(): Promise<string | null> {
    return this.#held === null ? hashOnDisk(this.path) : sha256Of(this.#held);
  }

  /** Gives the memory back: to be called once nothing reads it any more. */
  close(): void {
    if (this.#buffer !== null) giveBackChunks(this.#buffer);
    this.#buffer = null;
  }
}

/** Bytes of a file that is smaller than the buffer; null for all else, which is told by whoever opens it next. */
function readWhole(path: string, buffer: Uint8Array): number | null {
  let file: number | null = null;
  try {
    file = openSync(path, 'r');
    if (fstatSync(file).size >= buffer.length) return null;
    let length = 0;
    while (length < buffer.length) {
      const read = readSync(file, buffer, length, buffer.length - length, null);
      if (read === 0) return length;
      length += read;
    }
    return null; // it has grown
  } catch {
    return null;
  } finally {
    if (file !== null) closeSync(file);
  }
}

function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** A file that breaks off (a gzip) is still read to its end by the stream, so that it has a hash. */
async function hashOnDisk(path: string): Promise<string | null> {
  const bytes = openBytes(path);
  try {
    for await (const _ of bytes) continue;
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
  }
  return hashOf(bytes);
}

/** Null where the bytes have not been read to their end. */
export function hashOf(bytes: FileBytes): string | null {
  try {
    return bytes.hash();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
