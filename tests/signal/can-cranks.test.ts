import { describe, expect, it } from 'vitest';
import { cranksOfBus, every, type BusReading } from './bus-readings.ts';

/** Speed of an invented start: still to 10.1 s, 180 ± 20 rpm to 11.2 s, then up to 650 within 0.4 s. */
function speedOfStart(at: number): number {
  if (at < 10.1) return 0;
  if (at < 11.2) return 180 + 20 * Math.sin(2 * Math.PI * 7 * at);
  return Math.min(650, 180 + (at - 11.2) * 1200);
}
/** Volts: 12.6 at rest, 10.0 while cranking, 14.2 from two seconds after. */
function voltsOfStart(at: number): number {
  if (at < 10) return 12.6;
  if (at < 11.4) return 10;
  return at < 13 ? 12.4 : 14.2;
}
const modeOfStart = (at: number) => (at >= 10 && at < 11.4 ? 2 : 0);

const speed = (step = 0.02) => every(step, [0, 40], 'engineRpm', speedOfStart);
const volts = (step = 1) => every(step, [0.5, 40], 'batteryVolts', voltsOfStart);
const mode = every(0.02, [0, 40], 'starterMode', modeOfStart);
const ambient = every(1, [0.2, 40], 'ambientC', -5);

describe('a start told by the starter mode', () => {
  const [row, ...others] = cranksOfBus([...speed(), ...volts(), ...mode, ...ambient]);

  it('is one row of source can', () => {
    expect(others).toEqual([]);
    expect(row!.what).toBe('can - started');
  });
  it('from the mode going to 2 to its leaving 2', () => {
    expect(row!.seconds).toBeCloseTo(10, 2);
    expect(row!.crankSeconds).toBeCloseTo(1.4, 2);
  });
  it('rests at the median of the readings before, charges at that of 5 to 15 s after', () => {
    expect([row!.restVolts, row!.chargeVolts]).toEqual([12.6, 14.2]);
  });
  it('turns at the mean of the readings between 0.3 s after onset and the pick-up', () => {
    expect(row!.loggedRpm).toBeGreaterThan(176);
    expect(row!.loggedRpm).toBeLessThan(186);
  });
  it('has no dip, and says that volts come too seldom for one', () => {
    expect([row!.dipVolts, row!.ampsPeak]).toEqual([Number.NaN, Number.NaN]);
    expect(row!.words).toBe('rate_too_low');
    expect(row!.rateHz).toBeCloseTo(1, 6);
  });
  it('takes the one reading inside the rolling phase for its voltage', () => {
    // Readings at 9.5, 10.5, 11.5 s: one lies inside.
    expect(row!.crankVolts).toBe(10);
  });
  it('takes the ambient temperature', () => {
    expect(row!.tempC).toBe(-5);
  });
  it('does not depend on how the readings come in batches', () => {
    const all = [...speed(), ...volts(), ...mode, ...ambient];
    for (const size of [1, 7, 100_000]) expect(cranksOfBus(all, size)).toEqual([row]);
  });
});

describe('a start told by speed alone', () => {
  it('where the mode is not sent', () => {
    const [row, ...others] = cranksOfBus([...speed(), ...volts()]);
    expect(others).toEqual([]);
    expect(row!.what).toBe('can - started');
    // Last reading of standstill; first over 450 rpm: 11.2 s + 270/1200 s.
    expect(row!.seconds).toBeCloseTo(10.08, 2);
    expect(row!.seconds + row!.crankSeconds).toBeCloseTo(11.44, 2);
    expect(row!.dropouts).toBeNaN();
  });
  it('where the mode says "not requested" for ever, as with a key switch', () => {
    const never = every(0.02, [0, 40], 'starterMode', 0);
    const [row, ...others] = cranksOfBus([...speed(), ...volts(), ...never]);
    expect([others, row!.what]).toEqual([[], 'can - started']);
  });
  it('read once a second gives no duration and no speed, but a start', () => {
    const [row, ...others] = cranksOfBus([...speed(1), ...volts()]);
    expect([others, row!.what]).toEqual([[], 'can - started']);
    expect([row!.crankSeconds, row!.loggedRpm, row!.restVolts]).toEqual([Number.NaN, Number.NaN, 12.6]);
  });
  it('a failed one is told if it turns for half a second', () => {
    const fails = every(0.02, [0, 30], 'engineRpm', (at) => (at >= 10 && at < 13 ? 120 + 5 * Math.sin(40 * at) : 0));
    const [row, ...others] = cranksOfBus([...fails, ...every(1, [0.5, 30], 'batteryVolts', 12.3)]);
    expect([others, row!.what]).toEqual([[], 'can - failed']);
    expect(row!.crankSeconds).toBeCloseTo(3, 1);
    expect(row!.loggedRpm).toBeCloseTo(120, 0);
    const rocks = every(0.02, [0, 30], 'engineRpm', (at) => (at >= 10 && at < 10.3 ? 60 : 0));
    expect(cranksOfBus(rocks)).toEqual([]);
  });
});

