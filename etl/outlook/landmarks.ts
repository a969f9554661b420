/**
 * Days of the past on which the fleet's forecasts are made over again, to learn from what then happened (landmarks: van
 * Houwelingen 2007). Every life is looked at every four weeks, from its second week on.
 *
 * A large fleet has more of them than a fit needs: of the days that no failure followed, and of the lives that failed,
 * an even choice is taken that stands for the rest by its weight. The choice hangs on the order of the lives alone.
 */
import type { ServiceLife } from '../model/service-life.ts';
import { dayNumber } from '../model/time.ts';
import { FORECAST_COMPONENTS, type ForecastComponent } from '../model/words.ts';

export const LANDMARK_STEP_DAYS = 28;
/** How far each is followed. */
export const FOLLOWED_DAYS = 91;
const FIRST_DAYS = 14;
/** Enough for some forty coefficients, whatever the fleet's size. Convention of this program. */
const MOST_QUIET = 2_000;
const MOST_FAILING = 1_200;

export type Landmark = { life: ServiceLife; day: number; weight: number };

/** By engine, in the order of the engines. */
export function landmarksOf<Engine extends { lives: readonly ServiceLife[] }>(
  engines: readonly Engine[],
): Map<Engine, Landmark[]> {
  const chosen = new Map<Engine, Landmark[]>(engines.map((engine) => [engine, []]));
  for (const component of FORECAST_COMPONENTS) {
    const counts = { quiet: 0, failing: 0 };
    everyDay(engines, component, (_, { failing }) => counts[failing ? 'failing' : 'quiet']++);
    const weights = {
      quiet: Math.max(1, counts.quiet / MOST_QUIET),
      failing: Math.max(1, counts.failing / MOST_FAILING),
    };
    const taken = { quiet: 0, failing: 0 };
    const seen = { quiet: 0, failing: 0 };
    everyDay(engines, component, (engine, { life, day, failing }) => {
      const kind = failing ? 'failing' : 'quiet';
      if (seen[kind]++ < taken[kind] * weights[kind]) return;
      taken[kind]++;
      chosen.get(engine)!.push({ life, day, weight: weights[kind] });
    });
  }
  return chosen;
}

type Seen = { life: ServiceLife; day: number; failing: boolean };

function everyDay<Engine extends { lives: readonly ServiceLife[] }>(
  engines: readonly Engine[],
  component: ForecastComponent,
  take: (engine: Engine, seen: Seen) => void,
): void {
  for (const engine of engines)
    for (const life of engine.lives) {
      if (life.component !== component) continue;
      const [from, to] = [dayNumber(life.watchedFromOn), dayNumber(life.watchedToOn)];
      for (let day = from + FIRST_DAYS; day < to; day += LANDMARK_STEP_DAYS)
        take(engine, { life, day, failing: life.end === 'failure' && to - day <= FOLLOWED_DAYS });
    }
}
