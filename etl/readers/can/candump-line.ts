/**
 * One line of candump (can-utils), in the log form of `-L` or the form shown on a screen, read byte by byte:
 *
 *   (1700000000.123456) can0 18FEF700#FFFFFFFF1901FFFF
 *   (1700000000.123456)  can0  18FEF700   [8]  FF FF FF FF 19 01 FF FF   '........'
 *
 * Also: FD frames (`##` and a flags digit), remote frames (`#R`, `remote request`), error frames (bit 29 of the id),
 * `R`/`T`, `RX`/`TX` marks of direction, `_` and a raw length, DROPCOUNT lines. Nothing is allocated for a frame.
 */
import { StampScanner, type StampForm } from './candump-stamp.ts';
import { HEX, LineCursor, NEWLINE, SPACE, TAB } from './line-cursor.ts';

export type { StampForm };

export type LineKind = 'frame' | 'remote' | 'error' | 'dropped' | 'blank' | 'bad';

const [QUOTE, OPEN, HASH, UNDERSCORE, BRACKET, CLOSE_BRACKET, BACKTICK] = [39, 40, 35, 95, 91, 93, 96];
const [LETTER_D, LETTER_R, LETTER_T] = [68, 82, 84];
/** SocketCAN: bit 29 of the id marks an error frame; the two bits above it are of no frame that candump writes. */
const ERROR_FLAG = 0x20000000;
const MOST_ID = 0x3fffffff;

export class CandumpLine extends LineCursor {
  kind: LineKind = 'blank';
  /** Microseconds; since 1970 only where `stamp` is `epoch`. */
  timeUs = Number.NaN;
  stamp: StampForm = 'none';
  id = 0;
  /** 29-bit id. */
  extended = false;
  /** Data bytes. */
  length = 0;
  readonly data = new Uint8Array(64);
  /** Why a line is bad: `<what> requires <condition>`. */
  reason = '';

  readonly #stamps = new StampScanner();

  /** Reads the line that begins at `from`; there must be a newline. Returns the index of the newline. */
  read(bytes: Uint8Array, from: number): number {
    this.kind = 'bad';
    this.reason = 'line requires a CAN frame as candump writes it';
    this.length = 0;
    this.at = from;
    if (this.#line(bytes)) this.reason = '';
    let end = this.at;
    while (bytes[end] !== NEWLINE) end++;
    return end;
  }

  /** Whether all of it was understood. Leaves `at` on what was not. */
  #line(bytes: Uint8Array): boolean {
    this.blanks(bytes);
    const first = bytes[this.at]!;
    if (first === NEWLINE) {
      this.kind = 'blank';
      return true;
    }
    this.stamp = 'none';
    this.timeUs = Number.NaN;
    if (first === OPEN) {
      const after = this.#stamps.read(bytes, this.at);
      if (after < 0) {
        this.reason = 'time requires (seconds.fraction) as candump writes it';
        return false;
      }
      [this.timeUs, this.stamp, this.at] = [this.#stamps.timeUs, this.#stamps.form, after];
    } else if (first === LETTER_D && this.startsWith(bytes, DROPCOUNT)) {
      this.kind = 'dropped';
      return true;
    }
    this.blanks(bytes);
    if (!this.word(bytes)) return false; // the interface
    this.blanks(bytes);
    return this.#frame(bytes);
  }

  #frame(bytes: Uint8Array): boolean {
    while (!this.#id(bytes)) if (!this.#direction(bytes)) return false;
    const whole = bytes[this.at] === HASH ? this.#logData(bytes) : this.#screenData(bytes);
    if (!whole) return false;
    if (this.kind !== 'remote') this.kind = this.id >= ERROR_FLAG ? 'error' : 'frame';
    if (this.id > (this.extended ? MOST_ID : 0x7ff)) {
      this.kind = 'bad';
      this.reason = 'CAN id requires at most 7FF with three digits, 1FFFFFFF with eight';
      return false;
    }
    return true;
  }

  /** `#` and data, `#R`, `##` flags and data; then a raw length and a mark of direction. */
  #logData(bytes: Uint8Array): boolean {
    let at = this.at + 1;
    if (bytes[at] === LETTER_R) {
      this.kind = 'remote';
      at++;
      while (HEX[bytes[at]!]! >= 0) at++;
    } else {
      if (bytes[at] === HASH) {
        if (HEX[bytes[at + 1]!]! < 0) return false;
        at += 2;
      }
      at = this.#data(bytes, at);
      if (at < 0) return false;
    }
    if (bytes[at] === UNDERSCORE && HEX[bytes[at + 1]!]! >= 0) at += 2;
    this.at = at;
    this.blanks(bytes);
    const mark = bytes[this.at];
    if (mark === LETTER_R || mark === LETTER_T) this.at++;
    return this.ends(bytes);
  }

