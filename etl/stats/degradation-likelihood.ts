/**
 * Likelihood of one population of drifting paths, X(t) = ν·t + σ·B(t) with ν ~ N(drift, driftSd²) per path.
 *
 * For: fitting it (`degradation-fit.ts`) and averaging over what a fit leaves uncertain (`drift-population.ts`).
 * A path with m steps counts only by its time T, displacement X and scatter R = ΣΔx²/Δt − X²/T; log-likelihood
 *   −½[Σ log 2πΔt + (m−1) log σ² + log(σ² + τ²T) + R/σ² + (X − μT)²/(T(σ² + τ²T))].
 * At a given ratio ρ = τ²/σ² the best μ and σ² have closed forms: μ = Σ X/(1+ρT) ÷ Σ T/(1+ρT), and σ² = Q/steps with
 * Q = Σ R + (X − μT)²/(T(1+ρT)). Valid for ascending times and finite values; units as in `degradation-fit.ts`.
 * Throws StatisticsRefusal, in the caller's name, for unequal lengths, times not ascending, values that are not finite,
 * fewer paths than the caller needs, no path with two steps.
 *
 * @example driftProfile(populationSums('fit', paths, 2), 0).drift // all alike: whole displacement over whole time
 */
import { StatisticsRefusal } from './refusal.ts';

export type DegradationPath = { time: Float64Array; value: Float64Array };

/** Steps m, time T, displacement X, scatter R about the path's own line, Σ log Δt. */
type PathSums = { steps: number; time: number; displacement: number; scatter: number; logTimes: number };

export type PopulationSums = {
  paths: readonly PathSums[];
  steps: number;
  /** Units of time differ between callers: at ρ = 1/meanTime drift and noise of a path are alike. */
  meanTime: number;
};

export function populationSums(what: string, paths: readonly DegradationPath[], least: 2 | 5): PopulationSums {
  const sums = paths.map((path, index) => pathSums(what, path, `path ${index}`)).filter(({ steps }) => steps > 0);
  const steps = sums.reduce((sum, path) => sum + path.steps, 0);
  if (sums.length < least)
    throw new StatisticsRefusal(what, `${least === 2 ? 'two' : 'five'} paths of two points`, sums.length, 'paths');
  if (steps === sums.length) throw new StatisticsRefusal(what, 'a path of three points', 'none', 'paths');
  return { paths: sums, steps, meanTime: sums.reduce((sum, path) => sum + path.time, 0) / sums.length };
}

function pathSums(what: string, { time, value }: DegradationPath, where: string): PathSums {
  if (time.length !== value.length)
    throw new StatisticsRefusal(what, `${time.length} values, one a time`, value.length, where);
  let [squares, logTimes] = [0, 0];
  for (let i = 1; i < time.length; i++) {
    const [run, rise] = [time[i]! - time[i - 1]!, value[i]! - value[i - 1]!];
    if (!(run > 0)) throw new StatisticsRefusal(what, 'ascending times', run, where);
    if (!Number.isFinite(rise)) throw new StatisticsRefusal(what, 'finite values', rise, where);
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

export type DriftProfile = {
  ratio: number;
  /** The best at this ratio. */
  drift: number;
  diffusion: number;
  logLikelihood: number;
  /** Q = diffusion·steps. */
  quadratic: number;
  /** Σ log(1 + ρT). */
  logSpread: number;
  /** Σ T/(1 + ρT): the drift's variance is σ² over it. */
  weight: number;
};

/** The best drift and diffusion at a given ratio driftSd²/diffusion, and their log-likelihood. */
export function driftProfile({ paths, steps }: PopulationSums, ratio: number): DriftProfile {
  let [rise, weight] = [0, 0];
  for (const path of paths) {
    rise += path.displacement / (1 + ratio * path.time);
    weight += path.time / (1 + ratio * path.time);
  }
  const drift = rise / weight;
  let [quadratic, logSpread, logTimes] = [0, 0, 0];
  for (const path of paths) {
    const spread = 1 + ratio * path.time;
    quadratic += path.scatter + (path.displacement - drift * path.time) ** 2 / (path.time * spread);
    logSpread += Math.log(spread);
    logTimes += path.logTimes;
  }
  const diffusion = quadratic / steps;
  const logLikelihood = -0.5 * (steps * (Math.log(2 * Math.PI * diffusion) + 1) + logTimes + logSpread);
  return { ratio, drift, diffusion, logLikelihood, quadratic, logSpread, weight };
}
