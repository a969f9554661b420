/**
 * Compression ripple: while a starter turns an engine, each compression pulls the voltage down a little. The frequency
 * of that ripple gives the cranking speed: f = rpm · cylinders / 120 (four-stroke).
 *
 * The rolling phase is put on an even grid, freed of its slow rise, and correlated with itself; the shortest lag that
 * repeats nearly as well as the best one is the period (a longer one may be whole turns, a shorter one half-beats).
 * The peak of a Hann-windowed spectrum near it gives the frequency, and following its phase the time mean. Valid from
 * four periods and 2.5 samples a period on; NaN otherwise. Throws nothing.
 *
 * @example // 7.14 minima a second on 4 cylinders: 120 · 7.14 / 4 = 214 rpm
 */
import { THRESHOLDS as T } from './thresholds.ts';
import type { Recording } from '../model/samples.ts';
import { amplitude, detrend, evenGrid, level, warped } from './even-grid.ts';
import { ripplePhase, type Tone } from './ripple-phase.ts';
import { loudestTone, refine, spectrum, underHann } from './spectrum-peak.ts';

export type Ripple = {
  /** Hz; NaN where it cannot be had. */
  hz: number;
  /** The runner-up, Hz: half or double, which the number of cylinders may favour. */
  otherHz: number;
  why: 'ok' | 'rate_too_low' | 'too_short' | 'no_ripple';
};

export type RippleSpan = { from: number; to: number; leastVolts: number; spinsUp?: boolean };

const NONE = { hz: Number.NaN, otherHz: Number.NaN };
/** 60 rpm on two cylinders; 400 rpm on sixteen. */
const SLOWEST_HZ = 1;
const FASTEST_HZ = 54;
/** An engine still gaining speed is looked at over a time that gains as it does: by 30 and 60 % over the phase. */
const GAINS = [0.15, 0.3];
/** At 10 Hz and a little more no engine's ripple can be told from an alias of it: 180 rpm on four cylinders. */
const SLOWEST_LOG_HZ = 6;

/** Ripple of samples [from, to); `leastVolts` is the smallest amplitude that counts. `spinsUp`: soon after the onset. */
export function rippleOf(recording: Recording, span: RippleSpan): Ripple {
  const grid = evenGrid(recording, span.from, span.to);
  if (grid === null) return { ...NONE, why: 'too_short' };
  const { values, hz } = grid;
  const seconds = values.length / hz;
  const slowest = Math.max(SLOWEST_HZ, T.ripplePeriods / seconds);
  const fastest = Math.min(FASTEST_HZ, grid.sampledHz / T.rippleSamplesPerPeriod);
  if (fastest < SLOWEST_LOG_HZ) return { ...NONE, why: 'rate_too_low' };
  if (slowest > fastest) return { ...NONE, why: 'too_short' };
  detrend(values, Math.max(3, Math.round(hz / Math.max(slowest, 3))));
  if (amplitude(values) < span.leastVolts) return { ...NONE, why: 'no_ripple' };
  level(values, Math.round(0.6 * hz));
  const range = { shortest: hz / fastest, longest: hz / slowest };
  const choice = { hz, range, slowest, fastest, spinsUp: span.spinsUp ?? false };
  let found = tonesOf(values, choice);
  for (const gain of GAINS) if (Number.isNaN(found.hz) && choice.spinsUp) found = tonesOf(warped(values, gain), choice);
  if (Number.isNaN(found.hz)) return { ...NONE, why: 'no_ripple' };
  if (found.hz < slowest * 0.98 || found.hz > fastest * 1.02) return { ...NONE, why: 'too_short' };
  return { ...found, why: 'ok' };
}

type Sought = { hz: number; range: LagRange; slowest: number; fastest: number; spinsUp: boolean };

function tonesOf(values: Float64Array, { hz, range, slowest, fastest, spinsUp }: Sought): Tones {
  const period = bestPeriod(values, range);
  return period === null
    ? followed(values, hz, { ...range, spinsUp })
    : ofPeriod(values, hz, { period, slowest, fastest, spinsUp });
}

/**
 * Frequency of a period, by the stronger of it and its half or double; the weaker is the runner-up. The tone taken must
 * be the strongest of all that can be, or half or double of it, which then is taken instead: else it is no answer.
 */
