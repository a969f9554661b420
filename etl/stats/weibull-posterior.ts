/**
 * What the lives and the prior say about a Weibull together: not one pair of parameters but a weighted grid of them.
 *
 * For: forecasts that own up to few failures. A forecast averaged over the grid is wider than the plug-in one, and
 * rightly skewed, where a normal approximation at six failures is not (bearing cages: Wald interval of the B10 life
 * 1,489 to 10,235 h, likelihood-ratio interval 2,094 to 22,144 h).
 * Method: trapezoid rule on the posterior of (log shape, log scale). Nodes stand one local sd apart, which for smooth,
 * bell-like densities leaves an error below 1e-4; the walk from the mode ends where a node weighs less than
 * `leastWeight` of the heaviest. For each shape the likelihood at all scales comes from one pass over the lives; only
 * failures between two times cost an exponential at each scale.
 * Without a prior the parameters' logarithms are taken as uniform.
 * Throws StatisticsRefusal as `fitWeibull`, and where the posterior has no end (the fit did not converge).
 *
 * @example
 * const posterior = weibullPosteriorGrid(lives, { prior });
 * posterior.weight.reduce((sum, weight, i) =>
 *   sum + weight * weibullSurvival(500, { shape: posterior.shape[i]!, scale: posterior.scale[i]! }), 0);
 */
import { StatisticsRefusal } from './refusal.ts';
import { fitWeibull } from './weibull-fit.ts';
import type { Lives, LogLives, WeibullPrior } from './weibull-likelihood.ts';
import { checkedLives, logExposure } from './weibull-likelihood.ts';

export type WeibullPosterior = {
  shape: Float64Array;
  /** In the unit of the lives. */
  scale: Float64Array;
  /** Sums to 1. */
  weight: Float64Array;
};

export type WeibullPosteriorOptions = {
  prior?: WeibullPrior;
  /** Distance of the nodes in local standard deviations. */
  step?: number;
  /** Nodes below this share of the heaviest are left out. */
  leastWeight?: number;
};

/** A walk longer than this many steps is on a tail that does not end. */
const MAX_WALK = 60;

export function weibullPosteriorGrid(lives: Lives, options: WeibullPosteriorOptions = {}): WeibullPosterior {
  const { prior, step = 1, leastWeight = 1e-4 } = options;
  const fit = fitWeibull(lives, prior === undefined ? {} : { prior });
  if (!fit.converged)
    throw new StatisticsRefusal('weibullPosteriorGrid', 'a likelihood with a maximum', 'none', 'lives');
  const known = checkedLives('weibullPosteriorGrid', lives);
  const cut = Math.log(leastWeight);
  const nodes: Node[] = [];
  const width = step * Math.sqrt(fit.covariance[1][1]);
  let heaviest = -Infinity;
  walk(Math.log(fit.shape), width, cut, (logShape) => {
    const slice = scaleNodes(known, logShape, { prior, step, cut });
    nodes.push(...slice);
    const top = slice.reduce((most, node) => Math.max(most, node.logWeight), -Infinity);
    heaviest = Math.max(heaviest, top);
    return top;
  });
  return normalised(
    nodes.filter((node) => node.logWeight - heaviest >= cut),
    heaviest,
  );
}

type Node = { logShape: number; logScale: number; logWeight: number };

/** Visits the start, then both sides in steps until the log weight has fallen by `cut` below the greatest seen. */
function walk(start: number, width: number, cut: number, visit: (at: number) => number): void {
  let greatest = visit(start);
  for (const side of [1, -1]) {
    for (let k = 1; ; k++) {
      if (k > MAX_WALK) throw new StatisticsRefusal('weibullPosteriorGrid', 'a posterior that ends', 'none', 'lives');
      const weight = visit(start + side * k * width);
      if (weight - greatest < cut) break;
      greatest = Math.max(greatest, weight);
    }
  }
}

/** The nodes of one shape: a trapezoid over log scale about its mode given the shape. */
function scaleNodes(
  lives: LogLives,
  logShape: number,
  { prior, step, cut }: { prior: WeibullPrior | undefined; step: number; cut: number },
): Node[] {
  const density = scaleDensity(lives, logShape, prior);
  const nodes: Node[] = [];
  const width = step * density.sd;
  walk(density.mode, width, cut, (logScale) => {
    const logWeight = density.log(logScale) + Math.log(density.sd);
    nodes.push({ logShape, logScale, logWeight });
    return logWeight;
  });
  return nodes;
}

