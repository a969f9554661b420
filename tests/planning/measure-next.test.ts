import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../api/planning/cautions.ts';
import { measureNext } from '../../api/planning/measure-next.ts';
import { benchTest, LOAD_TEST_VOLTS, OPEN_CIRCUIT_VOLTS } from '../../etl/model/bench-tests.ts';

const due = (component: 'battery' | 'starter') => ({
  position: '',
  component,
  action: 'book_now' as const,
  pFailToNextVisit: 0.34,
});
const quiet = { systemVolts: 12 as const, ranked: [], recentPatterns: { steady: 50 } };

describe('what to measure next', () => {
  it('is nothing on a unit that is well', () => {
    const well = { position: '', component: 'battery' as const, action: 'leave' as const, pFailToNextVisit: 0.01 };
    expect(measureNext({ ...quiet, ranked: [well] })).toEqual([]);
  });

  it('is the battery’s charge, then its load test, where the battery is due', () => {
    const tests = measureNext({ ...quiet, ranked: [due('battery')] });
    expect(tests.map(({ test }) => test)).toEqual(['open_circuit_voltage', 'load_test_voltage']);
    expect(tests[0]!.why).toBe('the battery is 34 % likely to fail before the next visit');
  });

  it('names the engine whose battery it is, where a unit has two', () => {
    const front = { ...due('battery'), position: 'front', action: 'leave' as const, pFailToNextVisit: 0.004 };
    const tests = measureNext({ ...quiet, ranked: [front, { ...due('battery'), position: 'rear' }] });
    expect(tests[0]!.why).toBe('the rear battery is 34 % likely to fail before the next visit');
  });

  it('is the drops allowed at 24 V on a 24 V unit', () => {
    const tests = measureNext({ ...quiet, systemVolts: 24, ranked: [due('starter')] });
    expect(tests.find(({ test }) => test === 'voltage_drop_ground')!.expected).toMatch(/^at most 1\.4 V/);
  });

  it('asks for each test once, the battery before the starter', () => {
    const tests = measureNext({ ...quiet, ranked: [due('starter'), due('battery')], recentPatterns: { slow: 3 } });
    const names = tests.map(({ test }) => test);
    expect(names[0]).toBe('open_circuit_voltage');
    expect(new Set(names).size).toBe(names.length);
  });

  it('follows lost contact to the solenoid and silence to the control circuit', () => {
    const lost = measureNext({ ...quiet, recentPatterns: { dropout: 2, solenoid_only: 1 } });
    expect(lost[0]).toMatchObject({
      test: 'voltage_drop_contacts',
      why: '3 of the newest cranks lost contact or did not turn',
    });
    expect(measureNext({ ...quiet, recentPatterns: { no_response: 1 } })[0]!.test).toBe('control_terminal_voltage');
  });
});

describe('the table of tests', () => {
  it('holds the load-test minimum by temperature of the vehicle manuals', () => {
    expect(LOAD_TEST_VOLTS.map(({ tempC, volts }) => [tempC, volts])).toEqual([
      [20, 9.6],
      [16, 9.5],
      [10, 9.4],
      [4, 9.3],
      [-1, 9.1],
      [-7, 8.9],
      [-12, 8.7],
      [-18, 8.5],
    ]);
  });

  it('holds the rested open-circuit volts of TM 5-3805-262-20', () => {
    expect(OPEN_CIRCUIT_VOLTS.map(({ volts }) => volts)).toEqual([12.6, 12.4, 12.2, 12, 11.7]);
  });

  it('refuses a name that is not listed', () => {
    expect(() => benchTest('taste')).toThrow('bench test requires a listed name, got taste (BENCH_TESTS)');
  });
});

it('the cautions name acid, gas, the ground cable, a moving engine and the matched set', () => {
  for (const words of [/acid/, /explosive gas/, /ground cable off first/, /wheels chocked/, /matched set/, /qualified/])
    expect(CAUTIONS.join(' ')).toMatch(words);
});
