import { SURVIVAL_DAYS } from '../model/outlook.ts';
import type { LifeModel } from './life-model.ts';
import type { AgeNodes } from './unknown-age.ts';

/**
 * S(t | alive at the age) at SURVIVAL_DAYS, averaged over what the life model leaves uncertain and over the possible
 * ages. The average weighs each node by how well it explains survival so far: w · S(age).
 *
 * @example // one node, shape 1: memoryless, S(t) = e^(−t/scale) at any age
 */
export function lifeSurvival(model: Pick<LifeModel, 'shape' | 'scale' | 'weight'>, ages: AgeNodes): Float64Array {
  const survival = new Float64Array(SURVIVAL_DAYS.length);
  let total = 0;
  for (let k = 0; k < ages.age.length; k++) {
    const logDays = SURVIVAL_DAYS.map((days) => Math.log(ages.age[k]! + days));
    for (let node = 0; node < model.weight.length; node++) {
      // Known age: the posterior already holds this life's survival. Unknown: the ages' weights hold it.
      const weight = model.weight[node]! * ages.weight[k]!;
      total += weight;
      addAhead(survival, logDays, { shape: model.shape[node]!, logScale: Math.log(model.scale[node]!), weight });
    }
  }
  return survival.map((value) => value / total);
}

type Node = { shape: number; logScale: number; weight: number };

/** Adds w · S(age + t)/S(age), with H = (days/scale)^shape as a power of e: the logarithm serves every node. */
function addAhead(survival: Float64Array, logDays: readonly number[], { shape, logScale, weight }: Node): void {
  const now = Math.exp(shape * (logDays[0]! - logScale));
  for (let t = 0; t < survival.length; t++)
    survival[t]! += weight * Math.exp(now - Math.exp(shape * (logDays[t]! - logScale)));
}