describe('what is no crank', () => {
  it('an engine that runs, or runs down', () => {
    const runs = every(0.02, [0, 30], 'engineRpm', (at) => (at < 10 ? 650 : Math.max(0, 650 - (at - 10) * 300)));
    expect(cranksOfBus([...runs, ...volts()])).toEqual([]);
    expect(cranksOfBus(runs.filter(([at]) => at > 11))).toEqual([]);
  });
  it('a mode of 2 that hangs for minutes, and a blip of it', () => {
    const hangs = every(0.02, [0, 300], 'starterMode', (at) => (at >= 10 && at < 200 ? 2 : 0));
    const [row, ...others] = cranksOfBus([...speed(), ...every(0.02, [40, 300], 'engineRpm', 650), ...hangs]);
    expect([others, row!.what]).toEqual([[], 'can - started']);
    expect(row!.crankSeconds).toBeCloseTo(1.44, 1);
    expect(cranksOfBus(every(0.1, [0, 300], 'starterMode', (at) => (at > 1 ? 2 : 0)))).toEqual([]);
    expect(cranksOfBus(every(0.02, [0, 30], 'starterMode', (at) => (at >= 10 && at < 10.1 ? 2 : 0)))).toEqual([]);
  });
});

describe('a record that begins or ends inside', () => {
  it('begins: onset, rest and duration are not known', () => {
    const [row, ...others] = cranksOfBus([...speed(), ...volts(), ...mode].filter(([at]) => at >= 10.5));
    expect([others, row!.what, row!.words]).toEqual([[], 'can - started', 'begun_before_record;rate_too_low']);
    expect([row!.restVolts, row!.crankSeconds]).toEqual([Number.NaN, Number.NaN]);
  });
  it('ends: duration and outcome are not known', () => {
    const [row, ...others] = cranksOfBus([...speed(), ...volts(), ...mode].filter(([at]) => at < 11));
    expect([others, row!.what, row!.words]).toEqual([[], 'can - -', 'ended_after_record;rate_too_low']);
    expect([row!.restVolts, row!.crankSeconds]).toEqual([12.6, Number.NaN]);
  });
  it('a speed that was silent while volts went on does not reach back to when it spoke last', () => {
    const evening = every(0.02, [0, 5], 'engineRpm', 0);
    const morning = speed()
      .filter(([at]) => at >= 10.5)
      .map(([at, signal, value]): BusReading => [at + 3600, signal, value]);
    const [row, ...others] = cranksOfBus([...evening, ...morning, ...every(1, [0.5, 3640], 'batteryVolts', 12.6)]);
    expect([others, row!.what, row!.words]).toEqual([[], 'can - started', 'begun_before_record;rate_too_low']);
    expect(row!.seconds).toBeCloseTo(3610.5, 1);
  });
  it('two records in one log are read apart', () => {
    const day = [...speed(), ...volts(), ...mode];
    const next = day.map(([at, signal, value]): BusReading => [at + 86_400, signal, value]);
    expect(cranksOfBus([...day, ...next]).map(({ seconds }) => Math.round(seconds))).toEqual([10, 86_410]);
  });
});

describe('how it went', () => {
  const cranks = (at: number) => (at >= 10 && at < 13 ? 2 : 0);
  const failed = (rpm: number) => every(0.02, [0, 30], 'engineRpm', (at) => (cranks(at) === 2 ? rpm + (at % 0.1) : 0));
  const held = every(0.02, [0, 30], 'starterMode', cranks);

  it('failed: speed is seen afterwards and is not that of an engine that runs', () => {
    const [row] = cranksOfBus([...failed(140), ...held]);
    expect([row!.what, row!.words]).toEqual(['can - failed', 'rate_too_low;no_rest']);
    expect(row!.chargeVolts).toBeNaN();
  });
  it('contact lost and regained within half a second is one crank with a dropout', () => {
    const lost = held.map(([at, signal, value]): BusReading => [at, signal, at >= 11 && at < 11.3 ? 0 : value]);
    const [row, ...others] = cranksOfBus([...failed(140), ...lost]);
    expect([others, row!.dropouts]).toEqual([[], 1]);
    expect(row!.dropoutSeconds).toBeCloseTo(0.3, 2);
    expect(row!.crankSeconds).toBeCloseTo(3, 1);
  });
  it('a default that does not move is no speed', () => {
    const stuck = every(0.02, [0, 30], 'engineRpm', (at) => (cranks(at) === 2 ? 114 : 0));
    expect(cranksOfBus([...stuck, ...held])[0]!.loggedRpm).toBeNaN();
  });
  it('an engine that stands: the motor stalled, the solenoid alone, or nothing to tell by', () => {
    const stands = every(0.02, [0, 30], 'engineRpm', 0);
    const sags = (low: number) => every(0.5, [0.25, 30], 'batteryVolts', (at) => (cranks(at) === 2 ? low : 12.5));
    const [stalled] = cranksOfBus([...stands, ...held, ...sags(6)]);
    expect([stalled!.what, stalled!.loggedRpm]).toEqual(['can - failed', 0]);
    expect(cranksOfBus([...stands, ...held, ...sags(12.3)])[0]!.what).toBe('can solenoid_only failed');
    expect(cranksOfBus([...stands, ...held])[0]!.what).toBe('can unreadable failed');
  });
  it('an engine that was turning already says so', () => {
    const runs = every(0.02, [0, 30], 'engineRpm', 650);
    expect(cranksOfBus([...runs, ...held])[0]!.words).toContain('restarted_running');
  });
});

