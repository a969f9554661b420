/**
 * What the paths seen so far leave uncertain about the population they come from: not one drift, spread and diffusion
 * but a few weighted ones; and what a unit's own drift is taken to be under all of them.
 *
 * For: first passages that own up to a small fleet. The plug-in forecast takes the fitted drift, its spread between units
 * and the diffusion for true, and is too sure of a path that has just begun.
 * Method: flat prior on the drift and on its spread (Gelman 2006, Bayesian Analysis 1:515), 1/σ² on the diffusion. At a
 * given s = τ/σ the drift is normal and σ² inverse gamma, both integrated in closed form, so the density of s is
 *   Q^(−(steps−2)/2) · Π(1 + s²T)^(−½) · (Σ T/(1 + s²T))^(−½)
 * on a grid. It is cut into `count` parts of equal weight; a node is the mean of its part. σ² is taken at its mean: its
 * relative sd is √(2/steps). With many paths all nodes come to the fit. The unit whose drift is asked for is taken to be
 * one of the paths, as far as it was seen: it is not counted again towards the population.
 * Valid for five paths and more (with fewer the tail of s does not end); units as in `degradation-fit.ts`.
 * Throws StatisticsRefusal as `fitRandomDrift`, and for fewer than five paths.
 *
 * @example ownDrift(6.256, 2000, driftPopulation(laserPaths)) // unit 110 at 2000 h: drift 2.887e-3, driftSd 2.32e-4, …
 */
import { fitRandomDrift } from './degradation-fit.ts';
import { driftProfile, populationSums, type DegradationPath, type PopulationSums } from './degradation-likelihood.ts';
import { posteriorDrift, type RandomDrift } from './first-passage.ts';
import { StatisticsRefusal } from './refusal.ts';

export type WeightedDrift = RandomDrift & {
  /** Sd of `drift`, the population's mean, given its spread. */
  driftError: number;
  weight: number;
};

const GRID = 200; // common practice: a bell over two hundred points is exact to many digits
/** Density relative to the highest below which nothing is looked at: e^−9 is 1e-4. */
const CUT = 9;

export function driftPopulation(paths: readonly DegradationPath[], count = 7): WeightedDrift[] {
  const sums = populationSums('driftPopulation', paths, 5);
  if (!sums.paths.some(({ scatter }) => scatter > 0))
    throw new StatisticsRefusal('driftPopulation', 'paths with noise', 'straight lines', 'paths');
  const { driftSd, diffusion } = fitRandomDrift(paths);
  const grid = densityGrid(sums, driftSd / Math.sqrt(diffusion));
  const heaviest = grid.reduce((most, point) => Math.max(most, point.logDensity), -Infinity);
  const weights = grid.map(({ logDensity }) => Math.exp(logDensity - heaviest));
  return equalParts(grid, weights, count);
}

/** What a unit's drift is taken to be after its path has covered `displacement` in `time`, whatever the population is. */
export function ownDrift(displacement: number, time: number, population: readonly WeightedDrift[]): RandomDrift {
  let [weight, drift, square, diffusion] = [0, 0, 0, 0];
  for (const node of population) {
    const { mean, sd } = posteriorDrift(displacement, time, node);
    // What the unit's own path leaves of the population's mean: d mean / d drift.
    const passedOn = (node.driftError * node.diffusion) / (time * node.driftSd ** 2 + node.diffusion);
    weight += node.weight;
    drift += node.weight * mean;
    square += node.weight * (sd * sd + passedOn * passedOn + mean * mean);
    diffusion += node.weight * node.diffusion;
  }
  const mean = drift / weight;
  return { drift: mean, driftSd: Math.sqrt(Math.max(0, square / weight - mean * mean)), diffusion: diffusion / weight };
}

type Point = Omit<WeightedDrift, 'weight'> & { logDensity: number };

function pointAt(sums: PopulationSums, root: number): Point {
  const { drift, quadratic, logSpread, weight } = driftProfile(sums, root * root);
  const diffusion = quadratic / (sums.steps - 2);
  return {
    drift,
    driftSd: root * Math.sqrt(diffusion),
    driftError: Math.sqrt(diffusion / weight),
    diffusion,
    logDensity: -0.5 * ((sums.steps - 2) * Math.log(quadratic) + logSpread + Math.log(weight)),
  };
}

/** An even grid over s where the density counts: widened from the likeliest s until both ends are low. */
function densityGrid(sums: PopulationSums, likeliest: number): Point[] {
  const floor = pointAt(sums, likeliest).logDensity - CUT;
  const counts = (root: number) => pointAt(sums, root).logDensity > floor;
  const low = edge(counts, likeliest, 0);
  const unit = 1 / Math.sqrt(sums.meanTime);
  let far = 2 * likeliest + 1e-3 * unit;
  while (counts(far) && far < 1e6 * unit) far *= 2;
  const high = edge(counts, likeliest, far);
  return Array.from({ length: GRID }, (_, k) => pointAt(sums, low + ((k + 0.5) / GRID) * (high - low)));
}

/** Where the density falls to its floor between a place that counts and one that need not; the latter if it counts too. */
function edge(counts: (root: number) => boolean, inside: number, outside: number): number {
  if (counts(outside)) return outside;
  let [within, beyond] = [inside, outside];
  for (let round = 0; round < 30; round++) {
    const middle = (within + beyond) / 2;
    if (counts(middle)) within = middle;
    else beyond = middle;
  }
  return beyond;
}

/** Means over parts of equal weight; a grid point across a border counts in both by its share. */
function equalParts(grid: readonly Point[], weights: readonly number[], count: number): WeightedDrift[] {
  const part = weights.reduce((sum, value) => sum + value, 0) / count;
  const sums = Array.from({ length: count }, () => ({ weight: 0, drift: 0, spread: 0, error: 0, diffusion: 0 }));
  let [at, room] = [0, part];
  grid.forEach(({ drift, driftSd, driftError, diffusion }, k) => {
    for (let left = weights[k]!; left > 0;) {
      const share = at === count - 1 ? left : Math.min(left, room);
      const own = sums[at]!;
      own.weight += share;
      own.drift += share * drift;
      own.spread += share * driftSd * driftSd;
      own.error += share * driftError * driftError;
      own.diffusion += share * diffusion;
      left -= share;
      room -= share;
      if (room <= 0 && at < count - 1) [at, room] = [at + 1, part];
    }
  });
  return sums.map((own) => ({
    drift: own.drift / own.weight,
    driftSd: Math.sqrt(own.spread / own.weight),
    driftError: Math.sqrt(own.error / own.weight),
    diffusion: own.diffusion / own.weight,
    weight: own.weight / (part * count),
  }));
}
