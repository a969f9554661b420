const strict = new TextDecoder('utf-8', { fatal: true });

/** No name has one: it is what a power failure leaves of a row (zero bytes), or a row that is none. */
// eslint-disable-next-line no-control-regex
export const CONTROL_CHARACTER = /[\u0000-\u001F\u007F]/;

/**
 * Texts of a file by number, so that a row carries an index. Spellings are found by their bytes: the last one first, since
 * rows come in runs, then in a hash table, since loggers also write many units in turn.
 */
export class TextDictionary {
  readonly names: string[] = [];
  readonly #byName = new Map<string, number>();
  /** Each spelling seen (blanks around it included) and the index of its text. */
  readonly #spellings: Uint8Array[] = [];
  readonly #views: DataView[] = [];
  readonly #indexes: number[] = [];
  /** Open addressing: number of a spelling, −1 for a free slot. */
  #slots = new Int32Array(1024).fill(-1);
  #last: Uint8Array = new Uint8Array(0);
  #lastView: DataView = new DataView(new ArrayBuffer(0));
  #lastIndex = -1;

  /** Index of the text in bytes [from, to), blanks around it dropped; −1 where it is not UTF-8 or holds a control character. */
  index(bytes: Uint8Array, from: number, to: number): number {
    if (this.#lastIndex >= 0 && isSpelled(this.#last, bytes, from, to)) return this.#lastIndex;
    const mask = this.#slots.length - 1;
    let slot = hash(bytes, from, to) & mask;
    for (; this.#slots[slot]! >= 0; slot = (slot + 1) & mask) {
      const spelling = this.#slots[slot]!;
      if (isSpelled(this.#spellings[spelling]!, bytes, from, to)) return this.#remember(spelling);
    }
    return this.#add(bytes, from, to, slot);
  }

  /** Index of a text that comes as one, blanks around it dropped; −1 where it holds a control character. */
  indexOf(text: string): number {
    return this.#byName.get(text) ?? this.#number(text.trim());
  }

  /** Bytes of the spelling that `index` answered for last; never changed afterwards. */
  get lastSpelling(): Uint8Array {
    return this.#last;
  }

  /** The same bytes to compare four at a time; made once a spelling, as units may come in turn. */
  get lastView(): DataView {
    return this.#lastView;
  }

  #remember(spelling: number): number {
    this.#last = this.#spellings[spelling]!;
    this.#lastView = this.#views[spelling]!;
    this.#lastIndex = this.#indexes[spelling]!;
    return this.#lastIndex;
  }

  #add(bytes: Uint8Array, from: number, to: number, slot: number): number {
    // A copy of its own: `slice` of a Buffer would be a view that changes with the window.
    const raw = Uint8Array.from(bytes.subarray(from, to));
    let text: string;
    try {
      text = strict.decode(raw).trim();
    } catch {
      return -1;
    }
    const index = this.#number(text);
    if (index < 0) return -1;
    this.#slots[slot] = this.#spellings.push(raw) - 1;
    this.#views.push(new DataView(raw.buffer));
    this.#indexes.push(index);
    if (this.#spellings.length * 2 > this.#slots.length) this.#grow();
    return this.#remember(this.#spellings.length - 1);
  }

  #number(text: string): number {
    const known = this.#byName.get(text);
    if (known !== undefined) return known;
    if (CONTROL_CHARACTER.test(text)) return -1;
    const index = this.names.push(text) - 1;
    this.#byName.set(text, index);
    return index;
  }

  #grow(): void {
    this.#slots = new Int32Array(this.#slots.length * 4).fill(-1);
    const mask = this.#slots.length - 1;
    for (const [number, spelling] of this.#spellings.entries()) {
      let slot = hash(spelling, 0, spelling.length) & mask;
      while (this.#slots[slot]! >= 0) slot = (slot + 1) & mask;
      this.#slots[slot] = number;
    }
  }
}

/** FNV-1a, 32 bits, high bits folded in. */
function hash(bytes: Uint8Array, from: number, to: number): number {
  let value = 0x811c9dc5;
  for (let at = from; at < to; at++) value = Math.imul(value ^ bytes[at]!, 0x01000193);
  return (value ^ (value >>> 15)) >>> 0;
}

function isSpelled(spelling: Uint8Array, bytes: Uint8Array, from: number, to: number): boolean {
  if (to - from !== spelling.length) return false;
  for (let i = spelling.length - 1; i >= 0; i--) if (bytes[from + i] !== spelling[i]) return false;
  return true;
}
