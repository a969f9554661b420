const [ZERO, DOT] = [48, 46];

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
