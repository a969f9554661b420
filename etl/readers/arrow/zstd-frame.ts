import { UnpackedBytes } from './unpacked-bytes.ts';
import { literalsOf, MOST_BLOCK_BYTES, type HuffmanTable } from './zstd-literals.ts';
import { carriedAtStart, runSequences, type Carried } from './zstd-sequences.ts';

const MAGIC = 0xfd2fb528;
/** Sixteen magic numbers of frames that hold no data. */
const SKIPPED_MAGIC = 0x184d2a50;
const [RAW, REPEATED, PACKED] = [0, 1, 2];

/**
 * Unpacks Zstandard frames (RFC 8878), which Arrow files may be packed with; Node 20 has no decoder of its own. `room` is
 * how many bytes may come out. Checksums and dictionaries are not used by Arrow: the first are passed over, the others
 * refused. Throws RangeError for damaged data.
 */
export function unpackZstdFrames(packed: Uint8Array, room: number): Uint8Array {
  const output = new UnpackedBytes(room, 'Zstandard');
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  for (let at = 0; at < packed.length;) {
    if (packed.length - at < 8) throw endsEarly();
    const magic = view.getUint32(at, true);
    if (magic === MAGIC) at = unpackFrame(packed, at + 4, output);
    else if ((magic & 0xfffffff0) >>> 0 === SKIPPED_MAGIC) at += 8 + view.getUint32(at + 4, true);
    else throw new RangeError('Zstandard frame requires its magic number, got another');
  }
  return output.bytes();
}

/** Returns where the frame ends. */
function unpackFrame(packed: Uint8Array, from: number, output: UnpackedBytes): number {
  const flags = byteAt(packed, from);
  const [single, checked, dictionary] = [(flags & 0x20) !== 0, (flags & 4) !== 0, flags & 3];
  if ((flags & 8) !== 0 || dictionary !== 0)
    throw new RangeError('Zstandard frame requires no dictionary and no unknown flag, got one');
  const sizeBytes = [single ? 1 : 0, 2, 4, 8][flags >> 6]!;
  let at = from + 1 + (single ? 0 : 1) + sizeBytes;
  const state = { carried: carriedAtStart(), table: null };
  for (let isLast = false; !isLast;) {
    const head = byteAt(packed, at) | (byteAt(packed, at + 1) << 8) | (byteAt(packed, at + 2) << 16);
    isLast = (head & 1) !== 0;
    at = unpackBlock(packed, { at: at + 3, type: (head >> 1) & 3, size: head >> 3 }, { state, output });
  }
  return at + (checked ? 4 : 0);
}

type Block = { at: number; type: number; size: number };
type State = { carried: Carried; table: HuffmanTable | null };

/** Returns where the block ends. */
function unpackBlock(
  packed: Uint8Array,
  { at, type, size }: Block,
  { state, output }: { state: State; output: UnpackedBytes },
): number {
  if (size > MOST_BLOCK_BYTES || type > PACKED)
    throw new RangeError(`Zstandard block requires a known kind of at most ${MOST_BLOCK_BYTES} bytes, got another`);
  const end = at + (type === REPEATED ? 1 : size);
  if (end > packed.length) throw endsEarly();
  if (type === RAW) output.literals(packed, at, end);
  else if (type === REPEATED) output.repeated(packed[at]!, size);
  else {
    const block = packed.subarray(at, end);
    const { bytes, table, length } = literalsOf(block, state.table);
    state.table = table;
    runSequences(block.subarray(length), { literals: bytes, carried: state.carried }, output);
  }
  return end;
}

function byteAt(bytes: Uint8Array, at: number): number {
  const byte = bytes[at];
  if (byte === undefined) throw endsEarly();
  return byte;
}

function endsEarly(): RangeError {
  return new RangeError('Zstandard frame requires whole blocks, got one that ends early');
}
