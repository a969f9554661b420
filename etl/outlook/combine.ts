import { SURVIVAL_DAYS } from '../model/outlook.ts';
import { dateOf } from '../model/time.ts';

/**
 * Sudden failures, wear and age in one curve.
 *
 * The life model's cumulative hazard H is split: a share f of it are failures without warning, which no condition takes
 * away; the rest is wear, for which the condition, where it is known, is the better witness:
 * S = e^(−f·H) · (ω·S_wear + (1 − ω)·e^(−(1−f)·H)). Without condition ω = 0 and S = e^(−H): the life model alone.
 */
export type Parts = { life: Float64Array; wear: Float64Array | null; suddenShare: number; trust: number };

export function combinedSurvival({ life, wear, suddenShare, trust }: Parts): Float64Array {
  let before = 1;
  return life.map((value, k) => {
    const hazard = -Math.log(Math.max(value, 1e-300));
    before = Math.min(before, combinedAt(hazard, wear === null ? null : wear[k]!, { suddenShare, trust }));
    return before;
  });
}

/** The same at one time: H of the life model and S_wear, which is null where no condition is known. */
export function combinedAt(
  hazard: number,
  wear: number | null,
  { suddenShare, trust }: Pick<Parts, 'suddenShare' | 'trust'>,
): number {
  const aged = Math.exp(-(1 - suddenShare) * hazard);
  return Math.exp(-suddenShare * hazard) * (wear === null ? aged : trust * wear + (1 - trust) * aged);
}

/** Date at which the failure probability reaches p; null where the curve does not get there. */
export function windowDate(survival: Float64Array, p: number, asOfDay: number): string | null {
  const target = 1 - p;
  for (let k = 1; k < survival.length; k++) {
    if (survival[k]! > target) continue;
    const [a, b] = [Math.log(survival[k - 1]!), Math.log(Math.max(survival[k]!, 1e-300))];
    const share = a === b ? 1 : (a - Math.log(target)) / (a - b);
    const days = SURVIVAL_DAYS[k - 1]! + share * (SURVIVAL_DAYS[k]! - SURVIVAL_DAYS[k - 1]!);
    return dateOf(asOfDay + Math.max(1, Math.round(days)));
  }
  return null;
}
