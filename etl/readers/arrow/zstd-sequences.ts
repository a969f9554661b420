import type { UnpackedBytes } from './unpacked-bytes.ts';
import { BackwardBits } from './zstd-bits.ts';
import { entropyTable, EntropyState, singleTable, tableOf, type EntropyTable } from './zstd-entropy.ts';

/** Bases and further bits of the codes for lengths (RFC 8878, 3.1.1.3.2.1.1). */
const LITERAL_BITS = [...Array<number>(16).fill(0), 1, 1, 1, 1, 2, 2, 3, 3, 4, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16];
const MATCH_BITS = [...Array<number>(32).fill(0), 1, 1, 1, 1, 2, 2, 3, 3, 4, 4, 5, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16];
const LITERAL_BASES = basesOf(LITERAL_BITS, 0);
const MATCH_BASES = basesOf(MATCH_BITS, 3);

/** What a block may say of the three kinds of code, with the shares that stand where it says nothing (3.1.1.3.2.2). */
const KINDS = {
  literals: {
    mostLog: 9,
    mostSymbols: 36,
    log: 6,
    shares: [4, 3, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 1, 1, 1, 2, 2, 2, 2, 2, 2, 2, 2, 2, 3, 2, 1, 1, 1, 1, 1, -1, -1, -1, -1], // prettier-ignore
  },
  offsets: {
    mostLog: 8,
    mostSymbols: 32,
    log: 5,
    shares: [1, 1, 1, 1, 1, 1, 2, 2, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, -1, -1, -1, -1, -1],
  },
  matches: {
    mostLog: 9,
    mostSymbols: 53,
    log: 6,
    shares: [1, 4, 3, 2, 2, 2, 2, 2, 2, ...Array<number>(37).fill(1), -1, -1, -1, -1, -1, -1, -1],
  },
};
type Kind = keyof typeof KINDS;
const [PREDEFINED, SINGLE, DESCRIBED] = [0, 1, 2];

/** What goes on from block to block of a frame. */
export type Carried = { tables: Partial<Record<Kind, EntropyTable>>; offsets: [number, number, number] };
export const carriedAtStart = (): Carried => ({ tables: {}, offsets: [1, 4, 8] });

/**
 * Carries out the sequences of a block: so many literals, then so many bytes from so far back (RFC 8878, 3.1.1.3.2 and
 * 3.1.1.4). Literals that are left follow.
 */
export function runSequences(
  block: Uint8Array,
  { literals, carried }: { literals: Uint8Array; carried: Carried },
  output: UnpackedBytes,
): void {
  const { count, length } = countOf(block);
  let used = 0;
  if (count > 0) {
    const modes = byteAt(block, length);
    if ((modes & 3) !== 0) throw damaged('modes that are known', modes);
    let at = length + 1;
    for (const [kind, shift] of [
      ['literals', 6],
      ['offsets', 4],
      ['matches', 2],
    ] as const)
      // prettier-ignore
      at += setTable(block.subarray(at), { kind, mode: (modes >> shift) & 3 }, carried.tables);
    used = run(new BackwardBits(block.subarray(at)), { count, literals, carried }, output);
  } else if (block.length > length) throw damaged('blocks that end with their last sequence', 'more bytes');
  output.literals(literals, used, literals.length);
}

function countOf(block: Uint8Array): { count: number; length: number } {
  const first = byteAt(block, 0);
  if (first < 128) return { count: first, length: 1 };
  if (first < 255) return { count: ((first - 128) << 8) + byteAt(block, 1), length: 2 };
  return { count: byteAt(block, 1) + (byteAt(block, 2) << 8) + 0x7f00, length: 3 };
}

type Mode = { kind: Kind; mode: number };

/** Sets the table that a mode asks for; returns how many bytes it took. */
function setTable(bytes: Uint8Array, { kind, mode }: Mode, tables: Carried['tables']): number {
  const { mostLog, mostSymbols, log, shares } = KINDS[kind];
  if (mode === PREDEFINED) tables[kind] = tableOf(shares, log);
  else if (mode === SINGLE) {
    const symbol = byteAt(bytes, 0);
    if (symbol >= mostSymbols) throw damaged(`codes below ${mostSymbols}`, symbol);
    tables[kind] = singleTable(symbol);
    return 1;
  } else if (mode === DESCRIBED) {
    const { table, length } = entropyTable(bytes, { mostLog, mostSymbols });
    tables[kind] = table;
    return length;
  } else if (tables[kind] === undefined) throw damaged('a table before the one that is repeated', 'none');
  return 0;
}

type Running = { count: number; literals: Uint8Array; carried: Carried };

/** Returns how many literals were used. */
function run(input: BackwardBits, { count, literals, carried }: Running, output: UnpackedBytes): number {
  const { tables } = carried;
  const lengths = new EntropyState(tables.literals!, input);
  const offsets = new EntropyState(tables.offsets!, input);
  const matches = new EntropyState(tables.matches!, input);
  let used = 0;
  for (let sequence = 1; sequence <= count; sequence++) {
    const offset = 2 ** offsets.symbol + input.read(offsets.symbol);
    const match = MATCH_BASES[matches.symbol]! + input.read(MATCH_BITS[matches.symbol]!);
    const length = LITERAL_BASES[lengths.symbol]! + input.read(LITERAL_BITS[lengths.symbol]!);
    if (input.left < 0) throw damaged('as many sequences as it says', 'fewer');
    output.literals(literals, used, used + length);
    used += length;
    output.match(distanceOf(offset, length, carried.offsets), match);
    if (sequence === count) break;
    lengths.next();
    matches.next();
    offsets.next();
  }
  if (input.left !== 0) throw damaged('streams that end with their last sequence', 'others');
  return used;
}

/** The three lowest values mean one of the last three distances; after no literals the last but one, and so on. */
function distanceOf(value: number, literals: number, last: Carried['offsets']): number {
  const index = value > 3 ? 3 : value - 1 + (literals === 0 ? 1 : 0);
  const distance = value > 3 ? value - 3 : index === 3 ? last[0] - 1 : last[index]!;
  if (index >= 2) last[2] = last[1];
  if (index >= 1) last[1] = last[0];
  last[0] = distance;
  return distance;
}

function basesOf(bits: readonly number[], first: number): number[] {
  let base = first;
  return bits.map((count) => {
    const own = base;
    base += 2 ** count;
    return own;
  });
}

function byteAt(bytes: Uint8Array, at: number): number {
  const byte = bytes[at];
  if (byte === undefined) throw damaged('whole blocks', 'one that ends early');
  return byte;
}

function damaged(requires: string, got: number | string): RangeError {
  return new RangeError(`Zstandard sequences require ${requires}, got ${got}`);
}
