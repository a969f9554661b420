/**
 * The single fault that explains best why a starter turned slowly. Each fault changes some readings and leaves the
 * others (Ohm's law; all as logarithms of "times what is usual"):
 *
 *     worn battery      sag ratio up, fall while cranking up by the same        R_battery up
 *     starter loop      sag ratio down, fall unchanged: the torque wants its current       R_loop up
 *     drag              sag ratio unchanged, fall up: more torque, more current         current up
 *     nothing           all as usual
 *
 * The distance of the readings from the nearest point of each fault's line, in units of their scatter, is compared.
 *
 * @example // sag 1.5 × usual, fall 1.6 × usual: battery.  0.5 ×, 1.0 ×: starter_loop.  1.0 ×, 1.5 ×: drag
 */
import type { CrankReadings } from './crank-readings.ts';
import type { Usual } from './own-baseline.ts';
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';

export type SlowFault = 'battery' | 'starter_loop' | 'drag' | 'nothing';

/** Reading as log of times usual, with its scatter; and by how much of its size each fault moves it. */
type Reading = { log: number; scatter: number; moves: Record<Exclude<SlowFault, 'nothing'>, 1 | 0 | -1> };

const FAULTS = ['battery', 'starter_loop', 'drag'] as const;
const LEAST = { battery: S.batteryTimes, starter_loop: S.loopTimes, drag: S.dragTimes };

/** null where nothing was read that tells one from another. */
export function nearestFault(crank: CrankReadings, usual: Usual): SlowFault | null {
  const readings = readingsFor(crank, usual).filter(({ log }) => Number.isFinite(log));
  if (readings.length === 0) return null;
  const mayBeCold = !(crank.tempC >= S.coldC);
  const distances: [SlowFault, number][] = FAULTS.map((fault) => [
    fault,
    distance(readings, fault) + (fault === 'drag' ? S.dragPenalty : 0),
  ]);
  const asUsual = readings.reduce((sum, { log, scatter }) => sum + (log / scatter) ** 2, 0);
  distances.push(['nothing', asUsual + (mayBeCold ? S.nothingWhenCold : S.nothingWhenWarm)]);
  return distances.reduce((best, next) => (next[1] < best[1] ? next : best))[0];
}

function readingsFor(crank: CrankReadings, usual: Usual): Reading[] {
  const ownSag = !Number.isNaN(usual.sagRatio);
  const ownFall = !Number.isNaN(usual.fallTimes);
  const sag: Reading = {
    log: Math.log(crank.sagRatio / (ownSag ? usual.sagRatio : S.sagRatio)),
    scatter: withTemperature(
      Math.hypot(ownSag ? S.ownScatter : S.sagScatter, crank.missesDip ? S.missedDipScatter : 0),
      crank.tempC,
    ),
    moves: { battery: 1, starter_loop: -1, drag: 0 },
  };
  const fall: Reading = {
    log: Math.log(crank.fallTimes / (ownFall ? usual.fallTimes : 1)),
    // Where the motor all but stands the fall is the inrush's: how large it is says nothing more than the sag does.
    scatter: Math.hypot(
      withTemperature(ownFall ? S.ownScatter : S.crankFallScatter, crank.tempC),
      crank.currentShare > S.standsShare ? S.standsScatter : 0,
    ),
    moves: { battery: 1, starter_loop: 0, drag: 1 },
  };
  const battery: Reading = {
    log: Math.log(crank.batteryTimes),
    scatter: withTemperature(S.ownScatter, crank.tempC),
    moves: { battery: 1, starter_loop: 0, drag: 0 },
  };
  const loop: Reading = {
    log: Math.log(crank.loopTimes),
    scatter: Math.hypot(S.loopScatter, crank.missesDip ? S.missedDipScatter : 0),
    moves: { battery: 0, starter_loop: 1, drag: 0 },
  };
  const amps: Reading = {
    log: Math.log(crank.ampsTimes),
    scatter: S.ampsScatter,
    moves: { battery: 0, starter_loop: 0, drag: 1 },
  };
  return [sag, fall, battery, loop, amps];
}

/** What hangs on the battery's resistance is less certain where no temperature was logged. */
function withTemperature(scatter: number, tempC: number): number {
  return Number.isNaN(tempC) ? Math.hypot(scatter, S.unknownColdScatter) : scatter;
}

/** Squared distance from the nearest size of the fault that matters. */
function distance(readings: readonly Reading[], fault: (typeof FAULTS)[number]): number {
  let [along, weight] = [0, 0];
  for (const { log, scatter, moves } of readings) {
    along += (moves[fault] * log) / scatter ** 2;
    weight += Math.abs(moves[fault]) / scatter ** 2;
  }
  const size = weight > 0 ? Math.max(Math.log(LEAST[fault]), along / weight) : 0;
  return readings.reduce((sum, { log, scatter, moves }) => sum + ((log - moves[fault] * size) / scatter) ** 2, 0);
}
