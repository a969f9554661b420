import { UnreadableFile } from '../../model/set-aside.ts';
import { MESSAGE, type ArrowMessage } from './arrow-messages.ts';
import type { ByteStream } from '../reader.ts';

/** A footer names each record batch in 24 bytes: room for more than half a million. Program. */
const MOST_FOOTER_BYTES = 16 * 2 ** 20;
/** Length of the footer and magic, behind the footer ("IPC File Format"). */
const END_BYTES = 10;
/** Bytes before a footer that is made a message. */
const HEAD_BYTES = 32;

/**
 * The schema as a message, taken from the footer: some writers (the JavaScript library among them) put it there alone.
 * Reads the file to its end.
 */
export async function schemaOfFooter(bytes: ByteStream, where: string): Promise<ArrowMessage> {
  const end = await endOf(bytes);
  const length = end.length >= END_BYTES ? end.readInt32LE(end.length - END_BYTES) : 0;
  const from = end.length - END_BYTES - length;
  const whole = length > 0 && from >= 0 && end.subarray(-6).equals(Buffer.from('ARROW1'));
  if (!whole) throw new UnreadableFile(`Arrow file requires a whole file, got one that ends early (${where})`);
  try {
    return { type: MESSAGE.schema, metadata: messageOf(end.subarray(from, from + length)), body: new Uint8Array(0) };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UnreadableFile(`Arrow file requires a footer with a schema, got other bytes (${where})`, {
      cause: error,
    });
  }
}

async function endOf(bytes: ByteStream): Promise<Buffer> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of bytes) {
    chunks.push(Uint8Array.from(chunk));
    length += chunk.length;
    while (length - chunks[0]!.length > MOST_FOOTER_BYTES) length -= chunks.shift()!.length;
  }
  return Buffer.concat(chunks);
}

/**
 * Flatbuffers hold places relative to where they stand. So a table `Message` before the bytes of the footer may point to
 * the schema inside them (format/Message.fbs, format/File.fbs: second field of `Footer`).
 */
function messageOf(footer: Buffer): Uint8Array {
  const table = footer.readUInt32LE(0);
  const slots = table - footer.readInt32LE(table);
  const field = table + footer.readUInt16LE(slots + 6);
  const schema = HEAD_BYTES + field + footer.readUInt32LE(field);
  const head = Buffer.alloc(8 + HEAD_BYTES);
  head.writeInt32LE(-1, 0);
  head.writeInt32LE(HEAD_BYTES + footer.length, 4);
  const message = head.subarray(8);
  message.writeUInt32LE(16, 0); // where the table stands
  for (const [index, slot] of [12, 12, 4, 6, 8, 0].entries()) message.writeUInt16LE(slot, 4 + 2 * index);
  message.writeInt32LE(12, 16); // back to its slots
  message.writeInt16LE(4, 20); // version 5 of the metadata
  message.writeUInt8(MESSAGE.schema, 22);
  message.writeUInt32LE(schema - 24, 24);
  return Buffer.concat([head, footer]);
}
