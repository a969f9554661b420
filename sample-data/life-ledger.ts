import { resistanceFactor } from './battery-ageing.ts';
import type { Battery } from './battery-ageing.ts';
import type { EngineState } from './engine-state.ts';
import { starterCause } from './starter-ageing.ts';
import type { Starter } from './starter-ageing.ts';

/** `wrong_part`: taken out although it was sound, because something else was at fault. */
export type TrueEnd = 'failure' | 'planned' | 'wrong_part' | 'in_service';

/** One life of one component as it truly was. Days since 1970; null is not (yet). */
export type TrueLife = {
  position: string;
  component: 'battery' | 'starter';
  fittedDay: number;
  removedDay: number | null;
  end: TrueEnd;
  /** First day on which it kept the engine from starting, being past use; after the log if it is still fitted. */
  failedDay: number | null;
  cause: string;
  /** Is the removal in the work orders? */
  recorded: boolean;
};

export type Removal = { day: number; end: TrueEnd; recorded: boolean };

export function batteryLife(state: EngineState, battery: Battery, removal: Removal | null): TrueLife {
  return lifeOf({ state, part: battery, component: 'battery', cause: batteryCause(battery) }, removal);
}

export function starterLife(state: EngineState, starter: Starter, removal: Removal | null): TrueLife {
  return lifeOf({ state, part: starter, component: 'starter', cause: starterCause(starter) }, removal);
}

type Part = { state: EngineState; part: Battery | Starter; component: TrueLife['component']; cause: string };

function lifeOf(of: Part, removal: Removal | null): TrueLife {
  const failedDay = of.part.failedDay;
  const sound = removal !== null && removal.end !== 'failure';
  return {
    position: of.state.position,
    component: of.component,
    fittedDay: of.part.fittedDay,
    removedDay: removal?.day ?? null,
    end: removal?.end ?? 'in_service',
    failedDay: sound ? null : failedDay,
    cause: failedDay === null || sound ? '' : of.cause,
    recorded: removal?.recorded ?? false,
  };
}

function batteryCause(battery: Battery): string {
  if (battery.broken !== null) return battery.broken;
  return 0.55 * battery.sulfation > 0.5 * (resistanceFactor(battery) - 1) ? 'sulfation' : 'grid_corrosion';
}
