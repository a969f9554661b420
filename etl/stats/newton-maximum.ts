/**
 * Maximum of a smooth function of a few variables, by Newton's method made safe.
 *
 * For: likelihoods and posteriors with analytic derivatives. Where the negative Hessian is not positive definite its
 * diagonal is raised until it is, and a step that does not climb is halved (an undamped Newton runs off on hard data).
 * Shapes: p variables; the Hessian is p × p, row by row in one array. `converged` is false where the steps were used up,
 * the search left `within`, or no step climbs although Newton's own would.
 *
 * @example // −(x − 3)² from 0
 * newtonMaximum((x) => ({ value: -((x[0]! - 3) ** 2), gradient: …, hessian: … }), Float64Array.of(0)).x // [3]
 */
import { choleskySolveIfDefinite } from './cholesky.ts';

export type Expansion = { value: number; gradient: Float64Array; hessian: Float64Array };
export type Maximum = { x: Float64Array; at: Expansion; converged: boolean };

const MAX_STEPS = 100; // common practice: ten are enough where a maximum exists
/**
 * Newton decrement (twice the gain in value still to be had), absolute and as a share of the value, below which the last
 * digits of the value no longer tell whether a step climbs. Newton's own is taken once more: there it is good to the
 * square of what is left.
 */
const LITTLE = 1e-9;
const LITTLE_SHARE = 1e-12;

export function newtonMaximum(
  target: (x: Float64Array) => Expansion,
  start: Float64Array,
  within: (x: Float64Array) => boolean = () => true,
): Maximum {
  let x = start;
  let at = target(x);
  for (let count = 0; count < MAX_STEPS && within(x); count++) {
    const { step, gain } = uphill(at);
    const moved = (share: number) => x.map((each, j) => each + share * step[j]!);
    if (gain < LITTLE + LITTLE_SHARE * Math.abs(at.value)) {
      x = moved(1);
      return { x, at: target(x), converged: true };
    }
    let share = 1;
    let next = target(moved(share));
    while (!(next.value > at.value) && share > 1e-8) next = target(moved((share /= 2)));
    if (!(next.value > at.value)) return { x, at, converged: false };
    [x, at] = [moved(share), next];
  }
  return { x, at, converged: false };
}

/** Newton's step, the negative Hessian raised to positive definite by a multiple of its diagonal. */
function uphill({ gradient, hessian }: Expansion): { step: Float64Array; gain: number } {
  const size = gradient.length;
  for (let raise = 0; ; raise = raise === 0 ? 1e-3 : raise * 4) {
    const matrix = hessian.map((value, k) => {
      const onDiagonal = Math.floor(k / size) === k % size;
      return -value + (onDiagonal ? raise * Math.max(Math.abs(value), 1e-12) : 0);
    });
    const step = choleskySolveIfDefinite(matrix, gradient);
    if (step === null) continue;
    const gain = raise === 0 ? step.reduce((sum, each, j) => sum + each * gradient[j]!, 0) : Infinity;
    return { step, gain };
  }
}
