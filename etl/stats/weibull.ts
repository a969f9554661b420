/**
 * The Weibull distribution of a life.
 *
 * For: how long batteries and starters last. S(t) = exp(−(t/scale)^shape). Shape below 1 is early failure, 1 a constant
 * hazard, above 1 wear-out. Valid for t ≥ 0, shape > 0, scale > 0. Time in any unit, the same as the scale's (here: days).
 * Throws StatisticsRefusal for a negative time, a parameter that is not positive and finite, a probability outside 0 to 1.
 *
 * @example weibullSurvival(1000, { shape: 2, scale: 1000 }) // 1/e = 0.36787944117144233
 */
import { logGamma } from './log-gamma.ts';
import { StatisticsRefusal } from './refusal.ts';

export type Weibull = { shape: number; scale: number };

/** H(t) = (t/scale)^shape = −log S(t). */
export function weibullCumulativeHazard(t: number, weibull: Weibull): number {
  checkWeibull('weibullCumulativeHazard', weibull);
  if (!(t >= 0)) throw new StatisticsRefusal('weibullCumulativeHazard', 'a time of at least 0', t, 't');
  return (t / weibull.scale) ** weibull.shape;
}

/** S(t), the share still working at age t. */
export function weibullSurvival(t: number, weibull: Weibull): number {
  return Math.exp(-weibullCumulativeHazard(t, weibull));
}

/**
 * log P(still working `ahead` from now | works at `age`) = H(age) − H(age + ahead).
 *
 * The difference is taken inside the exponent, since for an old part and a short look ahead the two terms agree to
 * many digits.
 *
 * @example Math.exp(logWeibullConditionalSurvival(90, 600, { shape: 2.5, scale: 1000 })) // 1 − 0.1100799
 */
export function logWeibullConditionalSurvival(ahead: number, age: number, weibull: Weibull): number {
  if (!(ahead >= 0))
    throw new StatisticsRefusal('logWeibullConditionalSurvival', 'a time of at least 0', ahead, 'ahead');
  if (age === 0) return -weibullCumulativeHazard(ahead, weibull);
  return -weibullCumulativeHazard(age, weibull) * Math.expm1(weibull.shape * Math.log1p(ahead / age));
}

/** Age by which the share p has failed. */
export function weibullQuantile(p: number, weibull: Weibull): number {
  checkWeibull('weibullQuantile', weibull);
  if (!(p >= 0 && p <= 1)) throw new StatisticsRefusal('weibullQuantile', 'a probability from 0 to 1', p, 'p');
  return weibull.scale * (-Math.log1p(-p)) ** (1 / weibull.shape);
}

/** Mean life, scale·Γ(1 + 1/shape). */
export function weibullMean(weibull: Weibull): number {
  checkWeibull('weibullMean', weibull);
  return weibull.scale * Math.exp(logGamma(1 + 1 / weibull.shape));
}

function checkWeibull(what: string, { shape, scale }: Weibull): void {
  if (!(shape > 0 && shape < Infinity)) throw new StatisticsRefusal(what, 'a finite shape above 0', shape, 'shape');
  if (!(scale > 0 && scale < Infinity)) throw new StatisticsRefusal(what, 'a finite scale above 0', scale, 'scale');
}
