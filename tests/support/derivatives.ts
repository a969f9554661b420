import type { Quadratic } from '../../etl/stats/weibull-likelihood.ts';
import { expectClose } from './close.ts';

/** Gradient and Hessian of a function of (log scale, log shape) are those that differences give. */
export function expectDerivatives(at: (u: number, b: number) => Quadratic, u: number, b: number): void {
  const h = 1e-5; // central differences: half of the digits
  const here = at(u, b);
  expectClose(here.u, (at(u + h, b).value - at(u - h, b).value) / (2 * h), 1e-6);
  expectClose(here.b, (at(u, b + h).value - at(u, b - h).value) / (2 * h), 1e-6);
  expectClose(here.uu, (at(u + h, b).u - at(u - h, b).u) / (2 * h), 1e-6);
  expectClose(here.ub, (at(u + h, b).b - at(u - h, b).b) / (2 * h), 1e-6);
  expectClose(here.bb, (at(u, b + h).b - at(u, b - h).b) / (2 * h), 1e-6);
}