describe('temperature', () => {
  const coolant = (value: number) => every(1, [0.3, 40], 'coolantC', value);
  it('is that of cold coolant where ambient is not sent, never of warm', () => {
    expect(cranksOfBus([...speed(), ...mode, ...coolant(12)])[0]!.tempC).toBe(12);
    expect(cranksOfBus([...speed(), ...mode, ...coolant(80)])[0]!.tempC).toBeNaN();
  });
  it('nor of coolant of an engine that has run in this log', () => {
    const later = every(0.02, [60, 62], 'starterMode', (at) => (at > 61 ? 2 : 0));
    const rows = cranksOfBus([...speed(), ...mode, ...coolant(12), ...every(0.1, [40, 62], 'coolantC', 25), ...later]);
    expect(rows.map(({ tempC }) => tempC)).toEqual([12, Number.NaN]);
  });
});

describe('volts', () => {
  it('of the bank come before those of the key switch, and are never mixed with them', () => {
    const key = every(1, [0.7, 40], 'keyswitchVolts', 11.9);
    const [row] = cranksOfBus([...speed(), ...mode, ...volts(), ...key]);
    expect(row!.restVolts).toBe(12.6);
    expect(cranksOfBus([...speed(), ...mode, ...key])[0]!.restVolts).toBe(11.9);
  });
  it('of a running engine are no rest', () => {
    const runs = every(0.02, [0, 30], 'engineRpm', (at) => (at < 9 ? 650 : 0));
    const held = every(0.02, [0, 30], 'starterMode', (at) => (at >= 10.6 && at < 11.6 ? 2 : 0));
    const charged = every(1, [0.5, 30], 'batteryVolts', (at) => (at < 9 ? 14.2 : 12.8));
    expect(cranksOfBus([...runs, ...held, ...charged])[0]!.restVolts).toBe(12.8);
  });
});

/** SPN 1675: 6 driveline engaged, 7 immobiliser, 5 engine not ready; 4 the engine runs already. */
describe('a start that is asked for and held back', () => {
  const held = (code: number, after: number, [from, to]: [number, number] = [10, 12]) =>
    every(0.1, [0, 80], 'starterMode', (at) => (at >= to - 0.01 ? after : at >= from - 0.01 ? code : 0));
  const rest = every(1, [0.5, 80], 'batteryVolts', 12.4);

  it('is a row of no response, with the rest before it', () => {
    for (const code of [5, 6, 7, 8, 12]) {
      const [row, ...others] = cranksOfBus([...held(code, 0), ...rest]);
      expect([others, row!.what, row!.restVolts]).toEqual([[], 'can no_response -', 12.4]);
      expect(row!.seconds).toBeCloseTo(10, 6);
    }
  });
  it('is none where the starter follows: it was only made to wait', () => {
    const waits = held(5, 2).map(([at, signal, value]): BusReading => [at, signal, at > 14 ? 0 : value]);
    expect(cranksOfBus([...waits, ...rest]).map(({ what }) => what)).toEqual(['can - -']);
  });
  it('nor where the engine runs, the code stands for ever, or was there from the beginning', () => {
    expect(cranksOfBus([...held(4, 0), ...rest])).toEqual([]);
    expect(cranksOfBus([...held(6, 0), ...rest, ...every(0.1, [0, 80], 'engineRpm', 700)])).toEqual([]);
    expect(cranksOfBus([...held(6, 0, [10, 75]), ...rest])).toEqual([]);
    expect(cranksOfBus([...held(6, 0, [0, 12]), ...rest])).toEqual([]);
  });
});
