/**
 * Bits of Zstandard (RFC 8878), at most 32 at a time. Tables are written forwards, from the lowest bit of the first byte
 * on; streams of codes are read backwards, from below the highest set bit of the last byte.
 */
export class ForwardBits {
  readonly #bytes: Uint8Array;
  /** Index of the next bit. */
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  /** Throws RangeError beyond the end. */
  read(count: number): number {
    if (this.#at + count > 8 * this.#bytes.length)
      throw new RangeError('Zstandard table requires whole bytes, got some that end early');
    const value = bitsAt(this.#bytes, this.#at, count);
    this.#at += count;
    return value;
  }

  back(count: number): void {
    this.#at -= count;
  }

  /** Bytes that were begun. */
  get byteLength(): number {
    return Math.ceil(this.#at / 8);
  }
}

export class BackwardBits {
  readonly #bytes: Uint8Array;
  /** How many bits are left; negative once more were read than there are: those are nought. */
  left: number;

  constructor(bytes: Uint8Array) {
    const last = bytes.at(-1) ?? 0;
    if (last === 0) throw new RangeError('Zstandard stream requires a mark at its end, got none');
    this.#bytes = bytes;
    this.left = 8 * bytes.length - Math.clz32(last) + 24 - 1;
  }

  read(count: number): number {
    if (count > 16) return this.read(count - 16) * 65_536 + this.read(16);
    this.left -= count;
    return this.#below(count);
  }

  /** The next bits, which stay where they are. */
  peek(count: number): number {
    this.left -= count;
    const value = this.#below(count);
    this.left += count;
    return value;
  }

  #below(count: number): number {
    if (this.left >= 0) return bitsAt(this.#bytes, this.left, count);
    const there = count + this.left;
    return there <= 0 ? 0 : bitsAt(this.#bytes, 0, there) << -this.left;
  }
}

/** Up to 25 bits from a bit on, the first one lowest. */
function bitsAt(bytes: Uint8Array, bit: number, count: number): number {
  const at = bit >>> 3;
  const word =
    (bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8) | ((bytes[at + 2] ?? 0) << 16) | ((bytes[at + 3] ?? 0) << 24);
  return (word >>> (bit & 7)) & ((1 << count) - 1);
}
