import type { FinishedTable } from '../model/crank.ts';
import type { Unit } from '../model/unit.ts';
import type { QualityWord } from '../model/words.ts';
import { THRESHOLDS as T } from './thresholds.ts';

export type CrankSpeed = { rpm: number; why: QualityWord | null };

/** Four-stroke: every cylinder compresses once in two turns, so f = rpm · cylinders / 120. */
export function rpmOfRipple(hz: number, cylinders: number): number {
  return (120 * hz) / cylinders;
}

/**
 * Cranking speed from the ripple and the unit's cylinders. Of the ripple's frequency and its runner-up (half or
 * double) the first that a starter can turn at is taken; a logged speed decides where both can be. Else the logged
 * speed, which `rpm_logged` says; else missing.
 */
export function crankSpeed(columns: FinishedTable['columns'], index: number, unit: Unit | null): CrankSpeed {
  const logged = columns.loggedRpm[index]!;
  const byRipple = unit === null ? Number.NaN : fromRipple(columns, index, unit.cylinders);
  if (!Number.isNaN(byRipple)) return { rpm: byRipple, why: null };
  if (!Number.isNaN(logged)) return { rpm: logged, why: 'rpm_logged' };
  return { rpm: Number.NaN, why: unit === null ? 'no_cylinders' : null };
}

function fromRipple(columns: FinishedTable['columns'], index: number, cylinders: number): number {
  const logged = columns.loggedRpm[index]!;
  const possible = [columns.rippleHz[index]!, columns.rippleOtherHz[index]!]
    .map((hz) => rpmOfRipple(hz, cylinders))
    .filter((rpm) => rpm >= T.crankLeastRpm && rpm <= T.crankMostRpm);
  if (possible.length === 0) return Number.NaN;
  if (Number.isNaN(logged)) return possible[0]!;
  const distance = (rpm: number) => Math.abs(Math.log(rpm / logged));
  return possible.reduce((best, rpm) => (distance(rpm) < distance(best) - 0.4 ? rpm : best));
}
