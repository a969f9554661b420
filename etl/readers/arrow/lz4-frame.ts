import { UnpackedBytes } from './unpacked-bytes.ts';

/**
 * Unpacks an LZ4 frame (LZ4 Frame Format 1.6, LZ4 Block Format), which Arrow files may be packed with. `room` is how many
 * bytes may come out: a packed byte may stand for 255. Checksums are not looked at. Throws RangeError for damaged data.
 */
export function unpackLz4Frame(packed: Uint8Array, room: number): Uint8Array {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  if (view.getUint32(0, true) !== MAGIC) throw new RangeError('LZ4 frame requires its magic number, got another');
  const flags = view.getUint8(4);
  if (flags >> 6 !== 1) throw new RangeError(`LZ4 frame requires version 1, got ${flags >> 6}`);
  const output = new UnpackedBytes(room, 'LZ4');
  let at = 7 + (flags & CONTENT_SIZE ? 8 : 0) + (flags & DICTIONARY ? 4 : 0);
  for (let size = view.getUint32(at, true); size !== 0; size = view.getUint32(at, true)) {
    const length = size & 0x7fffffff;
    if (at + 4 + length > packed.length)
      throw new RangeError('LZ4 frame requires whole blocks, got one that ends early');
    const block = packed.subarray(at + 4, at + 4 + length);
    if (size >>> 31 === 1) output.literals(block, 0, length);
    else unpackBlock(block, output);
    at += 4 + length + (flags & BLOCK_CHECKSUM ? 4 : 0);
  }
  return output.bytes();
}

const MAGIC = 0x184d2204;
const [BLOCK_CHECKSUM, CONTENT_SIZE, DICTIONARY] = [0x10, 0x08, 0x01];
/** Shortest match; lengths of this many go on in further bytes. */
const [LEAST_MATCH, GOES_ON] = [4, 15];

/** Literals and matches in turn; the last sequence has literals alone. */
function unpackBlock(block: Uint8Array, output: UnpackedBytes): void {
  let at = 0;
  const lengthFrom = (nibble: number) => {
    let length = nibble;
    for (let more = nibble === GOES_ON ? 255 : 0; more === 255; length += more) more = byteAt(block, at++);
    return length;
  };
  while (at < block.length) {
    const token = byteAt(block, at++);
    const literals = lengthFrom(token >> 4);
    output.literals(block, at, at + literals);
    at += literals;
    if (at === block.length) return;
    const distance = byteAt(block, at) + 256 * byteAt(block, at + 1);
    at += 2;
    output.match(distance, lengthFrom(token & GOES_ON) + LEAST_MATCH);
  }
}

function byteAt(bytes: Uint8Array, at: number): number {
  const byte = bytes[at];
  if (byte === undefined) throw new RangeError('LZ4 block requires whole sequences, got one that ends early');
  return byte;
}
