import type { Unit } from '../../etl/model/unit.ts';

/** The register's row in reading order, unknown values left out. */
export function registerLines(unit: Unit): { label: string; value: string }[] {
  const lines: [label: string, value: string | number | null, unitOfMeasure?: string][] = [
    ['Depot', unit.depot],
    ['Class', unit.class],
    ['System', unit.systemVolts, 'V'],
    ['Batteries', unit.batteryCount],
    ['Cold cranking amps of the bank', unit.batteryCcaA, 'A'],
    ['Cylinders', unit.cylinders],
    ['Fuel', unit.fuel],
    ['VIN', unit.vin],
    ['In service since', unit.inServiceOn],
    ['Out of service since', unit.outOfServiceOn],
    ['Next maintenance', unit.nextPmOn],
    ['Maintenance interval', unit.pmIntervalDays, 'days'],
    ['Starts a day', unit.startsPerDay],
    ['Starter rating', unit.starterRatedKw, 'kW'],
    ['Cost centre', unit.costCentre],
  ];
  return lines.flatMap(([label, value, measure]) =>
    value === null || value === ''
      ? []
      : { label, value: measure === undefined ? String(value) : `${value} ${measure}` },
  );
}
