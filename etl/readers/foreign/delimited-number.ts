const [ZERO, NINE, DOT, MINUS, PLUS] = [48, 57, 46, 45, 43];
const POWERS = Float64Array.from({ length: 17 }, (_, k) => 10 ** k);

/** Plain numbers with one decimal mark, straight from bytes. */
export class DecimalScanner {
  readonly #mark: number;

  constructor(decimalMark: '.' | ',') {
    this.#mark = decimalMark.charCodeAt(0);
  }

  /** `-12,375` in bytes [from, to) → −12.375, correctly rounded. NaN for any other form. */
  scan(bytes: Uint8Array, from: number, to: number): number {
    const mark = this.#mark;
    let at = from;
    const sign = bytes[at];
    if (sign === MINUS || sign === PLUS) at++;
    if (to - at > 16 || at >= to) return Number.NaN; // beyond 15 digits a double no longer holds the integer exactly
    let value = 0;
    let decimals = -1;
    for (; at < to; at++) {
      const byte = bytes[at]!;
      if (byte >= ZERO && byte <= NINE) {
        value = value * 10 + byte - ZERO;
        if (decimals >= 0) decimals++;
      } else if (byte === mark && decimals < 0) decimals = 0;
      else return Number.NaN;
    }
    if (bytes[to - 1] === mark) return Number.NaN;
    const size = decimals > 0 ? value / POWERS[decimals]! : value;
    return sign === MINUS ? -size : size;
  }
}

/** Writes an instant as epoch milliseconds with three decimals at `at`; returns where it ends, −1 for odd instants. */
export function writeInstant(out: Uint8Array, at: number, us: number): number {
  // 1973 to 2286: 15 or 16 digits, of which three are decimals; other clocks go the general way.
  if (!(us >= 1e14 && us < 1e16)) return -1;
  const high = Math.floor(us / 1e8);
  const length = us >= 1e15 ? 17 : 16;
  let rest = us - high * 1e8;
  let place = at + length - 1;
  for (let digit = 0; digit < 8; digit++) {
    if (digit === 3) out[place--] = DOT;
    const tens = (rest / 10) | 0;
    out[place--] = ZERO + rest - tens * 10;
    rest = tens;
  }
  let front = high | 0;
  while (place >= at) {
    const tens = (front / 10) | 0;
    out[place--] = ZERO + front - tens * 10;
    front = tens;
  }
  return at + length;
}
