/**
 * Tones of evenly spaced values by their spectrum under a Hann window, at single frequencies: Goertzel's recurrence (1958).
 */

/** The strongest frequency of a range, on a grid as fine as the window's peaks are wide. */
export function loudestTone(values: Float64Array, hz: number, range: { slowest: number; fastest: number }): number {
  const step = hz / values.length;
  let best = range.slowest;
  let most = -1;
  for (let frequency = range.slowest; frequency <= range.fastest; frequency += step) {
    const power = spectrum(values, frequency / hz);
    if (power > most) [most, best] = [power, frequency];
  }
  return best;
}

/** Peak of the Hann-windowed spectrum within 12 % of a guess, by a parabola through the logarithms. */
export function refine(values: Float64Array, hz: number, guess: number): number {
  const steps = 24;
  const from = guess * 0.88;
  const step = (guess * 0.24) / steps;
  const power = Float64Array.from({ length: steps + 1 }, (_, k) =>
    Math.log(spectrum(values, (from + k * step) / hz) + 1e-300),
  );
  let top = 1;
  for (let k = 1; k < steps; k++) if (power[k]! > power[top]!) top = k;
  const [a, b, c] = [power[top - 1]!, power[top]!, power[top + 1]!];
  const bend = a - 2 * b + c;
  const shift = bend < 0 ? Math.max(-1, Math.min(1, (0.5 * (a - c)) / bend)) : 0;
  return from + (top + shift) * step;
}

/** Power at a frequency (cycles a sample) of the values under a Hann window. */
export function spectrum(values: Float64Array, frequency: number): number {
  const n = values.length;
  const turn = 2 * Math.PI * frequency;
  const coefficient = 2 * Math.cos(turn);
  let before = 0;
  let last = 0;
  for (let i = 0; i < n; i++) {
    const hann = 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / n);
    const now = hann * values[i]! + coefficient * last - before;
    before = last;
    last = now;
  }
  return before * before + last * last - coefficient * before * last;
}
