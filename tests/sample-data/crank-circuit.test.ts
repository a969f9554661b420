import { expect, test } from 'vitest';
import {
  bankOhms,
  engineOf,
  oilShare,
  openCircuitVolts,
  stalledCrank,
  turningCrank,
} from '../../sample-data/crank-circuit.ts';

const circuit = { openVolts: 12.6, batteryOhms: 0.005, cableOhms: 0.001, motorOhms: 0.0045 };

test('stalled motor: 12.6 V over 5 + 1 + 4.5 mΩ draws 1200 A and leaves 6.6 V', () => {
  const stall = stalledCrank(circuit);
  expect(stall.amps).toBeCloseTo(1200, 9);
  expect(stall.volts).toBeCloseTo(6.6, 9);
  expect((12.6 - stall.volts) / stall.volts).toBeCloseTo(0.909, 3);
});

test('a new set turns the engine at its warm speed with its share of the stall current', () => {
  const engine = engineOf({ circuit, warmRpm: 200, dragShare: 0.35 });
  const crank = turningCrank(circuit, engine, 25);
  expect(crank.rpm).toBeCloseTo(200, 9);
  expect(crank.amps).toBeCloseTo(0.35 * 1200 * (0.6 + oilShare(25)), 6);
  expect(crank.volts).toBeCloseTo(12.6 - crank.amps * 0.005, 9);
});

test('back-EMF and loop voltage add up to the open volts at any temperature', () => {
  const engine = engineOf({ circuit, warmRpm: 200, dragShare: 0.35 });
  for (const oilC of [-20, -5, 10, 60]) {
    const { rpm, amps } = turningCrank(circuit, engine, oilC);
    expect(amps * 0.0105 + engine.backEmfVoltsPerRpm * rpm + engine.brushVolts).toBeCloseTo(12.6, 9);
  }
});

test('colder oil and a worn battery turn slower; a stalled engine turns at 0', () => {
  const engine = engineOf({ circuit, warmRpm: 200, dragShare: 0.35 });
  expect(turningCrank(circuit, engine, -18).rpm).toBeLessThan(turningCrank(circuit, engine, 0).rpm);
  expect(turningCrank({ ...circuit, batteryOhms: 0.012 }, engine, 0).rpm).toBeLessThan(
    turningCrank(circuit, engine, 0).rpm,
  );
  expect(turningCrank({ ...circuit, batteryOhms: 0.1 }, engine, -18).rpm).toBe(0);
});

test('rested volts follow TM 5-3805-262-20: 12.4 V at three quarters, twice that for 24 V', () => {
  const bank = { tempC: 25, agm: false, systemVolts: 12 };
  expect(openCircuitVolts({ ...bank, charge: 0.75 })).toBeCloseTo(12.4, 9);
  expect(openCircuitVolts({ ...bank, charge: 0.5 })).toBeCloseTo(12.2, 9);
  expect(openCircuitVolts({ ...bank, charge: 0.75, systemVolts: 24 })).toBeCloseTo(24.8, 9);
});

test('resistance of a bank doubles from +25 to −18 °C and is half the load test limit when new', () => {
  const bank = { ccaA: 600, charge: 1, ageing: 1, systemVolts: 12 };
  expect(bankOhms({ ...bank, tempC: 25 })).toBeCloseTo(0.005, 9);
  expect(bankOhms({ ...bank, tempC: -18 })).toBeCloseTo(0.01, 9);
});

test('power required in the cold: 155 % at 0 °C, 210 % at −18 °C, 350 % at −30 °C of that at 27 °C', () => {
  const required = (oilC: number): number => 0.6 + oilShare(oilC);
  expect([required(27), required(0), required(-18), required(-30)].map((share) => Math.round(100 * share))).toEqual([
    100, 155, 210, 350,
  ]);
});
