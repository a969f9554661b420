/**
 * Population of drifting paths: maximum likelihood of X(t) = ν·t + σ·B(t), each unit with its own ν ~ N(drift, driftSd²).
 *
 * For: how fast an indicator wears in a class, how much units differ, how much is noise; what `first-passage.ts` needs.
 * Valid for paths seen without measurement error of their own size, at any times. Shapes: per unit, ascending times and
 * values; only differences count. Units: value's unit per unit of time (drift, driftSd), its square per unit of time
 * (diffusion). At a given ratio τ²/σ² drift and diffusion have closed forms (`degradation-likelihood.ts`), so one number
 * is searched: a scan over twelve decades, then golden section; ratio 0 (all units alike) is compared with it.
 * Throws StatisticsRefusal for unequal lengths, times not ascending, fewer than two paths, no path with two steps,
 * paths without any noise.
 *
 * @example fitRandomDrift(laserPaths) // Meeker & Escobar 1998, GaAs lasers: drift 0.0020379, driftSd 4.177e-4, …
 */
import { driftProfile, populationSums, type DegradationPath } from './degradation-likelihood.ts';
import { StatisticsRefusal } from './refusal.ts';

export type { DegradationPath } from './degradation-likelihood.ts';

export type RandomDriftFit = {
  drift: number;
  driftSd: number;
  /** σ², variance per unit of time. */
  diffusion: number;
  logLikelihood: number;
  paths: number;
  steps: number;
};

export function fitRandomDrift(paths: readonly DegradationPath[]): RandomDriftFit {
  const sums = populationSums('fitRandomDrift', paths, 2);
  const at = (logRatio: number) => driftProfile(sums, Math.exp(logRatio) / sums.meanTime);
  const best = at(maximise((logRatio) => at(logRatio).logLikelihood));
  const alike = driftProfile(sums, 0);
  const { ratio, drift, diffusion, logLikelihood } = best.logLikelihood > alike.logLikelihood ? best : alike;
  if (!(diffusion > 0)) throw new StatisticsRefusal('fitRandomDrift', 'paths with noise', 'straight lines', 'paths');
  const driftSd = Math.sqrt(ratio * diffusion);
  return { drift, driftSd, diffusion, logLikelihood, paths: sums.paths.length, steps: sums.steps };
}

/** Scan over six decades to either side in steps of a quarter, then golden section about the best. */
function maximise(f: (x: number) => number): number {
  let best = -14;
  for (let x = -14; x <= 14; x += 0.25) if (f(x) > f(best)) best = x;
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [best - 0.25, best + 0.25];
  while (high - low > 1e-10) {
    const [a, b] = [high - golden * (high - low), low + golden * (high - low)];
    if (f(a) > f(b)) high = b;
    else low = a;
  }
  return (low + high) / 2;
}
