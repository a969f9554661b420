import { ForwardBits, type BackwardBits } from './zstd-bits.ts';

/** Finite state entropy: each state has a symbol, and says from how many further bits the next state follows. */
export type EntropyTable = { log: number; symbols: Uint8Array; bits: Uint8Array; bases: Uint16Array };

/** Reads how often each symbol is used (RFC 8878, 4.1.1). Returns the table, and how many bytes its description took. */
export function entropyTable(
  bytes: Uint8Array,
  { mostLog, mostSymbols }: { mostLog: number; mostSymbols: number },
): { table: EntropyTable; length: number } {
  const input = new ForwardBits(bytes);
  const log = input.read(4) + 5;
  if (log > mostLog) throw damaged(`an accuracy of at most ${mostLog}`, log);
  const shares: number[] = [];
  let left = 1 << log;
  while (left > 0) {
    if (shares.length >= mostSymbols) throw damaged(`at most ${mostSymbols} symbols`, 'more');
    const share = shareOf(input, left);
    left -= Math.abs(share);
    shares.push(share);
    if (share === 0) for (let more = 3; more === 3;) for (let n = (more = input.read(2)); n > 0; n--) shares.push(0);
  }
  if (left < 0 || shares.length > mostSymbols) throw damaged(`shares of at most ${mostSymbols} symbols`, 'others');
  return { table: tableOf(shares, log), length: input.byteLength };
}

/** A share takes fewer bits the less is left; the lowest values one bit fewer. −1 is a share below one. */
function shareOf(input: ForwardBits, left: number): number {
  const bits = 32 - Math.clz32(left + 1);
  const value = input.read(bits);
  const low = value & ((1 << (bits - 1)) - 1);
  const spare = (1 << bits) - 1 - (left + 1);
  if (low < spare) {
    input.back(1);
    return low - 1;
  }
  return (value > (1 << (bits - 1)) - 1 ? value - spare : value) - 1;
}

/** Spreads the symbols over the states by their shares, which add up to 2^log. */
export function tableOf(shares: readonly number[], log: number): EntropyTable {
  const size = 1 << log;
  const table = { log, symbols: new Uint8Array(size), bits: new Uint8Array(size), bases: new Uint16Array(size) };
  const next = shares.map((share) => Math.abs(share));
  let high = size;
  shares.forEach((share, symbol) => {
    if (share < 0) table.symbols[--high] = symbol;
  });
  const step = (size >> 1) + (size >> 3) + 3;
  let at = 0;
  shares.forEach((share, symbol) => {
    for (let n = 0; n < share; n++) {
      table.symbols[at] = symbol;
      do at = (at + step) & (size - 1);
      while (at >= high);
    }
  });
  for (let state = 0; state < size; state++) {
    const own = next[table.symbols[state]!]!++;
    const bits = log - (31 - Math.clz32(own));
    table.bits[state] = bits;
    table.bases[state] = (own << bits) - size;
  }
  return table;
}

/** A table of one symbol. */
export function singleTable(symbol: number): EntropyTable {
  return { log: 0, symbols: Uint8Array.of(symbol), bits: new Uint8Array(1), bases: new Uint16Array(1) };
}

/** A place in a table, moved on by the bits of a stream. */
export class EntropyState {
  readonly #table: EntropyTable;
  readonly #input: BackwardBits;
  #state: number;

  constructor(table: EntropyTable, input: BackwardBits) {
    this.#table = table;
    this.#input = input;
    this.#state = input.read(table.log);
  }

  get symbol(): number {
    return this.#table.symbols[this.#state]!;
  }

  next(): void {
    this.#state = this.#table.bases[this.#state]! + this.#input.read(this.#table.bits[this.#state]!);
  }
}

function damaged(requires: string, got: number | string): RangeError {
  return new RangeError(`Zstandard table requires ${requires}, got ${got}`);
}
