import type { Unit } from '../../etl/model/unit.ts';

/** A registered unit with everything unknown but what a test names. */
export function unit(known: Partial<Unit> = {}): Unit {
  return {
    unit: 'U1',
    depot: 'North',
    class: 'van',
    systemVolts: 12,
    batteryCount: 1,
    batteryCcaA: 700,
    cylinders: 4,
    fuel: null,
    vin: null,
    inServiceOn: null,
    outOfServiceOn: null,
    nextPmOn: null,
    pmIntervalDays: null,
    startsPerDay: null,
    starterRatedKw: null,
    costCentre: null,
    enteredUs: null,
    ...known,
  };
}
