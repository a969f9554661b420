import { expect, test } from 'vitest';
import type { Crank } from '../../sample-data/crank.ts';
import { stalledCrank } from '../../sample-data/crank-circuit.ts';
import { LOGGERS, gatewayRow } from '../../sample-data/logger.ts';
import { createRandom } from '../../sample-data/random.ts';
import { sampleWaveform } from '../../sample-data/waveform.ts';

const crank: Crank = {
  position: '',
  day: 20_000,
  secondOfDay: 30_000,
  kind: 'turning',
  started: true,
  restVolts: 12.6,
  circuit: { openVolts: 12.6, batteryOhms: 0.005, cableOhms: 0.001, motorOhms: 0.0045 },
  amps: 420,
  rpm: 200,
  seconds: 2,
  chargeVolts: 14.2,
  tempC: 10,
  cylinders: 4,
  weakCylinder: 1,
  dropoutAt: null,
  systemVolts: 12,
};
const still = { ...LOGGERS.shunt, noiseVolts: 0, stepVolts: 0.001 };

test('the waveform rests, dips to the stalled motor, turns and charges', () => {
  const wave = sampleWaveform(crank, still, createRandom(2, 'wave'));
  const between = (from: number, to: number): number[] =>
    [...wave.volts].filter((_, index) => wave.seconds[index]! >= from && wave.seconds[index]! < to);
  expect(Math.min(...between(-1, -0.1))).toBe(12.6);
  expect(Math.min(...wave.volts)).toBeCloseTo(stalledCrank(crank.circuit).volts, 1);
  const rolling = between(0.5, 1.7);
  expect(rolling.reduce((sum, volts) => sum + volts, 0) / rolling.length).toBeCloseTo(12.6 - 420 * 0.005 * 1.08, 1);
  expect(between(4.9, 9)[0]).toBeCloseTo(14.2, 1);
});

test('compression ripple comes at rpm · cylinders / 120', () => {
  const wave = sampleWaveform(crank, still, createRandom(2, 'wave'));
  const rolling = [...wave.volts].filter((_, index) => wave.seconds[index]! >= 0.5 && wave.seconds[index]! < 1.7);
  const mean = rolling.reduce((sum, volts) => sum + volts, 0) / rolling.length;
  const rises = rolling.flatMap((volts, index) =>
    index > 0 && volts >= mean && rolling[index - 1]! < mean ? [index] : [],
  );
  const period = (rises.at(-1)! - rises[0]!) / (rises.length - 1) / still.rateHz;
  expect(1 / period).toBeCloseTo((200 * 4) / 120, 1);
});

test('a fast logger sees the dip, a slow one only part of it', () => {
  const random = createRandom(5, 'dips');
  const dips = (logger: typeof LOGGERS.fast | typeof LOGGERS.slow): number =>
    Array.from({ length: 200 }, () => gatewayRow(crank, logger, random).dipVolts).reduce(
      (sum, volts) => sum + volts,
      0,
    ) / 200;
  expect(dips(LOGGERS.fast)).toBeCloseTo(6.6, 0);
  expect(dips(LOGGERS.fast)).toBeLessThan(6.9);
  expect(dips(LOGGERS.slow)).toBeGreaterThan(7.3);
});

test('a click draws the solenoid only, and a dropout comes back to rest while cranking', () => {
  const click = sampleWaveform(
    { ...crank, kind: 'click', started: false, amps: 34, rpm: 0, seconds: 1 },
    still,
    createRandom(3, 'click'),
  );
  expect(Math.min(...click.volts)).toBeGreaterThan(12.6 - 90 * 0.005 * 1.08);
  const released = [...click.volts].filter((_, index) => click.seconds[index]! > 1.02);
  expect(Math.min(...released)).toBeGreaterThan(12.55);
  const dropout = sampleWaveform({ ...crank, dropoutAt: 1 }, still, createRandom(3, 'dropout'));
  const lost = [...dropout.volts].filter(
    (_, index) => dropout.seconds[index]! >= 1.01 && dropout.seconds[index]! < 1.1,
  );
  expect(Math.min(...lost)).toBeGreaterThan(12.4);
});
