/**
 * Weibull lives of several classes at once: one scale and one shape of the whole, from which each class departs.
 *
 * For: classes partially pooled. A class of few failures says what the others say, one of many what it says itself.
 * Class c has log scale u + a and log shape b + d with a ~ N(0, scaleSd²), d ~ N(0, shapeSd²): 0 holds a class to the
 * whole, Infinity sets it free. With one class held and the others' scales free it is accelerated failure time regression
 * on the class; with their shapes free as well, a shape for each. The posterior mode of all at once, by Newton's method.
 * Valid for independent lives. Shapes: one `Lives` and one pair of sds a class. Times in any one unit.
 * Throws StatisticsRefusal as `fitWeibull`, for sds of another number than the classes, below 0 or NaN. Where every
 * class is free and there is no prior, the whole is not determined: `converged` is false.
 *
 * @example // 6-mercaptopurine and control (Freireich and others 1963), control held to the whole
 * fitWeibullClasses([control, treated], { scaleSd: [0, Infinity], shapeSd: [0, 0] }).classes[1].scale // 33.77 weeks
 */
import { choleskySolveIfDefinite } from './cholesky.ts';
import { newtonMaximum, type Expansion } from './newton-maximum.ts';
import { StatisticsRefusal } from './refusal.ts';
import { checkHoldsSomething, checkPrior, firstGuess, LOG_SHAPE_LIMIT, pointOf } from './weibull-fit.ts';
import {
  addPrior,
  checkedLives,
  weibullLikelihood,
  type Lives,
  type LogLives,
  type Quadratic,
  type WeibullPrior,
} from './weibull-likelihood.ts';
import type { Weibull } from './weibull.ts';

export type WeibullClassesOptions = {
  prior?: WeibullPrior;
  /** Sd of the departures of log scale and of log shape, one a class. */
  scaleSd: readonly number[];
  shapeSd: readonly number[];
  /** Where to begin, if something near is known. */
  start?: Weibull;
};

export type WeibullClassesFit = Weibull & {
  classes: Weibull[];
  /** Without the prior's share and that of the departures. */
  logLikelihood: number;
  /** Of (log scale, log shape) of the whole. */
  covariance: readonly [readonly [number, number], readonly [number, number]];
  events: number;
  converged: boolean;
};

/** Where a class's departures stand among the variables; −1: held to the whole. */
type Place = { scale: number; shape: number };
type Model = { all: readonly LogLives[]; places: readonly Place[]; size: number; options: WeibullClassesOptions };

export function fitWeibullClasses(classes: readonly Lives[], options: WeibullClassesOptions): WeibullClassesFit {
  const what = 'fitWeibullClasses';
  const all = classes.map((lives) => checkedLives(what, lives));
  const events = all.reduce((sum, lives) => sum + lives.events, 0);
  checkSds(classes.length, options);
  checkPrior(what, options.prior);
  checkHoldsSomething(what, events, options.prior);
  const model = { all, options, ...placesOf(options) };
  const top = newtonMaximum(
    (x) => expansion(model, x),
    startOf(model),
    (x) => Math.abs(x[1]!) <= LOG_SHAPE_LIMIT,
  );
  const points = all.map((_, c) => classPoint(model, top.x, c));
  const covariance = covarianceOfWhole(top.at);
  return {
    scale: Math.exp(top.x[0]!),
    shape: Math.exp(top.x[1]!),
    classes: points.map(([u, b]) => ({ scale: Math.exp(u), shape: Math.exp(b) })),
    logLikelihood: points.reduce((sum, [u, b], c) => sum + weibullLikelihood(all[c]!, u, b).value, 0),
    covariance: covariance ?? NONE,
    events,
    converged: top.converged && covariance !== null,
  };
}

