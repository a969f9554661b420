/**
 * Population of drifting paths: maximum likelihood of X(t) = ν·t + σ·B(t), each unit with its own ν ~ N(drift, driftSd²).
 *
 * For: how fast an indicator wears in a class, how much units differ, how much is noise; what `first-passage.ts` needs.
 * Valid for paths seen without measurement error of their own size, at any times. Shapes: per unit, ascending times and
 * values; only differences count. Units: value's unit per unit of time (drift, driftSd), its square per unit of time
 * (diffusion).
 * Per unit with m steps, time T, displacement X and R = ΣΔx²/Δt − X²/T the log-likelihood is
 *   −½[Σ log 2πΔt + (m−1) log σ² + log(σ² + τ²T) + R/σ² + (X − μT)²/(T(σ² + τ²T))].
 * At a given ratio ρ = τ²/σ², μ and σ² have closed forms, so one number is searched: a scan over twelve decades, then
 * golden section; ρ = 0 (all units alike) is compared with it.
 * Throws StatisticsRefusal for unequal lengths, times not ascending, fewer than two paths, no path with two steps,
 * paths without any noise.
 *
 * @example fitRandomDrift(laserPaths) // Meeker & Escobar 1998, GaAs lasers: drift 0.0020379, driftSd 4.177e-4, …
 */
import { StatisticsRefusal } from './refusal.ts';

export type DegradationPath = { time: Float64Array; value: Float64Array };

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
  const sums = paths.map(pathSums).filter((path) => path.steps > 0);
  if (sums.length < 2) throw new StatisticsRefusal('fitRandomDrift', 'two paths of two points', sums.length, 'paths');
  const steps = sums.reduce((sum, path) => sum + path.steps, 0);
  if (steps === sums.length) throw new StatisticsRefusal('fitRandomDrift', 'a path of three points', 'none', 'paths');
  // Units of time differ between callers: the scan is centred where drift and noise over a mean path are alike.
  const meanTime = sums.reduce((sum, path) => sum + path.time, 0) / sums.length;
  const at = (logRatio: number): Profile => profile(sums, steps, Math.exp(logRatio) / meanTime);
  const best = at(maximise((logRatio) => at(logRatio).logLikelihood));
  const alike = profile(sums, steps, 0);
  const { ratio, drift, diffusion, logLikelihood } = best.logLikelihood > alike.logLikelihood ? best : alike;
  if (!(diffusion > 0)) throw new StatisticsRefusal('fitRandomDrift', 'paths with noise', 'straight lines', 'paths');
  return { drift, driftSd: Math.sqrt(ratio * diffusion), diffusion, logLikelihood, paths: sums.length, steps };
}

/** Sufficient statistics of one path: steps m, time T, displacement X, scatter R about its own line, Σ log Δt. */
type PathSums = { steps: number; time: number; displacement: number; scatter: number; logTimes: number };

function pathSums({ time, value }: DegradationPath, index: number): PathSums {
  const where = `path ${index}`;
  if (time.length !== value.length) {
    throw new StatisticsRefusal('fitRandomDrift', `${time.length} values, one a time`, value.length, where);
  }
  let [squares, logTimes] = [0, 0];
  for (let i = 1; i < time.length; i++) {
    const [run, rise] = [time[i]! - time[i - 1]!, value[i]! - value[i - 1]!];
    if (!(run > 0)) throw new StatisticsRefusal('fitRandomDrift', 'ascending times', run, where);
    if (!Number.isFinite(rise)) throw new StatisticsRefusal('fitRandomDrift', 'finite values', rise, where);
    squares += (rise * rise) / run;
    logTimes += Math.log(run);
  }
  const steps = Math.max(0, time.length - 1);
  if (steps === 0) return { steps, time: 0, displacement: 0, scatter: 0, logTimes };
  const total = time[steps]! - time[0]!;
  const displacement = value[steps]! - value[0]!;
  const scatter = Math.max(0, squares - (displacement * displacement) / total);
  return { steps, time: total, displacement, scatter, logTimes };
}

type Profile = { ratio: number; drift: number; diffusion: number; logLikelihood: number };

/** The best drift and diffusion at a given ratio driftSd²/diffusion, and their log-likelihood. */
function profile(sums: readonly PathSums[], steps: number, ratio: number): Profile {
  let [rise, run] = [0, 0];
  for (const path of sums) {
    rise += path.displacement / (1 + ratio * path.time);
    run += path.time / (1 + ratio * path.time);
  }
  const drift = rise / run;
  let [quadratic, logs] = [0, 0];
  for (const path of sums) {
    const spread = 1 + ratio * path.time;
    quadratic += path.scatter + (path.displacement - drift * path.time) ** 2 / (path.time * spread);
    logs += path.logTimes + Math.log(spread);
  }
  const diffusion = quadratic / steps;
  const logLikelihood = -0.5 * (steps * (Math.log(2 * Math.PI * diffusion) + 1) + logs);
  return { ratio, drift, diffusion, logLikelihood };
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
