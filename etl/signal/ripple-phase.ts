/**
 * Mean frequency of a ripple whose speed changes: its phase against a fixed tone is followed in Hann windows of two
 * periods (which are blind to level and to the double) and unwrapped; the phase gained from the first sample to the last,
 * over the time, is the time mean. A spectrum's peak would favour the middle of the stretch.
 *
 * Valid for a guess within 20 % of the mean, from three periods on. `scatter` is the root mean square of the phase about
 * a parabola, in cycles: beyond a tenth it is no steady ripple. NaN, NaN where there are fewer than five windows.
 *
 * @example // 12 Hz for 1 s at 200 values a second, guess 11.5: { hz: 12.00, scatter: 0.00 }
 */
export type RipplePhase = { hz: number; scatter: number };

/** `spinsUp`: the stretch begins soon after the starter has. */
export type Tone = { guess: number; spinsUp: boolean };

const NONE: RipplePhase = { hz: Number.NaN, scatter: Number.NaN };
/** Windows a period. */
const HOPS = 4;
/** Of speed from one period to the next, cycles a window. */
const MOST_GAIN = 0.03;

export function ripplePhase(values: Float64Array, hz: number, { guess, spinsUp }: Tone): RipplePhase {
  const half = Math.round(hz / guess);
  const hop = Math.max(1, Math.round(half / HOPS));
  const windows = Math.floor((values.length - 1 - 2 * half) / hop) + 1;
  if (windows <= HOPS) return NONE;
  const tone = toneOf(values.length, (2 * Math.PI * guess) / hz, half);
  const cycles = new Float64Array(windows);
  let before = 0;
  for (let k = 0; k < windows; k++) {
    const phase = windowPhase(values, k * hop, tone);
    cycles[k] = k === 0 ? phase : before + wrapped(phase - before);
    before = cycles[k]!;
  }
  // After the last window's middle the speed is that of the nearest period; before the first one's the engine spins up.
  const last = windows - 1;
  const perHop = (from: number) => (cycles[from + HOPS]! - cycles[from]!) / HOPS;
  const early = spinsUp && last >= 3 * HOPS ? spinUp(perHop(0), perHop(HOPS), perHop(2 * HOPS)) : 0;
  const edges = (perHop(0) - early) * half + perHop(last - HOPS) * (values.length - 1 - half - last * hop);
  const gained = cycles[last]! - cycles[0]! + edges / hop;
  return { hz: guess + (gained * hz) / (values.length - 1), scatter: scatterAboutParabola(cycles) };
}

/** By how much the engine was slower before the first of three periods: twice the gain, if it gains ever less. */
function spinUp(first: number, second: number, third: number): number {
  const gain = second - first;
  return gain > 0 && third > second && third - second < gain ? 2 * Math.min(MOST_GAIN, gain) : 0;
}

/** A tone of `turn` a value, and the Hann window of 2·half + 1 values: each value lies in eight windows. */
type SampledTone = { cosines: Float64Array; sines: Float64Array; window: Float64Array };

function toneOf(count: number, turn: number, half: number): SampledTone {
  const cosines = new Float64Array(count);
  const sines = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    cosines[i] = Math.cos(turn * i);
    sines[i] = Math.sin(turn * i);
  }
  const window = new Float64Array(2 * half + 1);
  for (let j = 0; j < window.length; j++) window[j] = 1 + Math.cos((Math.PI * (j - half)) / half);
  return { cosines, sines, window };
}

/** Phase, in cycles, of the values from `from` on against the tone. */
function windowPhase(values: Float64Array, from: number, { cosines, sines, window }: SampledTone): number {
  let real = 0;
  let imaginary = 0;
  for (let j = 0; j < window.length; j++) {
    const weighted = values[from + j]! * window[j]!;
    real += weighted * cosines[from + j]!;
    imaginary -= weighted * sines[from + j]!;
  }
  return Math.atan2(imaginary, real) / (2 * Math.PI);
}

function wrapped(cycles: number): number {
  return cycles - Math.round(cycles);
}

/** Root mean square of y about y = level + slope·x + bend·(x² − mean x²), fitted by least squares; x from the middle. */
function scatterAboutParabola(y: Float64Array): number {
  const n = y.length;
  const meanSquare = (n * n - 1) / 12;
  let level = 0;
  let slope = 0;
  let bend = 0;
  let bendWeight = 0;
  for (let i = 0; i < n; i++) {
    const x = i - (n - 1) / 2;
    level += y[i]! / n;
    slope += (x * y[i]!) / (n * meanSquare);
    bend += (x * x - meanSquare) * y[i]!;
    bendWeight += (x * x - meanSquare) ** 2;
  }
  bend /= bendWeight;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const x = i - (n - 1) / 2;
    squares += (y[i]! - level - slope * x - bend * (x * x - meanSquare)) ** 2;
  }
  return Math.sqrt(squares / n);
}
