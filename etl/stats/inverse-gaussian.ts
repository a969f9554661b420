/**
 * Inverse Gaussian distribution: when a steady drift with noise first reaches a level.
 *
 * For: time until an indicator that drifts at a known rate reaches its limit (`first-passage.ts` for a rate that is not
 * known). Valid for t ≥ 0, shape > 0, mean > 0, where mean may be Infinity (no drift). Time in any one unit; mean and
 * shape in the same. With distance D, drift ν and diffusion σ² per unit of time: mean = D/ν, shape = D²/σ².
 * F(t) = Φ(a) + exp(2·shape/mean)·Φ(−b) with a = √(shape/t)(t/mean − 1), b = √(shape/t)(t/mean + 1)
 * (Chhikara & Folks 1989). The exponential overflows for small noise; since exp(2·shape/mean)·φ(b) = φ(a), the product
 * is φ(a) times Mills' ratio at b, which never does.
 * Throws StatisticsRefusal outside these bounds.
 *
 * @example inverseGaussianCdf(1, { mean: 1, shape: 1 }) // 0.6681020012231706
 * @example logInverseGaussianSurvival(10, { mean: 1, shape: 500 }) // −2031.777536, where exp(2·500) is Infinity
 */
import { logTailAtBarrier, probabilityAtBarrier } from './normal-barrier.ts';
import { StatisticsRefusal } from './refusal.ts';

export type InverseGaussian = { mean: number; shape: number };

/** Probability that the level has been reached by t. */
export function inverseGaussianCdf(t: number, inverseGaussian: InverseGaussian): number {
  check('inverseGaussianCdf', t, inverseGaussian);
  return t === 0 ? 0 : probabilityAtBarrier(...barrier(t, inverseGaussian));
}

/** log P(the level has not been reached by t). */
export function logInverseGaussianSurvival(t: number, inverseGaussian: InverseGaussian): number {
  check('logInverseGaussianSurvival', t, inverseGaussian);
  return t === 0 ? 0 : logTailAtBarrier(...barrier(t, inverseGaussian));
}

function barrier(t: number, { mean, shape }: InverseGaussian): [number, number] {
  const root = Math.sqrt(shape / t);
  return [root * (t / mean - 1), root * (t / mean + 1)];
}

function check(what: string, t: number, { mean, shape }: InverseGaussian): void {
  if (!(t >= 0 && t < Infinity)) throw new StatisticsRefusal(what, 'a finite time of at least 0', t, 't');
  if (!(mean > 0)) throw new StatisticsRefusal(what, 'a mean above 0', mean, 'mean');
  if (!(shape > 0 && shape < Infinity)) throw new StatisticsRefusal(what, 'a finite shape above 0', shape, 'shape');
}
