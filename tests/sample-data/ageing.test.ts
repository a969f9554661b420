import { expect, test } from 'vitest';
import {
  ageBattery,
  arrheniusDays,
  capacity,
  newBattery,
  pastUse,
  recharge,
  resistanceFactor,
} from '../../sample-data/battery-ageing.ts';
import { createRandom } from '../../sample-data/random.ts';
import {
  addedResistance,
  clickChance,
  deadSpotChance,
  newStarter,
  wearStarter,
} from '../../sample-data/starter-ageing.ts';

const random = createRandom(1, 'ageing test');

test('corrosion runs twice as fast 10 K warmer', () => {
  expect(arrheniusDays(20)).toBeCloseTo(1, 12);
  expect(arrheniusDays(25) / arrheniusDays(15)).toBeCloseTo(2, 1);
});

test('capacity fades first, resistance stays near new until the knee and rises late', () => {
  const battery = { ...newBattery(random, 0, 1000), knee: 0.75 };
  const at = (damage: number) => ({ ...battery, damage });
  expect(resistanceFactor(at(0.7))).toBeLessThan(1.1);
  expect(capacity(at(0.7))).toBeLessThan(0.85);
  expect(resistanceFactor(at(1)) - resistanceFactor(at(0.8))).toBeGreaterThan(0.7);
  expect(pastUse(at(0.7))).toBe(false);
  expect(pastUse(at(1))).toBe(true);
});

test('a bank that stands flat sulfates, a full one hardly', () => {
  const day = { batteryC: 10, drainShare: 0, random };
  const flat = { ...newBattery(random, 0, 1500), charge: 0.3 };
  const full = newBattery(random, 0, 1500);
  for (let turn = 0; turn < 30; turn += 1) {
    ageBattery(flat, day);
    ageBattery(full, day);
    recharge(full, 5, 1);
  }
  expect(flat.sulfation).toBeGreaterThan(0.15);
  expect(full.sulfation).toBeLessThan(0.001);
});

test('620 mA flatten an 80 Ah bank by a third of its charge over a weekend', () => {
  const battery = { ...newBattery(random, 0, 1e9), charge: 0.95 };
  for (let day = 0; day < 2; day += 1) ageBattery(battery, { batteryC: 5, drainShare: (0.62 * 24) / 80, random });
  expect(0.95 - battery.charge).toBeCloseTo((0.62 * 48) / 80, 2);
});

test('brushes wear by the charge they carry, and dead spots begin once the spring has let go', () => {
  const starter = { ...newStarter(random, 0, { starts: 1000, ampSeconds: 500 }), brushAmpSeconds: 500_000 };
  for (let start = 0; start < 500; start += 1) wearStarter(starter, { ampSeconds: 500, dipShare: 0.6, random });
  expect(starter.brush).toBeCloseTo(0.5, 9);
  expect(deadSpotChance(starter)).toBe(0);
  expect(deadSpotChance({ ...starter, brush: 0.1 })).toBeGreaterThan(0.2);
  expect(addedResistance({ ...starter, brush: 0.05 })).toBeGreaterThan(addedResistance(starter) + 0.3);
});

test('contacts lose copper in jumps whose mean is the design value, more where the volts were low', () => {
  const gentle = { ...newStarter(random, 0, { starts: 1e6, ampSeconds: 1 }), erosionPerStart: 1e-4 };
  const harsh = { ...gentle };
  for (let start = 0; start < 4000; start += 1) {
    wearStarter(gentle, { ampSeconds: 0, dipShare: 0.6, random });
    wearStarter(harsh, { ampSeconds: 0, dipShare: 0.4, random });
  }
  expect(gentle.erosion).toBeCloseTo(0.4, 1);
  expect(harsh.erosion / gentle.erosion).toBeCloseTo(1.8, 0);
  expect(clickChance({ ...gentle, erosion: 0.7 })).toBe(0);
  expect(clickChance({ ...gentle, erosion: 1 })).toBeGreaterThan(0.5);
});
