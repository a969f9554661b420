import { expect, it } from 'vitest';
import type { Indicator } from '../../etl/model/words.ts';
import { conditionPath, usualLevels, type EngineSeries } from '../../etl/outlook/condition-index.ts';
import { summaryOf } from '../../etl/trends/indicator-summary.ts';

const WEEKS = 30;

/** A weekly series of one engine; only days and corrected values matter here. */
function engine(indicator: Indicator, valueOf: (week: number) => number): EngineSeries {
  const none = new Float64Array(0);
  const day = Int32Array.from({ length: WEEKS }, (_, week) => 20_000 + 7 * week);
  const corrected = Float64Array.from({ length: WEEKS }, (_, week) => valueOf(week));
  const rest = { stratum: new Uint8Array(0), value: none, tempC: none, restVolts: none };
  return {
    class: 'van',
    series: { [indicator]: summaryOf({ day, corrected, hasTemperature: false, ...rest }, -Infinity) },
  };
}

it('retries speak of a starter although the rest of the class never retries', () => {
  const healthy = Array.from({ length: 8 }, () => engine('retries_per_100', () => 0));
  const worn = engine('retries_per_100', (week) => (week < 20 ? 0 : 10));
  const usual = usualLevels([...healthy, worn]);
  const path = conditionPath(worn, 'starter', usual, -Infinity)!;
  expect(path.value[0]).toBe(0);
  expect(path.value.at(-1)).toBeGreaterThan(3);
  expect(conditionPath(healthy[0]!, 'starter', usual, -Infinity)!.value.every((value) => value === 0)).toBe(true);
});
