import { BackwardBits } from './zstd-bits.ts';
import { entropyTable, EntropyState } from './zstd-entropy.ts';

/** Huffman codes: for each value of the next `log` bits a symbol, and how many of the bits are its code. */
export type HuffmanTable = { log: number; symbols: Uint8Array; bits: Uint8Array };

export type Literals = { bytes: Uint8Array; table: HuffmanTable | null; length: number };

/** Limits of RFC 8878: a block, and a code. */
export const MOST_BLOCK_BYTES = 1 << 17;
const MOST_CODE_BITS = 11;
const [RAW, REPEATED, PACKED] = [0, 1, 2];
/** Four streams begin with the lengths of three. */
const JUMP_BYTES = 6;

/**
 * The literals of a block (RFC 8878, 3.1.1.3.1): plain, one byte repeated, or in Huffman codes by a table of their own or
 * that of the block before. `length` is how many bytes of the block they took.
 */
export function literalsOf(block: Uint8Array, before: HuffmanTable | null): Literals {
  const type = byteAt(block, 0) & 3;
  const form = (block[0]! >> 2) & 3;
  if (type === RAW || type === REPEATED) return plainLiterals(block, { type, form, table: before });
  const [head, sizeBits] = [[3, 10], [3, 10], [4, 14], [5, 18]][form] as [number, number]; // prettier-ignore
  byteAt(block, head - 1);
  const sizes = number(block, head);
  const size = Math.floor(sizes / 16) % 2 ** sizeBits;
  const packed = Math.floor(sizes / 2 ** (4 + sizeBits)) % 2 ** sizeBits;
  if (size > MOST_BLOCK_BYTES) throw damaged(`at most ${MOST_BLOCK_BYTES} bytes`, size);
  const body = part(block, head, packed);
  const own = type === PACKED ? huffmanTable(body) : { table: before, length: 0 };
  if (own.table === null) throw damaged('a table of codes', 'none');
  const bytes = new Uint8Array(size);
  decodeStreams(body.subarray(own.length), own.table, { bytes, count: form === 0 ? 1 : 4 });
  return { bytes, table: own.table, length: head + packed };
}

type Plain = { type: number; form: number; table: HuffmanTable | null };

function plainLiterals(block: Uint8Array, { type, form, table }: Plain): Literals {
  const head = [1, 2, 1, 3][form]!;
  byteAt(block, head - 1);
  const size = number(block, head) >> (head === 1 ? 3 : 4);
  if (size > MOST_BLOCK_BYTES) throw damaged(`at most ${MOST_BLOCK_BYTES} bytes`, size);
  if (type === RAW) return { bytes: part(block, head, size), table, length: head + size };
  return { bytes: new Uint8Array(size).fill(byteAt(block, head)), table, length: head + 1 };
}

function decodeStreams(
  packed: Uint8Array,
  table: HuffmanTable,
  { bytes, count }: { bytes: Uint8Array; count: number },
): void {
  if (count === 1) return decodeStream(packed, table, bytes);
  const sizes = [0, 2, 4].map((at) => number(part(packed, at, 2), 2));
  const each = (bytes.length + 3) >> 2;
  let at = JUMP_BYTES;
  for (const [index, size] of [...sizes, packed.length - at - sizes[0]! - sizes[1]! - sizes[2]!].entries()) {
    decodeStream(
      part(packed, at, size),
      table,
      bytes.subarray(index * each, index === 3 ? undefined : (index + 1) * each),
    );
    at += size;
  }
}

function decodeStream(packed: Uint8Array, { log, symbols, bits }: HuffmanTable, into: Uint8Array): void {
  const input = new BackwardBits(packed);
  for (let index = 0; index < into.length; index++) {
    const code = input.peek(log);
    into[index] = symbols[code]!;
    input.left -= bits[code]!;
  }
  if (input.left !== 0) throw damaged('streams that end with their last symbol', 'others');
}

/** Codes by the weight of each symbol, given plainly or in entropy codes; the last one follows from the others. */
function huffmanTable(bytes: Uint8Array): { table: HuffmanTable; length: number } {
  const head = byteAt(bytes, 0);
  const length = 1 + (head < 128 ? head : (head - 127 + 1) >> 1);
  const described = part(bytes, 1, length - 1);
  const weights =
    head < 128
      ? packedWeights(described)
      : Array.from({ length: head - 127 }, (_, index) => (described[index >> 1]! >> (index % 2 === 0 ? 4 : 0)) & 15);
  return { table: codesOf(weights), length };
}

/** Two states in turn. The stream ends where one of them would need bits that are not there. */
function packedWeights(bytes: Uint8Array): number[] {
  const { table, length } = entropyTable(bytes, { mostLog: 6, mostSymbols: 256 });
  const input = new BackwardBits(bytes.subarray(length));
  const states = [new EntropyState(table, input), new EntropyState(table, input)];
  const weights: number[] = [];
  for (let turn = 0; weights.length < 255; turn = 1 - turn) {
    weights.push(states[turn]!.symbol);
    states[turn]!.next();
    if (input.left >= 0) continue;
    weights.push(states[1 - turn]!.symbol);
    return weights;
  }
  throw damaged('at most 255 weights', 'more');
}

function codesOf(weights: readonly number[]): HuffmanTable {
  const sum = weights.reduce((total, weight) => total + (weight === 0 ? 0 : 2 ** (weight - 1)), 0);
  const log = sum === 0 ? 0 : 32 - Math.clz32(sum);
  if (log === 0 || log > MOST_CODE_BITS) throw damaged(`codes of 1 to ${MOST_CODE_BITS} bits`, log);
  const left = 2 ** log - sum;
  if ((left & (left - 1)) !== 0) throw damaged('weights that fill a tree', 'others');
  const all = [...weights, 32 - Math.clz32(left)];
  const table = { log, symbols: new Uint8Array(2 ** log), bits: new Uint8Array(2 ** log) };
  let at = 0;
  for (let weight = 1; weight <= log; weight++)
    all.forEach((own, symbol) => {
      if (own !== weight) return;
      const end = at + 2 ** (weight - 1);
      table.symbols.fill(symbol, at, end);
      table.bits.fill(log + 1 - weight, at, end);
      at = end;
    });
  return table;
}

/** Little-endian. */
function number(bytes: Uint8Array, length: number): number {
  let value = 0;
  for (let at = length - 1; at >= 0; at--) value = value * 256 + bytes[at]!;
  return value;
}

function byteAt(bytes: Uint8Array, at: number): number {
  const byte = bytes[at];
  if (byte === undefined) throw damaged('whole literals', 'some that end early');
  return byte;
}

function part(bytes: Uint8Array, from: number, length: number): Uint8Array {
  if (length < 0 || from + length > bytes.length) throw damaged('whole literals', 'some that end early');
  return bytes.subarray(from, from + length);
}

function damaged(requires: string, got: number | string): RangeError {
  return new RangeError(`Zstandard literals require ${requires}, got ${got}`);
}
