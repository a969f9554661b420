import type { EvidenceRung } from '../contract/unit.ts';
import type { FleetParameters } from '../../etl/assess-fleet.ts';
import type { LifeModel } from '../../etl/outlook/life-model.ts';
import { FORECAST_COMPONENTS } from '../../etl/model/words.ts';

/**
 * On how many failures each component's life model stands for a class. A class without a failure of its own stands on
 * the fleet's, if it has any: only a fleet without one stands on what is known elsewhere.
 */
export function evidenceRungs(fleet: FleetParameters | null, className: string): EvidenceRung[] {
  if (fleet === null) return [];
  return FORECAST_COMPONENTS.map((component) => {
    const models = fleet.lives[component];
    const whole = models['']!;
    const own = models[className] ?? null;
    return {
      component,
      rung: rungOf(whole, own),
      failures: own?.events ?? 0,
      lives: own?.lives ?? 0,
      fleetFailures: whole.events,
      fleetLives: whole.lives,
      // An assessment of an earlier version of the program has no such fit.
      corrected: (fleet.hazard?.[component] ?? null) !== null,
    };
  });
}

function rungOf(whole: LifeModel, own: LifeModel | null): EvidenceRung['rung'] {
  if (whole.events === 0) return 'elsewhere';
  return own === null || own.rung === 'prior' ? 'fleet' : own.rung;
}
