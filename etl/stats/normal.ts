/**
 * The standard normal distribution, exact far out in the tail.
 *
 * For: first-passage times and the p-values of trends, where Φ(−10) matters and must not become 0.
 * Valid for every number; ±Infinity give the limits. Relative error below 1e-13.
 * Shapes: plain numbers, no unit.
 * Formula: W. J. Cody's rational approximations, in the form of ANORM in SPECFUN (ACM TOMS 19, 1993, algorithm 715).
 * Throws StatisticsRefusal for a probability outside 0 to 1.
 *
 * @example normalCdf(1.96) // 0.9750021048517795
 * @example logNormalCdf(-40) // −804.6084420137538, where Math.log(normalCdf(-40)) is −Infinity
 */
import { StatisticsRefusal } from './refusal.ts';

const SQRT_2_PI = Math.sqrt(2 * Math.PI);
export const LOG_SQRT_2_PI = Math.log(SQRT_2_PI);

// Coefficients: Cody, ANORM, SPECFUN. Numerator's leading coefficient stands last, the denominator's is 1.
/** |x| ≤ CENTRE_LIMIT: the limit is Φ⁻¹(3/4), beyond which one tail is below 1/4 and kept apart for precision. */
const CENTRE_LIMIT = 0.67448975;
const CENTRE_TOP = [2.2352520354606837, 161.02823106855587, 1067.6894854603709, 18154.98125334356, 0.06568233791820745];
const CENTRE_BOTTOM = [47.202581904688245, 976.0985517377767, 10260.932208618979, 45507.78933502673];
/** CENTRE_LIMIT < |x| ≤ MIDDLE_LIMIT = √32. */
const MIDDLE_LIMIT = Math.sqrt(32);
const MIDDLE_TOP = [
  0.39894151208813466, 8.883149794388377, 93.50665613217785, 597.2702763948002, 2494.5375852903726, 6848.190450536283,
  11602.65143764735, 9842.714838383978, 1.0765576773720192e-8,
];
const MIDDLE_BOTTOM = [
  22.266688044328117, 235.387901782625, 1519.3775994075547, 6485.558298266761, 18615.571640885097, 34900.95272114598,
  38912.00328609327, 19685.429676859992,
];
/** Beyond √32, in powers of 1/x². */
const FAR_TOP = [
  0.215898534057957, 0.12740116116024736, 0.022235277870649807, 0.0014216191932278934, 2.9112874951168793e-5,
  0.023073441764940174,
];
const FAR_BOTTOM = [
  1.284260096144911, 0.4682382124808651, 0.06598813786892856, 0.0037823963320275824, 7.297515550839662e-5,
];

/** (leading·x + top₀)·x + … + top_last over (x + bottom₀)·x + … + bottom_last. */
function rational(x: number, top: readonly number[], bottom: readonly number[]): number {
  let numerator = top[top.length - 1]! * x;
  let denominator = x;
  const last = bottom.length - 1;
  for (let i = 0; i < last; i++) {
    numerator = (numerator + top[i]!) * x;
    denominator = (denominator + bottom[i]!) * x;
  }
  return (numerator + top[last]!) / (denominator + bottom[last]!);
}

/** Φ(x) − ½ for |x| ≤ CENTRE_LIMIT. */
function centre(x: number): number {
  return x * rational(x * x, CENTRE_TOP, CENTRE_BOTTOM);
}

/** Φ(−x)·exp(x²/2) for x > CENTRE_LIMIT. */
function scaledTail(x: number): number {
  if (x <= MIDDLE_LIMIT) return rational(x, MIDDLE_TOP, MIDDLE_BOTTOM);
  const inverseSquare = 1 / (x * x);
  return (1 / SQRT_2_PI - inverseSquare * rational(inverseSquare, FAR_TOP, FAR_BOTTOM)) / x;
}

/** exp(−x²/2), with the square split so that its rounding error is not blown up by the exponential (Cody). */
function bell(x: number): number {
  const coarse = Math.trunc(x * 16) / 16;
  return Math.exp(-0.5 * coarse * coarse) * Math.exp(-0.5 * (x - coarse) * (x + coarse));
}

/** Density φ(x). */
export function normalDensity(x: number): number {
  return bell(x) / SQRT_2_PI;
}

/** Φ(x), the probability of a value at or below x. */
export function normalCdf(x: number): number {
  if (Math.abs(x) <= CENTRE_LIMIT) return 0.5 + centre(x);
  if (x === -Infinity) return 0;
  if (x === Infinity) return 1;
  const tail = bell(x) * scaledTail(Math.abs(x));
  return x < 0 ? tail : 1 - tail;
}

/** log Φ(x) for every x, without underflow. */
export function logNormalCdf(x: number): number {
  if (Math.abs(x) <= CENTRE_LIMIT) return Math.log(0.5 + centre(x));
  if (x < 0) return x === -Infinity ? -Infinity : -0.5 * x * x + Math.log(scaledTail(-x));
  return x === Infinity ? 0 : Math.log1p(-bell(x) * scaledTail(x));
}

/**
 * Mills' ratio (1 − Φ(x))/φ(x), which neither overflows nor vanishes where both parts do. For x above −37.
 *
 * @example millsRatio(0) // √(π/2) = 1.2533141373155003
 */
export function millsRatio(x: number): number {
  if (x > CENTRE_LIMIT) return x === Infinity ? 0 : SQRT_2_PI * scaledTail(x);
  return normalCdf(-x) / normalDensity(x);
}

/** Φ⁻¹(p), 0 ≤ p ≤ 1; ∓Infinity at the ends. */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new StatisticsRefusal('normalQuantile', 'a probability from 0 to 1', p, 'p');
  if (p > 0.5) return -lowerQuantile(1 - p);
  return lowerQuantile(p);
}

/** p ≤ ½: a first guess (Abramowitz & Stegun 26.2.23, off by at most 4.5e-4), then three Newton steps on log Φ. */
function lowerQuantile(p: number): number {
  if (p === 0) return -Infinity;
  const target = Math.log(p);
  const t = Math.sqrt(-2 * target);
  let x = (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
  for (let step = 0; step < 3; step++) x += (target - logNormalCdf(x)) * millsRatio(-x);
  return x;
}