function checkSds(count: number, { scaleSd, shapeSd }: WeibullClassesOptions): void {
  for (const [name, sds] of Object.entries({ scaleSd, shapeSd })) {
    if (sds.length !== count)
      throw new StatisticsRefusal('fitWeibullClasses', `${count} values, one a class`, sds.length, name);
    const wrong = sds.find((sd) => !(sd >= 0));
    if (wrong !== undefined) throw new StatisticsRefusal('fitWeibullClasses', 'an sd of at least 0', wrong, name);
  }
}

function placesOf({ scaleSd, shapeSd }: WeibullClassesOptions): Pick<Model, 'places' | 'size'> {
  let size = 2;
  const places = scaleSd.map((sd, c) => ({ scale: sd > 0 ? size++ : -1, shape: shapeSd[c]! > 0 ? size++ : -1 }));
  return { places, size };
}

function startOf({ all, size, options: { start, prior } }: Model): Float64Array {
  const x = new Float64Array(size);
  x.set(start === undefined ? firstGuess(all, prior) : pointOf(start));
  return x;
}

/** Log scale and log shape of a class. */
function classPoint({ places }: Model, x: Float64Array, c: number): [number, number] {
  const { scale, shape } = places[c]!;
  return [x[0]! + (scale < 0 ? 0 : x[scale]!), x[1]! + (shape < 0 ? 0 : x[shape]!)];
}

function expansion(model: Model, x: Float64Array): Expansion {
  const { all, places, size, options } = model;
  const sum = { value: 0, gradient: new Float64Array(size), hessian: new Float64Array(size * size) };
  const none: Quadratic = { value: 0, u: 0, b: 0, uu: 0, ub: 0, bb: 0 };
  addAt(sum, addPrior(none, options.prior, x[0]!, x[1]!), [0], [1]);
  places.forEach((place, c) => {
    const [u, b] = classPoint(model, x, c);
    const scales = place.scale < 0 ? [0] : [0, place.scale];
    const shapes = place.shape < 0 ? [1] : [1, place.shape];
    addAt(sum, weibullLikelihood(all[c]!, u, b), scales, shapes);
    drawToWhole(sum, x, place.scale, options.scaleSd[c]!);
    drawToWhole(sum, x, place.shape, options.shapeSd[c]!);
  });
  return sum;
}

/** Adds a function of (log scale, log shape) whose arguments are sums of the variables at these places. */
function addAt(sum: Expansion, at: Quadratic, scales: readonly number[], shapes: readonly number[]): void {
  const size = sum.gradient.length;
  sum.value += at.value;
  for (const j of scales) {
    sum.gradient[j]! += at.u;
    for (const k of scales) sum.hessian[j * size + k]! += at.uu;
    for (const k of shapes) {
      sum.hessian[j * size + k]! += at.ub;
      sum.hessian[k * size + j]! += at.ub;
    }
  }
  for (const j of shapes) {
    sum.gradient[j]! += at.b;
    for (const k of shapes) sum.hessian[j * size + k]! += at.bb;
  }
}

function drawToWhole(sum: Expansion, x: Float64Array, place: number, sd: number): void {
  if (place < 0) return;
  const size = sum.gradient.length;
  sum.value -= 0.5 * (x[place]! / sd) ** 2;
  sum.gradient[place]! -= x[place]! / sd ** 2;
  sum.hessian[place * size + place]! -= 1 / sd ** 2;
}

const NONE = [
  [Number.NaN, Number.NaN],
  [Number.NaN, Number.NaN],
] as const;

/** The first two rows of the inverse of the negative Hessian; null where it has none. */
function covarianceOfWhole({ hessian, gradient }: Expansion): WeibullClassesFit['covariance'] | null {
  const unit = (place: number) => gradient.map((_, j) => Number(j === place));
  const minus = hessian.map((value) => -value);
  const [scale, shape] = [choleskySolveIfDefinite(minus, unit(0)), choleskySolveIfDefinite(minus, unit(1))];
  if (scale === null || shape === null) return null;
  return [
    [scale[0]!, scale[1]!],
    [shape[0]!, shape[1]!],
  ];
}
