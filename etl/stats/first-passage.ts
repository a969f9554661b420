/**
 * First passage of a path whose drift is itself uncertain: X(t) = ν·t + σ·B(t), ν ~ N(drift, driftSd²).
 *
 * For: when an indicator that wears at its own unit's pace reaches the limit at which the engine no longer turns over.
 * Valid for t ≥ 0, distance > 0, diffusion > 0, driftSd ≥ 0, any drift. Units: distance in the indicator's unit,
 * drift and driftSd in that unit per unit of time, diffusion = σ² in its square per unit of time.
 * F(t) = Φ((μt − D)/√v) + exp(2μD/σ² + 2τ²D²/σ⁴)·Φ(−(2τ²Dt + σ²(μt + D))/(σ²√v)), v = τ²t² + σ²t
 * (the inverse Gaussian F averaged over the normal drift; Peng & Tseng 2009, IEEE Trans. Reliab. 58). With τ = 0 it is
 * the inverse Gaussian. F(∞) is below 1 for τ > 0: a share of the units has a drift that leads away and never arrives.
 * That share is left as it is, not normalised away.
 * Throws StatisticsRefusal outside these bounds.
 *
 * @example randomDriftFirstPassage(200, { distance: 2, drift: 0.01, driftSd: 0.003, diffusion: 0.0025 })
 *          // 0.552845765704
 */
import { inverseGaussianCdf, logInverseGaussianSurvival } from './inverse-gaussian.ts';
import { logTailAtBarrier, probabilityAtBarrier, tailAtBarrier } from './normal-barrier.ts';
import { StatisticsRefusal } from './refusal.ts';

export type RandomDrift = { drift: number; driftSd: number; diffusion: number };
export type RandomDriftPassage = RandomDrift & { distance: number };

/** F(t), the probability of having covered the distance by t. */
export function randomDriftFirstPassage(t: number, passage: RandomDriftPassage): number {
  check('randomDriftFirstPassage', t, passage);
  if (t === 0) return 0;
  if (isSteady(passage)) return inverseGaussianCdf(t, asInverseGaussian(passage));
  return probabilityAtBarrier(...barrier(t, passage));
}

/** log(1 − F(t)), exact where F is near 1. */
export function logRandomDriftSurvival(t: number, passage: RandomDriftPassage): number {
  check('logRandomDriftSurvival', t, passage);
  if (t === 0) return 0;
  if (isSteady(passage)) return logInverseGaussianSurvival(t, asInverseGaussian(passage));
  return logTailAtBarrier(...barrier(t, passage));
}

/**
 * 1 − F(t) averaged over several distances, each as likely: where the limit itself is not known. The same numbers as
 * the mean of `Math.exp(logRandomDriftSurvival(…))`, with what all distances share computed once: a fleet's outlooks
 * ask for it ten million times.
 */
export function meanRandomDriftSurvival(t: number, drift: RandomDrift, distances: ArrayLike<number>): number {
  const what = 'meanRandomDriftSurvival';
  checkDrift(what, t, drift);
  if (distances.length === 0) throw new StatisticsRefusal(what, 'at least one distance', 0, 'distances');
  if (t === 0) return 1;
  const variance = drift.driftSd * drift.driftSd;
  const spread = Math.sqrt(variance * t * t + drift.diffusion * t);
  const covered = (drift.drift * t) / spread;
  const reach = (1 + (2 * variance * t) / drift.diffusion) / spread;
  let sum = 0;
  for (let k = 0; k < distances.length; k++) {
    const distance = distances[k]!;
    if (!(distance > 0 && distance < Infinity))
      throw new StatisticsRefusal(what, 'finite distances above 0', distance, `distances[${k}]`);
    sum += tailAtBarrier(covered - distance / spread, covered + reach * distance);
  }
  return sum / distances.length;
}

/**
 * What a unit's drift is taken to be after its path has covered `displacement` in `time`: normal with this mean and sd.
 * The path in between adds nothing.
 *
 * @example // laser unit 110 at 2000 h
 * posteriorDrift(6.256, 2000, { drift: 0.00203790666, driftSd: 4.177423744e-4, diffusion: 1.16640123e-4 })
 * // { mean: 0.002854948, sd: 2.0907e-4 }
 */
export function posteriorDrift(displacement: number, time: number, prior: RandomDrift): { mean: number; sd: number } {
  const { drift, driftSd, diffusion } = prior;
  if (!(time >= 0)) throw new StatisticsRefusal('posteriorDrift', 'a time of at least 0', time, 'time');
  if (!(diffusion > 0)) throw new StatisticsRefusal('posteriorDrift', 'a diffusion above 0', diffusion, 'diffusion');
  const variance = driftSd * driftSd;
  const total = time * variance + diffusion;
  return { mean: (displacement * variance + drift * diffusion) / total, sd: driftSd * Math.sqrt(diffusion / total) };
}

/** Known drift towards the limit, or none: the textbook distribution. */
function isSteady({ drift, driftSd }: RandomDriftPassage): boolean {
  return driftSd === 0 && drift >= 0;
}

function asInverseGaussian({ distance, drift, diffusion }: RandomDriftPassage): { mean: number; shape: number } {
  return { mean: distance / drift, shape: (distance * distance) / diffusion };
}

/** The arguments a and −b of the two normal tails; the exponent of the formula is (b² − a²)/2. */
function barrier(t: number, { distance, drift, driftSd, diffusion }: RandomDriftPassage): [number, number] {
  const spread = Math.sqrt(driftSd * driftSd * t * t + diffusion * t);
  const reach = drift * t + distance + (2 * driftSd * driftSd * distance * t) / diffusion;
  return [(drift * t - distance) / spread, reach / spread];
}

function check(what: string, t: number, passage: RandomDriftPassage): void {
  const { distance } = passage;
  checkDrift(what, t, passage);
  if (!(distance > 0 && distance < Infinity)) {
    throw new StatisticsRefusal(what, 'a finite distance above 0', distance, 'distance');
  }
}

function checkDrift(what: string, t: number, { drift, driftSd, diffusion }: RandomDrift): void {
  if (!(t >= 0 && t < Infinity)) throw new StatisticsRefusal(what, 'a finite time of at least 0', t, 't');
  if (!Number.isFinite(drift)) throw new StatisticsRefusal(what, 'a finite drift', drift, 'drift');
  if (!(driftSd >= 0 && driftSd < Infinity)) {
    throw new StatisticsRefusal(what, 'a finite drift sd of at least 0', driftSd, 'driftSd');
  }
  if (!(diffusion > 0 && diffusion < Infinity)) {
    throw new StatisticsRefusal(what, 'a finite diffusion above 0', diffusion, 'diffusion');
  }
}
