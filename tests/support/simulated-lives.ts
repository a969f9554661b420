import { createRandom } from '../../etl/stats/random.ts';
import type { Lives } from '../../etl/stats/weibull-fit.ts';
import { weibullQuantile, type Weibull } from '../../etl/stats/weibull.ts';

/** Lives watched from a random age on and cut off at a random one; those that failed before watching began are unseen. */
export function simulatedLives(count: number, weibull: Weibull, seed: number): Lives {
  const random = createRandom(seed);
  const rows: { entry: number; exit: number; event: number }[] = [];
  while (rows.length < count) {
    const life = weibullQuantile(random.uniform(), weibull);
    const entry = random.uniform() < 0.3 ? 0 : random.uniform() * 1.2 * weibull.scale;
    const end = entry + random.uniform() * 1.5 * weibull.scale;
    if (life > entry && end > entry) rows.push({ entry, exit: Math.min(life, end), event: life < end ? 1 : 0 });
  }
  return {
    entry: Float64Array.from(rows, (row) => row.entry),
    exit: Float64Array.from(rows, (row) => row.exit),
    event: Uint8Array.from(rows, (row) => row.event),
  };
}
