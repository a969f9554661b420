import { CellFault } from '../kinds/cell.ts';
import type { MappedColumn } from '../profile/mapped-column.ts';

const [ZERO, NINE, COLON, DOT, COMMA, ZULU] = [48, 57, 58, 46, 44, 90];
const LONGEST = 40;
const POWERS = [1, 10, 100, 1000, 1e4, 1e5, 1e6];

/**
 * Instants of a log by their minute: all before the last colon stays the same for many rows and is read once by the
 * column's own format, the seconds each time; a Z may follow. NaN wherever that is not plainly so.
 */
export class MinuteCache {
  readonly #instantOf: MappedColumn['instantOf'];
  readonly #minute = new Uint8Array(LONGEST);
  #length = 0;
  #minuteUs = Number.NaN;
  #zulu = false;

  constructor(column: Pick<MappedColumn, 'instantOf'>) {
    this.#instantOf = column.instantOf;
  }

  instant(bytes: Uint8Array, from: number, stop: number): number {
    if (this.#instantOf === null || stop - from > LONGEST) return Number.NaN;
    const zulu = bytes[stop - 1] === ZULU;
    const to = zulu ? stop - 1 : stop;
    let at = to - 1;
    let point = -1;
    for (; at > from; at--) {
      const byte = bytes[at]!;
      if (byte === COLON) break;
      if (byte >= ZERO && byte <= NINE) continue;
      if ((byte === DOT || byte === COMMA) && point < 0) point = at;
      else return Number.NaN;
    }
    const seconds = at + 1;
    const whole = point < 0 ? to : point;
    if (at === from || whole - seconds !== 2 || to - whole > 7 || whole + 1 === to) return Number.NaN;
    const first = bytes[seconds]! - ZERO;
    if (first > 5) return Number.NaN;
    if (zulu !== this.#zulu || !this.#known(bytes, from, seconds))
      if (!this.#learn(bytes, { from, to: seconds, zulu })) return Number.NaN;
    let micros = 0;
    for (let digit = whole + 1; digit < to; digit++) micros = micros * 10 + bytes[digit]! - ZERO;
    if (whole < to) micros *= POWERS[6 - (to - whole - 1)]!;
    return this.#minuteUs + (first * 10 + bytes[seconds + 1]! - ZERO) * 1e6 + micros;
  }

  #known(bytes: Uint8Array, from: number, to: number): boolean {
    if (to - from !== this.#length) return false;
    for (let at = to - from - 1; at >= 0; at--) if (bytes[from + at] !== this.#minute[at]) return false;
    return true;
  }

  /** The colon before the seconds must be what the format has there: its reading with 00 and with 59 shows it. */
  #learn(bytes: Uint8Array, { from, to, zulu }: { from: number; to: number; zulu: boolean }): boolean {
    const text = Buffer.from(bytes.buffer, bytes.byteOffset + from, to - from).toString('latin1');
    const [begin, end, tenth] = ['00', '59', '00.1'].map((seconds) =>
      this.#instantOf!(`${text}${seconds}${zulu ? 'Z' : ''}`),
    );
    if (begin instanceof CellFault || end instanceof CellFault || tenth instanceof CellFault) return false;
    if (begin === undefined || end !== begin + 59e6 || tenth !== begin + 1e5) return false;
    this.#minute.set(bytes.subarray(from, to));
    this.#length = to - from;
    this.#zulu = zulu;
    this.#minuteUs = begin;
    return true;
  }
}
