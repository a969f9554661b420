import { AHEAD_US, EARLIEST_US } from '../kinds/column-limits.ts';
import { CARRIAGE_RETURN, NEWLINE } from '../bytes/line-ends.ts';
import type { ColumnPlan } from './column-plan.ts';
import { COMMA, MAX_ROW_BYTES, QUOTE, type RowWindow } from './row-window.ts';
import { InstantScanner } from './scan-number.ts';
import type { TextDictionary } from './text-dictionary.ts';
import { WordList } from './word-list.ts';

const IGNORED = 0;
const NUMBER = 1;
const INSTANT = 2;
const TEXT = 3;
const WORD = 4;

const [ZERO, DOT, MINUS, ZULU] = [48, 46, 45, 90];
/** Digits whose integer fits 32 bits: more go the general way. */
const MOST_DIGITS = 9;
/** `2026-03-01T06:00:`, the part of a time that stays the same for many rows. */
const MINUTE_BYTES = 17;
const POWERS = Float64Array.from({ length: 10 }, (_, k) => 10 ** k);

/**
 * The rows that loggers write nearly always (no quotes, plain numbers, times in UTC or epoch milliseconds), read in one
 * pass over the bytes. It stops before the first row that has anything else; the general scanner then reads that one.
 * Whatever it reads, it reads as the general scanner would.
 */
export class FastRows {
  readonly #plans: readonly (ColumnPlan | null)[];
  readonly #codes: Uint8Array;
  readonly #into: (Float64Array | Int32Array | null)[];
  readonly #numbers: Float64Array[];
  readonly #names: Int32Array[];
  readonly #least: Float64Array;
  readonly #most: Float64Array;
  readonly #spellings: Uint8Array[];
  readonly #spellingViews: DataView[];
  readonly #indexes: Int32Array;
  readonly #words: (WordList | null)[];
  readonly #lines: Float64Array;
  readonly #dictionary: TextDictionary;
  readonly #latestUs: number;
  readonly #instants = new InstantScanner();
  readonly #minute = new Uint8Array(MINUTE_BYTES + 3);
  readonly #minuteView = new DataView(this.#minute.buffer);
  #minuteUs = Number.NaN;

  constructor(
    plans: readonly (ColumnPlan | null)[],
    into: { lines: Float64Array; dictionary: TextDictionary; nowUs: number },
  ) {
    const none = new Float64Array(0);
    this.#plans = plans;
    this.#codes = Uint8Array.from(plans, codeOf);
    this.#into = plans.map((plan) => plan?.into ?? null);
    this.#numbers = this.#into.map((column) => (column instanceof Float64Array ? column : none));
    this.#names = this.#into.map((column) => (column instanceof Int32Array ? column : new Int32Array(0)));
    this.#least = Float64Array.from(plans, (plan) => (plan?.kind === 'number' ? plan.limit.least : 0));
    this.#most = Float64Array.from(plans, (plan) => (plan?.kind === 'number' ? plan.limit.most : 0));
    this.#spellings = plans.map(() => new Uint8Array(0));
    this.#spellingViews = plans.map(() => new DataView(new ArrayBuffer(0)));
    this.#indexes = new Int32Array(plans.length).fill(-1);
    this.#words = plans.map((plan) => (plan?.kind === 'word' ? new WordList(plan.words) : null));
    this.#lines = into.lines;
    this.#dictionary = into.dictionary;
    this.#latestUs = into.nowUs + AHEAD_US;
    this.#minute.set([ZERO, ZERO, ZULU], MINUTE_BYTES);
  }

