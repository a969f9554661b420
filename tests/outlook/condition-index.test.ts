import { expect, it } from 'vitest';
import type { Indicator } from '../../etl/model/words.ts';
import { conditionPath, usualLevels, type EngineSeries } from '../../etl/outlook/condition-index.ts';
import { summaryOf } from '../../etl/trends/indicator-summary.ts';

const WEEKS = 30;

/** A weekly series of one engine; only days and corrected values matter here. */
function engine(
  indicator: Indicator,
  valueOf: (week: number) => number,
  { name = 'van', systemVolts = 12 }: { name?: string; systemVolts?: 12 | 24 } = {},
): EngineSeries {
  const none = new Float64Array(0);
  const day = Int32Array.from({ length: WEEKS }, (_, week) => 20_000 + 7 * week);
  const corrected = Float64Array.from({ length: WEEKS }, (_, week) => valueOf(week));
  const rest = { stratum: new Uint8Array(0), value: none, tempC: none, restVolts: none };
  return {
    unit: { systemVolts },
    class: name,
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

it('a class too small for levels of its own is held against the units on its voltage, and says so', () => {
  const at = (volts: number) => (week: number) => volts + (week % 2 === 0 ? 0.02 : -0.02);
  const cars = Array.from({ length: 6 }, () => engine('rest_volts', at(12.6), { name: 'car' }));
  const trucks = Array.from({ length: 9 }, () => engine('rest_volts', at(25.2), { name: 'truck', systemVolts: 24 }));
  const van = engine('rest_volts', at(12.6), { name: 'van' });
  const usual = usualLevels([...trucks, ...cars, van]);
  expect(usual['van']!['rest_volts']).toMatchObject({ level: expect.closeTo(12.6, 1) as number, ofClass: false });
  expect(usual['truck']!['rest_volts']).toMatchObject({ level: expect.closeTo(25.2, 1) as number, ofClass: true });
  expect(Math.abs(conditionPath(van, 'battery', usual, -Infinity)!.value.at(-1)!)).toBeLessThan(1.5);
});
