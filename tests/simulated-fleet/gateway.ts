import { instantOf } from './calendar.ts';
import type { CrankReading } from './crank-reading.ts';
import type { Draws } from './draws.ts';
import type { FleetUnit } from './unit.ts';

export const CRANK_COLUMNS =
  'unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,crank_rpm,charge_volts,temp_c,outcome';

/** Chance that a day's rows never arrive. */
const LOST_DAY = 0.04;

export function isSilent({ gateway: { gaps } }: FleetUnit, day: number, draws: Draws): boolean {
  return draws.chance(LOST_DAY) || gaps.some(([from, to]) => day >= from && day < to);
}

/** One crank as the gateway sums it up. */
export function crankRow(unit: FleetUnit, day: number, { reading, draws }: { reading: CrankReading; draws: Draws }) {
  const { make, dipLost, dipLostSd, stepVolts, offsetVolts, logsSpeed, logsTemperature } = unit.gateway;
  const volts = (value: number) =>
    (stepVolts * Math.round((value + offsetVolts) / stepVolts)).toFixed(
      stepVolts < 0.05 ? 2 : 1 + Number(make === 'B'),
    );
  const lost = Math.max(0, dipLost + dipLostSd * draws.normal());
  const dip = reading.dip + lost * (reading.rest - reading.dip);
  const charging = ((unit.design.systemVolts / 12) * (14.1 + 0.1 * draws.normal())).toFixed(1);
  return [
    unit.unit,
    instantOf(day, reading.second),
    volts(reading.rest),
    volts(Math.min(dip, reading.crank)),
    volts(reading.crank),
    reading.seconds.toFixed(2),
    logsSpeed && reading.rpm > 0 ? reading.rpm.toFixed(0) : '',
    reading.started ? charging : '',
    logsTemperature ? (reading.tempC + draws.normal()).toFixed(0) : '',
    reading.started ? 'started' : 'failed',
  ].join(',');
}