function ofPeriod(
  values: Float64Array,
  hz: number,
  { period: { lag, other }, slowest, fastest, spinsUp }: Choice,
): Tones {
  const tapered = underHann(values);
  const power = (frequency: number) => spectrum(tapered, frequency / hz);
  const first = refine(tapered, hz, hz / lag);
  const second = other === null ? Number.NaN : refine(tapered, hz, hz / other);
  const [main, rest] = power(second) > T.rippleStronger * power(first) ? [second, first] : [first, second];
  const loudest = refine(tapered, hz, loudestTone(tapered, hz, { slowest, fastest }));
  if (power(loudest) < T.rippleLouder * power(main))
    return { hz: steady(values, hz, { guess: main, spinsUp }), otherHz: rest };
  const octave = Math.abs(Math.abs(Math.log2(loudest / main)) - 1) < T.rippleOctave;
  return octave ? { hz: steady(values, hz, { guess: loudest, spinsUp }), otherHz: main } : NONE;
}

/** The time mean of a frequency; NaN where its phase does not run on steadily. */
function steady(values: Float64Array, hz: number, tone: Tone): number {
  const phase = ripplePhase(values, hz, tone);
  const drift = Math.abs(phase.hz / tone.guess - 1);
  return phase.scatter <= T.ripplePhaseScatter && drift <= T.ripplePhaseDrift ? phase.hz : Number.NaN;
}

function followed(values: Float64Array, hz: number, range: LagRange & { spinsUp: boolean }): Tones {
  const mean = meanOfWindows(values, hz, range);
  return {
    hz: Number.isNaN(mean) ? mean : steady(values, hz, { guess: mean, spinsUp: range.spinsUp }),
    otherHz: Number.NaN,
  };
}

type Tones = { hz: number; otherHz: number };
type Choice = { period: Period; slowest: number; fastest: number; spinsUp: boolean };
type LagRange = { shortest: number; longest: number };

/** Speed that changes too much to repeat over the whole phase is followed in windows that overlap by half. */
function meanOfWindows(values: Float64Array, hz: number, range: LagRange): number {
  const length = Math.round(T.rippleWindowSeconds * hz);
  const longest = Math.min(range.longest, 0.6 * length);
  let sum = 0;
  let count = 0;
  let windows = 0;
  let before = Number.NaN;
  for (let from = 0; from + length <= values.length; from += length >> 1) {
    windows++;
    const window = values.subarray(from, from + length);
    const period = bestPeriod(window, { shortest: range.shortest, longest });
    if (period === null) continue;
    const lag = betweenLags(window, period.lag);
    if (Math.abs(Math.log(lag / before)) > T.rippleDrift) return Number.NaN;
    before = lag;
    sum += hz / lag;
    count++;
  }
  return windows > 1 && count >= T.rippleWindowShare * windows ? sum / count : Number.NaN;
}

/** The lag of a correlation peak, by a parabola through it and its neighbours. */
function betweenLags(values: Float64Array, lag: number): number {
  const [a, b, c] = [correlation(values, lag - 1), correlation(values, lag), correlation(values, lag + 1)];
  const bend = a - 2 * b + c;
  return bend < 0 ? lag + Math.max(-0.5, Math.min(0.5, (0.5 * (a - c)) / bend)) : lag;
}

type Period = { lag: number; other: number | null };

/** The shortest lag that repeats nearly as well as the best; and half or double of it, whichever repeats better. */
function bestPeriod(values: Float64Array, { shortest, longest }: LagRange): Period | null {
  const first = Math.max(1, Math.floor(shortest));
  const last = Math.min(Math.ceil(longest), values.length - 4);
  const score = new Float64Array(last + 2);
  for (let lag = Math.max(1, first - 1); lag <= last + 1; lag++) score[lag] = correlation(values, lag);
  const peaks: number[] = [];
  for (let lag = Math.max(2, first); lag <= last; lag++)
    if (score[lag]! >= score[lag - 1]! && score[lag]! > score[lag + 1]!) peaks.push(lag);
  if (peaks.length === 0) return null;
  const best = peaks.reduce((most, lag) => Math.max(most, score[lag]!), -Infinity);
  const lag = peaks.find((each) => score[each]! >= T.rippleShortest * best)!;
  // The more periods there are, the less chance repeats itself.
  const needed = T.rippleCorrelation - T.rippleCorrelationPerPeriod * (values.length / lag - T.ripplePeriods);
  if (score[lag]! < Math.max(T.rippleCorrelationLeast, needed)) return null;
  const near = (target: number) => peaks.find((each) => Math.abs(each / target - 1) < 0.12) ?? null;
  const others = [near(lag / 2), near(lag * 2)].filter((each) => each !== null);
  const other = others.length === 0 ? null : others.reduce((a, b) => (score[b]! > score[a]! ? b : a));
  return { lag, other };
}

function correlation(values: Float64Array, lag: number): number {
  let product = 0;
  let left = 0;
  let right = 0;
  for (let i = lag; i < values.length; i++) {
    const a = values[i]!;
    const b = values[i - lag]!;
    product += a * b;
    left += a * a;
    right += b * b;
  }
  return left > 0 && right > 0 ? product / Math.sqrt(left * right) : 0;
}
