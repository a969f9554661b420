/** Shorter pieces are copied sooner than a call is made. */
const WORTH_A_CALL = 32;

/**
 * Bytes that have come out of a packed frame so far; matches are copied from them. `room` is how many there may be: a
 * packed byte may stand for hundreds. Throws RangeError where a match reaches before the beginning, or there is no room.
 */
export class UnpackedBytes {
  readonly #room: number;
  readonly #format: string;
  #bytes = new Uint8Array(1 << 16);
  #length = 0;

  /** `format`: named in what is thrown. */
  constructor(room: number, format: string) {
    this.#room = room;
    this.#format = format;
  }

  get length(): number {
    return this.#length;
  }

  literals(from: Uint8Array, begin: number, end: number): void {
    if (end > from.length)
      throw new RangeError(`${this.#format} block requires whole literals, got some that end early`);
    this.#reserve(end - begin);
    const length = end - begin;
    if (length >= WORTH_A_CALL) this.#bytes.set(from.subarray(begin, end), this.#length);
    else for (let i = 0; i < length; i++) this.#bytes[this.#length + i] = from[begin + i]!;
    this.#length += length;
  }

  repeated(byte: number, length: number): void {
    this.#reserve(length);
    this.#bytes.fill(byte, this.#length, this.#length + length);
    this.#length += length;
  }

  match(distance: number, length: number): void {
    const from = this.#length - distance;
    if (distance === 0 || from < 0)
      throw new RangeError(`${this.#format} match requires what came before, got ${distance} back`);
    this.#reserve(length);
    const bytes = this.#bytes;
    if (distance >= length && length >= WORTH_A_CALL) bytes.copyWithin(this.#length, from, from + length);
    // Byte by byte: a match may reach into itself.
    else for (let i = 0; i < length; i++) bytes[this.#length + i] = bytes[from + i]!;
    this.#length += length;
  }

  bytes(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }

  #reserve(length: number): void {
    const needed = this.#length + length;
    if (needed > this.#room)
      throw new RangeError(`${this.#format} frame requires at most ${this.#room} bytes unpacked, got more`);
    if (needed <= this.#bytes.length) return;
    const grown = new Uint8Array(Math.min(this.#room, Math.max(needed, 2 * this.#bytes.length)));
    grown.set(this.#bytes.subarray(0, this.#length));
    this.#bytes = grown;
  }
}