/**
 * Log posterior along log scale u at a fixed shape k, with E failures of known time, exposure A = Σ(worked^k − entry^k)
 * and, of failures between two times, y = (exit^k − worked^k)·e^(−ku):
 *   E(log k − ku) + (k − 1)Σ log t − A·e^(−ku) + Σ log(1 − e^(−y)) + priors.
 * Concave in u, so Newton's method from the prior-free mode ends.
 */
function scaleDensity(lives: LogLives, logShape: number, prior: WeibullPrior | undefined) {
  const k = Math.exp(logShape);
  const { known: events, sumLog } = lives;
  const shapeZ = prior === undefined ? 0 : (logShape - prior.logShapeMean) / prior.logShapeSd;
  const slice: Slice = {
    k,
    events,
    between: gapsAt(lives, k),
    logA: logExposure(lives, k),
    precision: prior?.logScaleSd === undefined ? 0 : 1 / prior.logScaleSd ** 2,
    centre: prior?.logScaleMean ?? 0,
    offset: events * logShape + (k - 1) * sumLog - 0.5 * shapeZ * shapeZ,
  };
  const start =
    lives.events > 0 ? (logExposure(lives, k, 'logExit') - Math.log(lives.events)) / k : (prior?.logScaleMean ?? 0);
  const { mode, curvature } = modeOf(slice, start);
  return { log: (u: number) => densityAt(slice, u), mode, sd: 1 / Math.sqrt(curvature) };
}

/** What the density at one shape hangs on. */
type Slice = {
  k: number;
  events: number;
  between: readonly { weight: number; logGap: number }[];
  logA: number;
  precision: number;
  centre: number;
  offset: number;
};

function densityAt({ k, events, between, logA, precision, centre, offset }: Slice, u: number): number {
  let sum = offset - events * k * u - Math.exp(logA - k * u) - 0.5 * precision * (u - centre) ** 2;
  for (const { weight, logGap } of between) sum += weight * logFailed(Math.exp(logGap - k * u));
  return sum;
}

function modeOf({ k, events, between, logA, precision, centre }: Slice, start: number) {
  let mode = start;
  let curvature = 0;
  for (let round = 0; round < 50; round++) {
    const hazard = Math.exp(logA - k * mode);
    let slope = k * (hazard - events) - precision * (mode - centre);
    curvature = k * k * hazard + precision;
    for (const { weight, logGap } of between) {
      const y = Math.exp(logGap - k * mode);
      const share = y / Math.expm1(y);
      slope -= weight * k * share;
      curvature += weight * k * k * share * (y / -Math.expm1(-y) - 1);
    }
    // A step to the left meets an exponential wall: at most 1/k, the distance over which it grows e-fold. To the right,
    // where failures between two times hardly bend the curve, no further either.
    const most = between.length > 0 ? 1 / k : Infinity;
    const move = Math.min(Math.max(slope / curvature, -1 / k), most);
    mode += move;
    if (Math.abs(move) < 1e-9) break;
  }
  return { mode, curvature };
}

/** log(1 − e^−y): the chance to fail while the hazard y gathers. */
function logFailed(y: number): number {
  return Math.log(-Math.expm1(-y));
}

/** log(exit^k − worked^k) of the failures between two times. */
function gapsAt(lives: LogLives, k: number): Slice['between'] {
  return lives.between.map((i) => {
    const [exit, worked] = [lives.logExit[i]!, lives.logWorked[i]!];
    return { weight: lives.weight[i]!, logGap: k * exit + Math.log(-Math.expm1(k * (worked - exit))) };
  });
}

function normalised(nodes: readonly Node[], heaviest: number): WeibullPosterior {
  const weight = Float64Array.from(nodes, (node) => Math.exp(node.logWeight - heaviest));
  const sum = weight.reduce((total, value) => total + value, 0);
  return {
    shape: Float64Array.from(nodes, (node) => Math.exp(node.logShape)),
    scale: Float64Array.from(nodes, (node) => Math.exp(node.logScale)),
    weight: weight.map((value) => value / sum),
  };
}
