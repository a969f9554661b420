import { UnreadableFile } from '../../model/set-aside.ts';
import type { ByteStream } from '../reader.ts';

const MAGIC = Buffer.from('ARROW1');
/** Magic and padding before the first message of a file (Arrow columnar format, "IPC File Format"). */
const FILE_HEAD_BYTES = 8;
const CONTINUATION = 0xffffffff;
/** A schema of a thousand columns has some 100 KiB. Program. */
const MOST_METADATA_BYTES = 16 * 2 ** 20;
/** A record batch is held in memory as a whole. Program. */
export const MOST_BODY_BYTES = 192 * 2 ** 20;

/** Whether bytes begin an Arrow file (by its magic) or stream (by the mark before its first message). */
export function isArrow(start: Uint8Array): boolean {
  return isArrowFile(start) || (start.length >= 8 && Buffer.from(start).readUInt32LE(0) === CONTINUATION);
}

function isArrowFile(start: Uint8Array): boolean {
  return MAGIC.equals(start.subarray(0, MAGIC.length));
}

/** Kinds of message (format/Message.fbs). */
export const MESSAGE = { schema: 1, dictionary: 2, batch: 3 } as const;

/** A message: its kind, its metadata with mark and length before it, its body. */
export type ArrowMessage = { type: number; metadata: Uint8Array; body: Uint8Array };

/**
 * The messages of an Arrow file or stream, each whole. The Arrow library takes a broken file for an empty one; here a
 * file that breaks off throws UnreadableFile. A file carries its messages in the order of the stream, so that it is read
 * from front to back like one.
 */
export async function* wholeMessages(bytes: ByteStream, where: string): AsyncGenerator<ArrowMessage> {
  const input = new Input(bytes, where);
  try {
    yield* messagesOf(input);
  } finally {
    await input.close();
  }
}

async function* messagesOf(input: Input): AsyncGenerator<ArrowMessage> {
  const { where } = input;
  const isFile = isArrowFile(await input.peek(FILE_HEAD_BYTES));
  if (isFile) await input.take(FILE_HEAD_BYTES);
  for (let messages = 0; ; messages++) {
    const metadata = await nextMetadata(input, isFile);
    if (metadata === null && messages === 0 && !isFile) throw broken('a schema', 'none', where);
    if (metadata === null) break;
    const { type, length } = headOf(metadata, where);
    if (length > MOST_BODY_BYTES)
      throw broken(`record batches of at most ${MOST_BODY_BYTES} bytes`, `${length}: write it in smaller ones`, where);
    yield { type, metadata: prefixed(metadata), body: await input.take(length) };
  }
  const end = await input.rest(MAGIC.length);
  if (isFile && !isArrowFile(end)) throw broken('a whole file', 'one that ends early', where);
}

/** Null at the end of the messages. A stream may end without saying so, a file may not. */
async function nextMetadata(input: Input, isFile: boolean): Promise<Uint8Array | null> {
  const ahead = await input.peek(8);
  if (ahead.length === 0 && !isFile) return null;
  const first = int32(await input.take(4));
  const length = first === -1 ? int32(await input.take(4)) : first;
  if (length === 0) return null;
  if (length < 0 || length > MOST_METADATA_BYTES)
    throw broken('a message of Arrow', `${length} bytes of metadata`, input.where);
  return input.take(length);
}

const int32 = (bytes: Uint8Array) => Buffer.from(bytes).readInt32LE(0);

/** Metadata with the mark and length before it. */
function prefixed(metadata: Uint8Array): Uint8Array {
  const prefix = Buffer.alloc(8);
  prefix.writeInt32LE(-1, 0);
  prefix.writeInt32LE(metadata.length, 4);
  return Buffer.concat([prefix, metadata]);
}

/** Second and fourth field of the flatbuffer table `Message` (format/Message.fbs): kind and length of the body. */
function headOf(metadata: Uint8Array, where: string): { type: number; length: number } {
  const view = new DataView(metadata.buffer, metadata.byteOffset, metadata.byteLength);
  try {
    const table = view.getUint32(0, true);
    const slots = table - view.getInt32(table, true);
    const place = (field: number) => {
      const slot = 4 + 2 * field;
      const offset = view.getUint16(slots, true) > slot ? view.getUint16(slots + slot, true) : 0;
      return offset === 0 ? null : table + offset;
    };
    const [typeAt, lengthAt] = [place(1), place(3)];
    const length = lengthAt === null ? 0 : Number(view.getBigInt64(lengthAt, true));
    if (length >= 0) return { type: typeAt === null ? 0 : view.getUint8(typeAt), length };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  throw broken('a message of Arrow', 'other bytes', where);
}

function broken(requires: string, got: string, where: string): UnreadableFile {
  return new UnreadableFile(`Arrow file requires ${requires}, got ${got} (${where})`);
}

/** Bytes of a stream, taken in pieces of any size. */
class Input {
  readonly where: string;
  readonly #chunks: AsyncIterator<Uint8Array>;
  #ahead: Uint8Array = new Uint8Array(0);

  constructor(bytes: ByteStream, where: string) {
    this.#chunks = bytes[Symbol.asyncIterator]();
    this.where = where;
  }

  /** Up to `length` bytes, which stay where they are; fewer only at the end of the stream. */
  async peek(length: number): Promise<Uint8Array> {
    while (this.#ahead.length < length) {
      const next = await this.#chunks.next();
      if (next.done === true) break;
      this.#ahead = Buffer.concat([this.#ahead, next.value]);
    }
    return this.#ahead.subarray(0, length);
  }

  /** A copy of `length` bytes in a buffer of their own. Throws where the stream ends before. */
  async take(length: number): Promise<Uint8Array> {
    const taken = new Uint8Array(length);
    for (let filled = 0; filled < length;) {
      if (this.#ahead.length === 0 && (await this.peek(1)).length === 0)
        throw broken('a whole file', 'one that ends early', this.where);
      const piece = this.#ahead.subarray(0, length - filled);
      taken.set(piece, filled);
      filled += piece.length;
      this.#ahead = this.#ahead.subarray(piece.length);
    }
    return taken;
  }

  async close(): Promise<void> {
    await this.#chunks.return?.();
  }

  /** Reads to the end and gives the last bytes. */
  async rest(last: number): Promise<Uint8Array> {
    let end: Uint8Array = Buffer.from(this.#ahead).subarray(-last);
    for (let next = await this.#chunks.next(); next.done !== true; next = await this.#chunks.next())
      end = Buffer.concat([end, next.value]).subarray(-last);
    return end;
  }
}
