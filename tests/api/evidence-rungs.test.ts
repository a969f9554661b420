import { expect, it } from 'vitest';
import { evidenceRungs } from '../../api/views/rung-view.ts';
import type { FleetParameters } from '../../etl/assess-fleet.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { fitLifeModels, type ClassedLife } from '../../etl/outlook/life-model.ts';
import { batteryLife } from '../support/service-lives.ts';

/** So many failures after three to four years each, and as many parts in service. */
function livesOf(name: string, failures: number): ClassedLife[] {
  return Array.from({ length: 2 * failures + 3 }, (_, k) => {
    const known = { class: name, unit: `${name}${k}`, fittedOn: '2020-01-01', watchedFromOn: '2020-01-01' };
    const endOn = dateOf(dayNumber('2023-01-01') + 11 * k);
    if (k < failures) return batteryLife({ ...known, end: 'failure', removedOn: endOn, watchedToOn: endOn });
    return batteryLife({ ...known, watchedToOn: '2024-01-01' });
  });
}

function rungOf(name: string, failuresByClass: Record<string, number>, corrected = false) {
  const lives = Object.entries(failuresByClass).flatMap(([each, failures]) => livesOf(each, failures));
  const hazard = {
    battery: corrected ? { columns: [], covariance: [], failures: 9, effective: 1 } : null,
    starter: null,
  };
  const fleet = { lives: fitLifeModels(lives), hazard } as Partial<FleetParameters> as FleetParameters;
  return evidenceRungs(fleet, name)[0]!;
}

it('only a fleet without a failure rests on what is known elsewhere', () => {
  expect(rungOf('van', { van: 0, bus: 0 })).toMatchObject({ rung: 'elsewhere', fleetFailures: 0, fleetLives: 6 });
  expect(rungOf('van', { van: 0, bus: 12 })).toMatchObject({ rung: 'fleet', failures: 0, lives: 3, fleetFailures: 12 });
  expect(rungOf('tram', { bus: 12 })).toMatchObject({ rung: 'fleet', failures: 0, lives: 0, fleetFailures: 12 });
});

it('a class climbs with its own failures', () => {
  expect(rungOf('van', { van: 9, bus: 12 }).rung).toBe('pooled_shape');
  expect(rungOf('van', { van: 10, bus: 12 }).rung).toBe('own_scale');
  expect(rungOf('van', { van: 30, bus: 12 })).toMatchObject({ rung: 'own_both', failures: 30, fleetFailures: 42 });
});

it('says whether the fleet’s past forecasts corrected it', () => {
  expect(rungOf('van', { van: 9 }).corrected).toBe(false);
  expect(rungOf('van', { van: 9 }, true).corrected).toBe(true);
});

it('an assessment without fleet parameters has no rung', () => {
  expect(evidenceRungs(null, 'van')).toEqual([]);
});
