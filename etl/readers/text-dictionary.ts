const strict = new TextDecoder('utf-8', { fatal: true });

/** Texts of a file by number, so that a row carries an index. The last text is tried first: rows come in runs. */
export class TextDictionary {
  readonly names: string[] = [];
  readonly #known = new Map<string, number>();
  #last = new Uint8Array(0);
  #lastIndex = -1;

  /** Index of the text in bytes [from, to), blanks around it dropped; −1 where it is not UTF-8. */
  index(bytes: Uint8Array, from: number, to: number): number {
    if (this.#isLast(bytes, from, to)) return this.#lastIndex;
    const raw = bytes.slice(from, to);
    let text: string;
    try {
      text = strict.decode(raw).trim();
    } catch {
      return -1;
    }
    let index = this.#known.get(text);
    if (index === undefined) {
      index = this.names.push(text) - 1;
      this.#known.set(text, index);
    }
    this.#last = raw;
    this.#lastIndex = index;
    return index;
  }

  #isLast(bytes: Uint8Array, from: number, to: number): boolean {
    const last = this.#last;
    if (to - from !== last.length || this.#lastIndex < 0) return false;
    for (let i = last.length - 1; i >= 0; i--) if (bytes[from + i] !== last[i]) return false;
    return true;
  }
}
