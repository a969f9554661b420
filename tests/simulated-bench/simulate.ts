import { run } from './circuit.ts';
import { drawLogger, logOf, type Log } from './logger.ts';
import type { Plan } from './plan.ts';
import { Random } from './random.ts';
import { drawPlan } from './scenario.ts';
import { truthOf } from './truth.ts';

/** One recording with its truth; the seed says it all. Several rates see the very same course. */
export function simulateLogs(
  seed: number,
  rates: readonly number[],
  change: (plan: Plan) => Plan = (plan) => plan,
): Log[] {
  const plan = change(drawPlan(seed));
  const course = run(plan);
  const truth = truthOf(plan, course);
  return rates.map((rateHz) => {
    const random = new Random(seed * 101 + rateHz);
    return logOf(plan, course, truth, drawLogger(random, rateHz, plan), random);
  });
}
