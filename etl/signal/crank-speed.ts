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
  const tooSlow = unit !== null && isTooSlow(columns.rateHz[index]!, unit);
  const byRipple = unit === null || tooSlow ? Number.NaN : fromRipple(columns, index, unit);
  if (!Number.isNaN(byRipple)) return { rpm: byRipple, why: null };
  if (!Number.isNaN(logged)) return { rpm: logged, why: 'rpm_logged' };
  if (tooSlow) return { rpm: Number.NaN, why: 'rate_too_low' };
  if (unit === null) return { rpm: Number.NaN, why: 'no_cylinders' };
  // Where nothing repeated at all, the search has said why.
  return { rpm: Number.NaN, why: Number.isNaN(columns.rippleHz[index]!) ? null : 'no_ripple' };
}

function fromRipple(columns: FinishedTable['columns'], index: number, unit: Unit): number {
  const { cylinders } = unit;
  const logged = columns.loggedRpm[index]!;
  const [main, other] = [columns.rippleHz[index]!, columns.rippleOtherHz[index]!];
  const least = cylinders > T.beatCylinders ? T.crankLeastRpm : T.turnsLeastRpm;
  // Slower than engines turn it may be a beat of uneven cylinders, or a bank that hardly turns them: no other tells.
  if (rpmOfRipple(main, cylinders) < least && Number.isNaN(logged)) return Number.NaN;
  const possible = [main, other]
    .map((hz) => rpmOfRipple(hz, cylinders))
    .filter((rpm) => rpm >= least && rpm <= T.crankMostRpm);
  if (possible.length === 0) return Number.NaN;
  if (Number.isNaN(logged)) return cylinders > T.beatCylinders ? Math.max(...possible) : possible[0]!;
  const distance = (rpm: number) => Math.abs(Math.log(rpm / logged));
  return possible.reduce((best, rpm) => (distance(rpm) < distance(best) - 0.4 ? rpm : best));
}

/**
 * A log too slow for an engine's fastest ripple may show its alias or the beat of an uneven cylinder instead: what it
 * shows is no speed, however clear.
 */
export function isTooSlow(rateHz: number, { systemVolts, cylinders }: Unit): boolean {
  const fastestHz = ((systemVolts === 24 ? T.fastestRpm.heavy : T.fastestRpm.light) * cylinders) / 120;
  return rateHz / T.rippleSamplesPerPeriod < T.fastestShare * fastestHz;
}
