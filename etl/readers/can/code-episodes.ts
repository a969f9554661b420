/** Trouble codes come again and again while they are active: each spell of one is one row, at its beginning. */
export class CodeEpisodes {
  readonly #goneUs: number;
  readonly #lastSeen = new Map<string, number>();

  /** Not seen for so long, a code was gone: seen again, it is a new spell. */
  constructor(goneUs: number) {
    this.#goneUs = goneUs;
  }

  /** Whether a code seen now begins a spell. */
  begins(code: string, us: number): boolean {
    const last = this.#lastSeen.get(code);
    this.#lastSeen.set(code, Math.max(us, last ?? -Infinity));
    return last === undefined || us - last >= this.#goneUs;
  }
}
