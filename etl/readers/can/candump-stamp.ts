/** `local` is a date without zone (`-tA`); `counted` counts from the start or the frame before (`-tz`, `-td`). */
export type StampForm = 'epoch' | 'local' | 'counted' | 'none';

const [CLOSE, DASH, DOT, ZERO] = [41, 45, 46, 48];
/** candump writes seconds since 1970 with ten digits, counted ones with three and more; three years are nine. */
const EPOCH_DIGITS = 10;
const MOST_DIGITS = 12;
const MOST_DATE_BYTES = 32;

/** The time stamp in brackets that a line of candump begins with. */
export class StampScanner {
  /** Microseconds: since 1970, of the logger's own clock as if it were UTC, or since what it counts from. */
  timeUs = Number.NaN;
  form: StampForm = 'none';

  /** Reads the stamp whose bracket opens at `open`. Returns the index behind it, −1 where it is none. */
  read(bytes: Uint8Array, open: number): number {
    let at = open + 1;
    let seconds = 0;
    for (; isDigit(bytes[at]!); at++) seconds = seconds * 10 + bytes[at]! - ZERO;
    const digits = at - open - 1;
    if (digits === 4 && bytes[at] === DASH) return this.#date(bytes, open);
    if (digits === 0 || digits > MOST_DIGITS || bytes[at] !== DOT) return -1;
    const first = ++at;
    let micros = 0;
    let weight = 100_000;
    for (; isDigit(bytes[at]!); at++) {
      micros += (bytes[at]! - ZERO) * weight;
      weight = weight > 1 ? weight / 10 : 0;
    }
    if (at === first || at - first > 9 || bytes[at] !== CLOSE) return -1;
    this.timeUs = seconds * 1e6 + micros;
    this.form = digits >= EPOCH_DIGITS ? 'epoch' : 'counted';
    return at + 1;
  }

  /** `(2023-11-14 22:13:20.123456)`. */
  #date(bytes: Uint8Array, open: number): number {
    let close = open + 1;
    while (bytes[close] !== CLOSE) if (++close - open > MOST_DATE_BYTES) return -1;
    const text = Buffer.from(bytes.buffer, bytes.byteOffset + open + 1, close - open - 1).toString('latin1');
    const parts = /^(\d{4}-\d\d-\d\d) (\d\d:\d\d:\d\d)\.(\d{1,9})$/.exec(text);
    const whole = parts === null ? Number.NaN : Date.parse(`${parts[1]}T${parts[2]}Z`);
    if (Number.isNaN(whole)) return -1;
    this.timeUs = whole * 1000 + Number(parts![3]!.padEnd(6, '0').slice(0, 6));
    this.form = 'local';
    return close + 1;
  }
}

function isDigit(byte: number): boolean {
  return byte >= ZERO && byte <= 57;
}
