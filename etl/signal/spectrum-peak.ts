/**
 * Tones of evenly spaced values by their spectrum under a Hann window, at single frequencies: Goertzel's recurrence (1958).
 * Each function takes values that `underHann` has made: one record is asked for some hundred frequencies.
 */

/** The values under a Hann window. */
export function underHann(values: Float64Array): Float64Array {
  const n = values.length;
  return values.map((value, i) => (0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / n)) * value);
}

/** The strongest frequency of a range, on a grid as fine as the window's peaks are wide. */
export function loudestTone(tapered: Float64Array, hz: number, range: { slowest: number; fastest: number }): number {
  const step = hz / tapered.length;
  const grid: number[] = [];
  for (let frequency = range.slowest; frequency <= range.fastest; frequency += step) grid.push(frequency);
  const power = spectra(
    tapered,
    grid.map((frequency) => frequency / hz),
  );
  let best = range.slowest;
  let most = -1;
  for (const [k, frequency] of grid.entries()) if (power[k]! > most) [most, best] = [power[k]!, frequency];
  return best;
}

/** Peak of the Hann-windowed spectrum within 12 % of a guess, by a parabola through the logarithms. */
export function refine(tapered: Float64Array, hz: number, guess: number): number {
  const steps = 24;
  const from = guess * 0.88;
  const step = (guess * 0.24) / steps;
  const power = spectra(
    tapered,
    Array.from({ length: steps + 1 }, (_, k) => (from + k * step) / hz),
  ).map((each) => Math.log(each + 1e-300));
  let top = 1;
  for (let k = 1; k < steps; k++) if (power[k]! > power[top]!) top = k;
  const [a, b, c] = [power[top - 1]!, power[top]!, power[top + 1]!];
  const bend = a - 2 * b + c;
  const shift = bend < 0 ? Math.max(-1, Math.min(1, (0.5 * (a - c)) / bend)) : 0;
  return from + (top + shift) * step;
}

/** Power at a frequency (cycles a sample). */
export function spectrum(tapered: Float64Array, frequency: number): number {
  return spectra(tapered, [frequency])[0]!;
}

/** Power at each frequency. Four at a time: one recurrence waits for its own last value, four fill that time. */
function spectra(tapered: Float64Array, frequencies: readonly number[]): Float64Array {
  const power = new Float64Array(Math.ceil(frequencies.length / 4) * 4);
  const coefficient = Float64Array.from(power, (_, k) => 2 * Math.cos(2 * Math.PI * (frequencies[k] ?? 0)));
  for (let k = 0; k < power.length; k += 4)
    fourPowers(tapered, coefficient.subarray(k, k + 4), power.subarray(k, k + 4));
  return power.subarray(0, frequencies.length);
}

function fourPowers(tapered: Float64Array, coefficient: Float64Array, power: Float64Array): void {
  const a = coefficient[0]!;
  const b = coefficient[1]!;
  const c = coefficient[2]!;
  const d = coefficient[3]!;
  let [a1, a2] = [0, 0];
  let [b1, b2] = [0, 0];
  let [c1, c2] = [0, 0];
  let [d1, d2] = [0, 0];
  for (let i = 0; i < tapered.length; i++) {
    const value = tapered[i]!;
    const a0 = value + a * a1 - a2;
    const b0 = value + b * b1 - b2;
    const c0 = value + c * c1 - c2;
    const d0 = value + d * d1 - d2;
    a2 = a1;
    a1 = a0;
    b2 = b1;
    b1 = b0;
    c2 = c1;
    c1 = c0;
    d2 = d1;
    d1 = d0;
  }
  power[0] = powerOf(a, a1, a2);
  power[1] = powerOf(b, b1, b2);
  power[2] = powerOf(c, c1, c2);
  power[3] = powerOf(d, d1, d2);
}

function powerOf(coefficient: number, last: number, before: number): number {
  return before * before + last * last - coefficient * before * last;
}
