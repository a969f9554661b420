import { CARRIAGE_RETURN, NEWLINE } from '../bytes/line-ends.ts';
import { COMMA } from './row-window.ts';

/** The few words that a column may hold, told by their bytes. */
export class WordList {
  readonly #words: readonly Uint8Array[];
  /** Where the field ends that was looked at last. */
  stop = 0;

  constructor(words: readonly string[]) {
    this.#words = words.map((word) => Buffer.from(word));
  }

  /** Number of the word that stands at `from`, NaN for an empty field, −1 for what is not spelled as in the list. */
  index(bytes: Uint8Array, from: number): number {
    let stop = from;
    for (let byte = bytes[stop]; byte !== COMMA && byte !== NEWLINE && byte !== CARRIAGE_RETURN; byte = bytes[++stop]);
    this.stop = stop;
    if (stop === from) return Number.NaN;
    return this.#words.findIndex((word) => {
      if (word.length !== stop - from) return false;
      let same = 0;
      while (same < word.length && bytes[from + same] === word[same]) same++;
      return same === word.length;
    });
  }
}