  /** Pairs of digits up to the first other byte, whose index is returned; −1 where they are no whole bytes. */
  #data(bytes: Uint8Array, from: number): number {
    const { data } = this;
    let at = from;
    let length = 0;
    for (let high = HEX[bytes[at]!]!; high >= 0; high = HEX[bytes[at]!]!) {
      const low = HEX[bytes[at + 1]!]!;
      if (low < 0 || length === 64) {
        this.at = at;
        this.reason = low < 0 ? 'data requires two digits a byte' : 'data requires at most 64 bytes';
        return -1;
      }
      data[length++] = high * 16 + low;
      at += 2;
    }
    this.length = length;
    return at;
  }

  /** `[8]`, the bytes with blanks between, and what the screen form adds behind them. */
  #screenData(bytes: Uint8Array): boolean {
    this.blanks(bytes);
    if (bytes[this.at] !== BRACKET) return false;
    let at = this.at + 1;
    let wanted = 0;
    for (; bytes[at]! >= 48 && bytes[at]! <= 57; at++) wanted = Math.min(999, wanted * 10 + bytes[at]! - 48);
    if (bytes[at] !== CLOSE_BRACKET) return false;
    this.at = at + 1;
    if (wanted > 64) {
      this.reason = 'data requires at most 64 bytes';
      return false;
    }
    this.blanks(bytes);
    if (this.startsWith(bytes, REMOTE)) {
      this.kind = 'remote';
      this.at += REMOTE.length;
      return this.ends(bytes);
    }
    if (!this.#spacedBytes(bytes, wanted)) return false;
    if (this.startsWith(bytes, ERROR_FRAME)) this.at += ERROR_FRAME.length;
    if (bytes[this.at] === QUOTE || bytes[this.at] === BACKTICK) return true;
    return this.ends(bytes);
  }

  #spacedBytes(bytes: Uint8Array, wanted: number): boolean {
    for (let length = 0; length < wanted; length++) {
      const [high, low] = [HEX[bytes[this.at]!]!, HEX[bytes[this.at + 1]!]!];
      if (high < 0 || low < 0) {
        this.reason = 'data requires as many bytes as the brackets say';
        return false;
      }
      this.data[length] = high * 16 + low;
      this.at += 2;
      this.blanks(bytes);
    }
    this.length = wanted;
    return true;
  }

  /** Hexadecimal digits that end in `#` or a blank: three or eight of them. False, and nothing moved, for another word. */
  #id(bytes: Uint8Array): boolean {
    let at = this.at;
    let id = 0;
    for (let digit = HEX[bytes[at]!]!; digit >= 0; digit = HEX[bytes[++at]!]!) id = id * 16 + digit;
    const digits = at - this.at;
    const after = bytes[at];
    if ((digits !== 3 && digits !== 8) || (after !== HASH && after !== SPACE && after !== TAB)) return false;
    this.id = id;
    this.extended = digits === 8;
    this.at = at;
    return true;
  }

  /** `RX`, `TX`, `B`, `E` and `-` before the id, as `candump -x` shows them. */
  #direction(bytes: Uint8Array): boolean {
    const from = this.at;
    if (!this.word(bytes) || this.at - from > 2) return false;
    for (let at = from; at < this.at; at++) if (!DIRECTION.has(bytes[at]!)) return false;
    this.blanks(bytes);
    return true;
  }
}

const DROPCOUNT = Buffer.from('DROPCOUNT:');
const REMOTE = Buffer.from('remote request');
const ERROR_FRAME = Buffer.from('ERRORFRAME');
const DIRECTION = new Set(Buffer.from('RXTBE-'));
