import { createGunzip, type Gunzip } from 'node:zlib';
import { UnreadableFile } from '../../model/set-aside.ts';
import type { ByteStream } from '../reader.ts';

/**
 * How far a gzip file may expand. The format itself can reach 1032-fold; logs of this kind reach 5- to 20-fold (common
 * practice), so that 200-fold is no log. The ratio is judged once there is enough output to judge it by.
 */
export type ExpansionLimits = { ratio: number; judgedFromBytes: number; bytes: number };
export const EXPANSION_LIMITS: ExpansionLimits = { ratio: 200, judgedFromBytes: 64 * 2 ** 20, bytes: 256 * 2 ** 30 };

/** Input handed to zlib at a time: at 1032-fold at most 33 MiB come out before the limits are looked at. */
const SLICE_BYTES = 32 * 1024;

/** Gzip is told by its first two bytes (RFC 1952, 2.3.1), never by the file's name. */
export function isGzip(start: Uint8Array): boolean {
  return start[0] === 0x1f && start[1] === 0x8b;
}

/**
 * Unzips a stream. What was good before a break is delivered first; only then UnreadableFile is thrown, and the rest of
 * the source is still read, so that its hash and length are those of the whole file.
 */
export async function* gunzip(source: ByteStream, where: string, limits = EXPANSION_LIMITS): ByteStream {
  const inflater = new Inflater();
  let fault: UnreadableFile | null = null;
  try {
    for await (const chunk of source) {
      for (let from = 0; from < chunk.length && fault === null; from += SLICE_BYTES) {
        yield* await inflater.write(chunk.subarray(from, from + SLICE_BYTES));
        fault = inflater.damage(where) ?? excess(inflater, limits, where);
      }
    }
    if (fault === null) {
      yield* await inflater.end();
      fault = inflater.damage(where);
    }
  } finally {
    inflater.close();
  }
  if (fault !== null) throw fault;
}

function excess(inflater: Inflater, limits: ExpansionLimits, where: string): UnreadableFile | null {
  const { bytesIn, bytesOut } = inflater;
  if (bytesOut > limits.bytes)
    return new UnreadableFile(
      `gzip file requires at most ${limits.bytes} bytes unzipped, got more (${bytesIn} bytes read, ${where})`,
    );
  if (bytesOut > limits.judgedFromBytes && bytesOut > limits.ratio * bytesIn)
    return new UnreadableFile(
      `gzip file requires an expansion of at most ${limits.ratio}-fold, got ${bytesOut} bytes out of ${bytesIn} (${where})`,
    );
  return null;
}

/**
 * zlib's stream with the output of each piece of input collected, since a stream that fails drops what waits in it.
 */
class Inflater {
  bytesIn = 0;
  bytesOut = 0;
  #stream: Gunzip = createGunzip({ chunkSize: 256 * 1024 });
  #out: Uint8Array[] = [];
  #error: (Error & { code?: string }) | null = null;
  #ended = false;
  #dataBehindEnd = false;
  #settle: () => void = () => undefined;

  constructor() {
    this.#stream.on('data', (chunk: Uint8Array) => {
      this.bytesOut += chunk.length;
      this.#out.push(chunk);
    });
    this.#stream.on('error', (error) => {
      this.#error = error;
      this.#settle();
    });
    this.#stream.on('end', () => {
      this.#ended = true;
      this.#settle();
    });
  }

  async write(slice: Uint8Array): Promise<Uint8Array[]> {
    this.bytesIn += slice.length;
    if (this.#ended) {
      this.#lookBehindEnd(slice);
      return [];
    }
    const out = await this.#collect(() => {
      this.#stream.write(slice, () => {
        this.#settle();
      });
    });
    if (this.#ended) this.#lookBehindEnd(slice.subarray(slice.length - (this.bytesIn - this.#stream.bytesWritten)));
    return out;
  }

  async end(): Promise<Uint8Array[]> {
    if (this.#ended) return []; // zlib's stream has said so, and never answers again
    return this.#collect(() => {
      this.#stream.end();
    });
  }

  /** Zeros that fill up a block are no loss (as with gzip itself); anything else could be rows. */
  #lookBehindEnd(slice: Uint8Array): void {
    this.#dataBehindEnd ||= slice.some((byte) => byte !== 0);
  }

  damage(where: string): UnreadableFile | null {
    if (this.#dataBehindEnd)
      return new UnreadableFile(`gzip file requires nothing behind its end but zeros, got other data (${where})`);
    if (this.#error === null) return null;
    const got = this.#error.code === 'Z_BUF_ERROR' ? 'a file that ends early' : `damaged data (${this.#error.message})`;
    return new UnreadableFile(`gzip file requires a whole archive, got ${got} (${where})`);
  }

  close(): void {
    this.#stream.destroy();
  }

  async #collect(start: () => void): Promise<Uint8Array[]> {
    await new Promise<void>((resolve) => {
      this.#settle = resolve;
      start();
    });
    const out = this.#out;
    this.#out = [];
    return out;
  }
}
