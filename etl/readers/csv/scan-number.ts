/**
 * Decimal numbers and instants straight from bytes: the hot path of reading. Each function answers NaN for whatever it
 * does not know; the caller then looks at the text at leisure, to say what is wrong with it.
 */
const ZERO = 48;
const DOT = 46;
const MINUS = 45;
const PLUS = 43;
const COMMA = 44;
const COLON = 58;
const BLANK = 32;
const [LETTER_U, LETTER_T, LETTER_C] = [85, 84, 67];

/** 10^-k for the decimals of a plain number. */
const TENTHS = Float64Array.from({ length: 23 }, (_, k) => 10 ** k);

/**
 * `-12.375` in bytes [from, to) → −12.375, correctly rounded. NaN for an empty, exponent-bearing or longer text.
 * `mark` is the byte of the decimal mark.
 */
export function scanNumber(bytes: Uint8Array, from: number, to: number, mark = DOT): number {
  let at = from;
  const sign = bytes[at];
  if (sign === MINUS || sign === PLUS) at++;
  if (to - at > 16 || at >= to) return Number.NaN; // beyond 15 digits a double no longer holds the integer exactly
  let value = 0;
  let decimals = -1;
  for (; at < to; at++) {
    const digit = bytes[at]! - ZERO;
    if (digit >= 0 && digit <= 9) {
      value = value * 10 + digit;
      if (decimals >= 0) decimals++;
    } else if (bytes[at] === mark && decimals < 0) decimals = 0;
    else return Number.NaN;
  }
  if (bytes[to - 1] === mark) return Number.NaN;
  const size = decimals > 0 ? value / TENTHS[decimals]! : value;
  return sign === MINUS ? -size : size;
}

function two(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]! - ZERO;
  const ones = bytes[at + 1]! - ZERO;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

/** Instants, with the last date kept: in a log it hardly ever changes from one row to the next. */
export class InstantScanner {
  readonly #date = new Uint8Array(10);
  #dateUs = Number.NaN;

  /**
   * ISO 8601 with zone, up to 9 decimals (`2026-03-01T06:00:00.125Z`, `… 07:00:00+01:00`), or epoch milliseconds with
   * decimals → integer µs. Whole minutes may lack the seconds, as some programs write them. NaN for anything else, a
   * time without zone included.
   */
  scan(bytes: Uint8Array, from: number, to: number): number {
    if (to - from < 17 || bytes[from + 4] !== MINUS) return this.#epoch(bytes, from, to);
    const day = this.#day(bytes, from);
    const mark = bytes[from + 10];
    if ((mark !== 84 && mark !== 116 && mark !== BLANK) || bytes[from + 13] !== COLON) return Number.NaN;
    const hasSeconds = bytes[from + 16] === COLON;
    const hours = two(bytes, from + 11);
    const minutes = two(bytes, from + 14);
    const seconds = hasSeconds ? two(bytes, from + 17) : 0;
    if (!(hours < 24 && minutes < 60 && seconds < 61)) return Number.NaN;
    let at = from + (hasSeconds ? 19 : 16);
    let micros = 0;
    // ISO 8601 takes either decimal mark.
    if (hasSeconds && (bytes[at] === DOT || bytes[at] === COMMA)) {
      const first = ++at;
      let weight = 100_000;
      for (; at < to; at++) {
        const digit = bytes[at]! - ZERO;
        if (!(digit >= 0 && digit <= 9)) break;
        micros += digit * weight;
        weight = weight >= 10 ? weight / 10 : weight === 1 ? 0 : weight;
      }
      if (at === first || at - first > 9) return Number.NaN;
    }
    return day + (hours * 3600 + minutes * 60 + seconds) * 1e6 + micros - zoneUs(bytes, at, to);
  }

  #day(bytes: Uint8Array, from: number): number {
    const date = this.#date;
    for (let i = 9; i >= 0; i--) if (bytes[from + i] !== date[i]) return this.#newDay(bytes, from);
    return this.#dateUs;
  }

  #newDay(bytes: Uint8Array, from: number): number {
    const year = two(bytes, from) * 100 + two(bytes, from + 2);
    const month = two(bytes, from + 5);
    const day = two(bytes, from + 8);
    const date = new Date(Date.UTC(year, month - 1, day));
    const real = bytes[from + 7] === MINUS && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
    if (!real) return Number.NaN;
    this.#date.set(bytes.subarray(from, from + 10));
    this.#dateUs = date.getTime() * 1000;
    return this.#dateUs;
  }

  #epoch(bytes: Uint8Array, from: number, to: number): number {
    const text = Buffer.from(bytes.buffer, bytes.byteOffset + from, Math.min(to - from, 40)).toString('latin1');
    return /^\d{9,14}(\.\d{1,9})?$/.test(text) ? Math.round(Number(text) * 1000) : Number.NaN;
  }
}

/** `Z` → 0; `+01:00`, `-0500`, `+02`, `UTC` → µs ahead of UTC, a blank before it or not; NaN without zone. */
function zoneUs(bytes: Uint8Array, from: number, to: number): number {
  const at = bytes[from] === BLANK ? from + 1 : from;
  const mark = bytes[at];
  if (to - at === 3 && mark === LETTER_U && bytes[at + 1] === LETTER_T && bytes[at + 2] === LETTER_C) return 0;
  if ((mark === 90 || mark === 122) && at + 1 === to) return 0;
  if (mark !== PLUS && mark !== MINUS) return Number.NaN;
  const hours = two(bytes, at + 1);
  const rest = to - at - 3;
  const minutes = rest === 0 ? 0 : two(bytes, to - 2);
  const wellFormed = rest === 0 || rest === 2 || (rest === 3 && bytes[at + 3] === COLON);
  if (!wellFormed || !(hours <= 14 && minutes < 60)) return Number.NaN;
  return (mark === PLUS ? 1 : -1) * (hours * 3600 + minutes * 60) * 1e6;
}
