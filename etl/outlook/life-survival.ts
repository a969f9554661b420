import { SURVIVAL_DAYS } from '../model/outlook.ts';
import { weibullCumulativeHazard } from '../stats/weibull.ts';
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
  for (let node = 0; node < model.weight.length; node++) {
    const weibull = { shape: model.shape[node]!, scale: model.scale[node]! };
    for (let k = 0; k < ages.age.length; k++) {
      const age = ages.age[k]!;
      const now = weibullCumulativeHazard(age, weibull);
      // Known age: the posterior already holds this life's survival. Unknown: the ages' weights hold it.
      const weight = model.weight[node]! * ages.weight[k]!;
      total += weight;
      for (let t = 0; t < SURVIVAL_DAYS.length; t++)
        survival[t]! += weight * Math.exp(now - weibullCumulativeHazard(age + SURVIVAL_DAYS[t]!, weibull));
    }
  }
  return survival.map((value) => value / total);
}
