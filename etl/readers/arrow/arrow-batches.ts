import {
  CompressionType,
  compressionRegistry,
  RecordBatchReader,
  type Codec,
  type DataType,
  type RecordBatch,
} from 'apache-arrow';
import { UnreadableFile } from '../../model/set-aside.ts';
import { metadataFault } from './arrow-metadata.ts';
import { MESSAGE, MOST_BODY_BYTES, type ArrowMessage } from './arrow-messages.ts';
import { unpackLz4Frame } from './lz4-frame.ts';
import { unpackZstdFrames, zstdReady } from './zstd-frames.ts';

/** Mark and length before the metadata. */
const PREFIX_BYTES = 8;
const NOTHING = new Uint8Array(0);
/** The library looks ahead once or twice for more bytes; asking on means that a message is not what it says. */
const MOST_LOOKS = 8;

export type ArrowBatches = { fields: { name: string; type: DataType }[]; batches: AsyncIterable<RecordBatch> };

/**
 * Record batches out of whole messages. The library is given its bytes one batch at a time: what goes wrong inside its
 * own asynchronous streams cannot be caught.
 */
export async function openBatches(
  messages: AsyncGenerator<ArrowMessage>,
  { where, schemaOf }: { where: string; schemaOf: () => Promise<ArrowMessage> },
): Promise<ArrowBatches> {
  const waiting: Uint8Array[] = [];
  const give = ({ metadata, body }: ArrowMessage) => {
    const fault = metadataFault(metadata.subarray(PREFIX_BYTES), body.length);
    if (fault !== null)
      throw new UnreadableFile(`Arrow file requires messages that hold together, got ${fault} (${where})`);
    waiting.push(metadata, body);
  };
  await zstdReady();
  const { done, value: first } = await messages.next();
  const begun = done !== true && first.type === MESSAGE.schema;
  give(begun ? first : await schemaOf());
  const reader = explained(where, () => RecordBatchReader.from(bytesOf(waiting)).open());
  const fields = explained(where, () => reader.schema.fields.map(({ name, type }) => ({ name: name.trim(), type })));

  async function* batches(): AsyncIterable<RecordBatch> {
    if (!begun && done !== true) yield* take(first);
    for await (const message of messages) yield* take(message);
  }
  function* take(message: ArrowMessage): Iterable<RecordBatch> {
    if (message.type !== MESSAGE.dictionary && message.type !== MESSAGE.batch) return;
    give(message);
    if (message.type === MESSAGE.dictionary) return;
    const next = explained(where, () => {
      for (const [type, codec] of codecsWithin(MOST_BODY_BYTES)) compressionRegistry.set(type, codec);
      return reader.next();
    });
    if (next.done === true) throw new UnreadableFile(`Arrow file requires whole record batches, got none (${where})`);
    yield next.value;
  }
  return { fields, batches: batches() };
}

type Unpack = (packed: Uint8Array, room: number) => Uint8Array;
const UNPACKED_BY: readonly [CompressionType, Unpack][] = [
  [CompressionType.LZ4_FRAME, unpackLz4Frame],
  [CompressionType.ZSTD, unpackZstdFrames],
];

/** Unpacks the columns of one batch, which together may not be larger than a batch may be. */
function codecsWithin(bytes: number): [CompressionType, Codec][] {
  let room = bytes;
  const within = (unpack: Unpack): Codec => ({
    decode(packed) {
      const unpacked = unpack(packed, room);
      room -= unpacked.length;
      return unpacked;
    },
  });
  return UNPACKED_BY.map(([type, unpack]) => [type, within(unpack)]);
}

function* bytesOf(waiting: Uint8Array[]): Generator<Uint8Array> {
  for (let looks = 0; looks < MOST_LOOKS; looks++) {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      looks = 0;
      yield next;
    }
    yield NOTHING;
  }
}

function explained<Result>(where: string, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error);
    throw new UnreadableFile(`Arrow file requires whole record batches, got ${got} (${where})`, { cause: error });
  }
}