  /**
   * Reads rows into index `at` and on, up to `capacity`, and passes them. Returns the index after the last one.
   * One long loop on purpose: it runs once a byte, and calls between its parts cost half of its speed.
   */
  read(window: RowWindow, at: number, capacity: number): number {
    const { bytes, view, end } = window;
    const codes = this.#codes;
    const last = codes.length - 1;
    const [lines, least, most] = [this.#lines, this.#least, this.#most];
    const [numbers, names, latestUs, minute] = [this.#numbers, this.#names, this.#latestUs, this.#minuteView];
    const [spellings, spellingViews, indexes] = [this.#spellings, this.#spellingViews, this.#indexes];
    bytes[end] = NEWLINE; // no field runs past it; the window keeps room for it
    let rowStart = window.start;
    rows: while (at < capacity && rowStart < end) {
      let pos = rowStart;
      for (let column = 0; column <= last; column++) {
        const code = codes[column];
        if (code === NUMBER) {
          let byte = bytes[pos]!;
          const negative = byte === MINUS;
          if (negative) byte = bytes[++pos]!;
          const first = pos;
          let whole = 0;
          let decimals = 0;
          while (byte >= ZERO && byte <= 57) {
            whole = (Math.imul(whole, 10) + byte - ZERO) | 0;
            byte = bytes[++pos]!;
          }
          let digits = pos - first;
          if (byte === DOT) {
            const point = pos;
            byte = bytes[++pos]!;
            while (byte >= ZERO && byte <= 57) {
              whole = (Math.imul(whole, 10) + byte - ZERO) | 0;
              byte = bytes[++pos]!;
            }
            decimals = pos - point - 1;
            if (decimals === 0) break rows;
            digits += decimals;
          }
          if (digits === 0 && !negative && !this.#plans[column]!.required) numbers[column]![at] = Number.NaN;
          else {
            if (digits === 0 || digits > MOST_DIGITS) break rows;
            const size = decimals > 0 ? whole / POWERS[decimals]! : whole;
            const value = negative ? -size : size;
            if (!(value >= least[column]! && value <= most[column]!)) break rows;
            numbers[column]![at] = value;
          }
        } else if (code === INSTANT) {
          let us: number;
          if (bytes[pos + 4] === MINUS) {
            const same =
              view.getInt32(pos) === minute.getInt32(0) &&
              view.getInt32(pos + 4) === minute.getInt32(4) &&
              view.getInt32(pos + 8) === minute.getInt32(8) &&
              view.getInt32(pos + 12) === minute.getInt32(12) &&
              bytes[pos + 16] === 58;
            if (!same) this.#newMinute(bytes, pos);
            const tens = bytes[pos + 17]! - ZERO;
            const ones = bytes[pos + 18]! - ZERO;
            if (!(tens >= 0 && tens < 6 && ones >= 0 && ones <= 9)) break rows;
            pos += 19;
            let fraction = 0;
            let byte = bytes[pos]!;
            if (byte === DOT) {
              const first = pos + 1;
              byte = bytes[++pos]!;
              while (byte >= ZERO && byte <= 57) {
                fraction = (Math.imul(fraction, 10) + byte - ZERO) | 0;
                byte = bytes[++pos]!;
              }
              const decimals = pos - first;
              if (decimals === 3) fraction = Math.imul(fraction, 1000);
              else if (decimals === 0 || decimals > 6) break rows;
              else fraction *= POWERS[6 - decimals]!;
            }
            if (byte !== ZULU) break rows;
            pos++;
            us = this.#minuteUs + (tens * 10 + ones) * 1e6 + fraction;
          } else {
            const first = pos;
            let millis = 0;
            let byte = bytes[pos]!;
            while (byte >= ZERO && byte <= 57) {
              millis = millis * 10 + byte - ZERO;
              byte = bytes[++pos]!;
            }
            if (pos - first < 9 || pos - first > 14) break rows;
            let fraction = 0;
            if (byte === DOT) {
              const point = pos + 1;
              byte = bytes[++pos]!;
              while (byte >= ZERO && byte <= 57) {
                fraction = (Math.imul(fraction, 10) + byte - ZERO) | 0;
                byte = bytes[++pos]!;
              }
              if (pos === point || pos - point > 3) break rows;
              fraction *= POWERS[3 - (pos - point)]!;
            }
            us = millis * 1000 + fraction;
          }
          if (!(us >= EARLIEST_US && us <= latestUs)) break rows;
          numbers[column]![at] = us;
        } else if (code === TEXT) {
          const spelling = spellings[column]!;
          const words = spellingViews[column]!;
          const length = spelling.length;
          let same = 0;
          while (same + 4 <= length && view.getInt32(pos + same) === words.getInt32(same)) same += 4;
          while (same < length && bytes[pos + same] === spelling[same]) same++;
          let stop = pos + length;
          const following = bytes[stop];
          const known = same === length && (following === COMMA || following === NEWLINE) && indexes[column]! >= 0;
          if (!known) {
            stop = this.#newText(bytes, pos, column);
            if (stop < 0) break rows;
          }
          names[column]![at] = indexes[column]!;
          pos = stop;
        } else if (code === WORD) {
          const list = this.#words[column]!;
          const word = list.index(bytes, pos);
          if (word < 0) break rows;
          numbers[column]![at] = word;
          pos = list.stop;
        } else {
          let byte = bytes[pos];
          if (byte === QUOTE) break rows;
          while (byte !== COMMA && byte !== NEWLINE) byte = bytes[++pos];
        }
        if (column < last && bytes[pos++] !== COMMA) break rows;
      }
      if (bytes[pos] === CARRIAGE_RETURN) pos++;
      if (bytes[pos] !== NEWLINE || pos - rowStart > MAX_ROW_BYTES || (pos >= end && !window.ended)) break;
      lines[at++] = window.line++;
      rowStart = pos + 1;
    }
    window.start = Math.min(rowStart, end);
    return at;
  }

  #newMinute(bytes: Uint8Array, pos: number): void {
    this.#minute.set(bytes.subarray(pos, pos + MINUTE_BYTES));
    this.#minuteUs = this.#instants.scan(this.#minute, 0, this.#minute.length);
    // Cut off by the window's end it is none, and must not be taken for the whole one's beginning.
    if (Number.isNaN(this.#minuteUs)) this.#minute[0] = 0;
  }

  /** Learns the text at `pos`; returns where it ends, −1 for one that the general scanner has to look at. */
  #newText(bytes: Uint8Array, pos: number, column: number): number {
    let stop = pos;
    for (let byte = bytes[stop]; byte !== COMMA && byte !== NEWLINE; byte = bytes[++stop])
      if (byte === QUOTE || byte === CARRIAGE_RETURN || byte! <= 32) return -1;
    const plan = this.#plans[column]!;
    const isEmptyAllowed = plan.kind === 'text' && plan.emptyAllowed;
    if ((stop === pos && !isEmptyAllowed) || stop - pos > 64) return -1;
    const index = this.#dictionary.index(bytes, pos, stop);
    if (index < 0) return -1;
    this.#indexes[column] = index;
    this.#spellings[column] = this.#dictionary.lastSpelling;
    this.#spellingViews[column] = this.#dictionary.lastView;
    return stop;
  }
}

function codeOf(plan: ColumnPlan | null): number {
  if (plan === null) return IGNORED;
  return { number: NUMBER, instant: INSTANT, text: TEXT, word: WORD }[plan.kind];
}
