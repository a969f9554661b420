import { describe, expect, it } from 'vitest';
import { MEASURED_COLUMNS, type MeasuredTable } from '../../etl/model/crank.ts';
import { simulateStart } from './electrical-start.ts';
import { cranksOf, find, type Sample } from './sample-batches.ts';

/** Things that must not change an answer, and changes that must change it in a known way. */
const ONSET_US = 1_700_000_000_000_000;

type Log = { seed: number; shiftUs?: number };

/** Three cranks of a unit, 40 s apart; each record 6 s long with the gap that makes it one. */
function fleetLog(unit: string, { seed, shiftUs = 0 }: Log): Sample[] {
  return [0, 1, 2].flatMap((k) => {
    const start = simulateStart({ seed: seed + k, rateHz: 100, rpm: 170 + 10 * seed, noiseVolts: 0.012 });
    return Array.from(start.seconds, (t, i) => ({
      unit,
      timeUs: ONSET_US + shiftUs + k * 40e6 + Math.round(t * 1e6),
      volts: start.volts[i]!,
    }));
  });
}

/** Eight minutes without a gap: two cranks in quiet. Longer than what is held before a first look. */
function longLog(): Sample[] {
  const { volts } = simulateStart({ seed: 4, rateHz: 100 });
  const idle = simulateStart({
    seed: 5,
    rateHz: 100,
    crankSeconds: 0,
    solenoidSeconds: 0,
    fireSeconds: Infinity,
    afterSeconds: 20,
  }).volts;
  const quiet = Array.from({ length: 38_000 }, (_, i) => idle[i % idle.length]!);
  return [...idle, ...volts, ...quiet, ...volts].map((each, i) => ({ timeUs: ONSET_US + i * 10_000, volts: each }));
}

const columnsBut = (table: MeasuredTable, left: readonly string[]) =>
  Object.fromEntries(
    MEASURED_COLUMNS.filter((name) => !left.includes(name)).map((name) => [name, [...table.columns[name]]]),
  );

describe('identities of the crank finder', () => {
  const log = fleetLog('U1', { seed: 1 });
  const plain = cranksOf(log);

  it('finds the three cranks', () => expect(plain.count).toBe(3));

  it.each([1, 7, 333, 5000])('batches of %i samples change nothing', (size) => {
    expect([...find(log, size).tables.values()][0]).toEqual(plain);
  });

  it.each([613, 4096])('a log longer than the memory held gives the same in batches of %i', (size) => {
    const long = longLog();
    const whole = cranksOf(long);
    expect(whole.count).toBe(2);
    expect([...find(long, size).tables.values()][0]).toEqual(whole);
  });

  it('units that take turns change nothing', () => {
    const other = fleetLog('U2', { seed: 3, shiftUs: 3000 });
    const mixed = [...log, ...other].sort((a, b) => a.timeUs - b.timeUs);
    const { tables } = find(mixed);
    expect([...tables.keys()].sort()).toEqual(['U1', 'U2']);
    expect(columnsBut(tables.get('U1')!, ['line'])).toEqual(columnsBut(plain, ['line']));
    expect(columnsBut(tables.get('U2')!, ['line'])).toEqual(columnsBut(cranksOf(other), ['line']));
  });

  it('two positions of a unit are two engines', () => {
    const both = log.flatMap((sample) => [
      { ...sample, position: 'left' },
      { ...sample, position: 'right' },
    ]);
    const { tables } = find(both);
    expect([...tables.keys()].sort()).toEqual(['U1/left', 'U1/right']);
    expect(columnsBut(tables.get('U1/right')!, ['line'])).toEqual(columnsBut(plain, ['line']));
  });

  it('a later clock moves times and nothing else', () => {
    const later = cranksOf(fleetLog('U1', { seed: 1, shiftUs: 7_654_321_000_000 }));
    expect(columnsBut(later, ['timeUs'])).toEqual(columnsBut(plain, ['timeUs']));
    const moved = [...later.columns.timeUs].map((us, i) => us - plain.columns.timeUs[i]!);
    expect(moved).toEqual([7_654_321_000_000, 7_654_321_000_000, 7_654_321_000_000]);
  });

  it('half a 24 V log gives the features of the 12 V log', () => {
    const double = cranksOf(log.map((sample) => ({ ...sample, volts: 2 * sample.volts })));
    for (const name of ['timeUs', 'crankSeconds', 'rippleHz', 'quality', 'form'] as const)
      expect([name, [...double.columns[name]]]).toEqual([name, [...plain.columns[name]]]);
    for (const name of ['restVolts', 'dipVolts', 'crankVolts'] as const)
      for (let i = 0; i < 3; i++) expect(double.columns[name][i]! / 2).toBeCloseTo(plain.columns[name][i]!, 9);
  });

  it('an offset of the sensor moves rest, dip and cranking volts alike', () => {
    const moved = cranksOf(log.map((sample) => ({ ...sample, volts: sample.volts + 0.2 })));
    for (const name of ['restVolts', 'dipVolts', 'crankVolts'] as const)
      for (let i = 0; i < 3; i++) expect(moved.columns[name][i]! - plain.columns[name][i]!).toBeCloseTo(0.2, 6);
  });

  it.each([2, 5, 20])('taking every %ith sample invents no feature', (stride) => {
    const thin = cranksOf(log.filter((_, i) => i % stride === 0));
    expect(thin.count).toBe(3);
    for (const name of ['restVolts', 'dipVolts', 'crankVolts', 'chargeVolts', 'rippleHz', 'ampsPeak'] as const)
      for (let i = 0; i < 3; i++)
        if (Number.isNaN(plain.columns[name][i]!)) expect([name, thin.columns[name][i]]).toEqual([name, Number.NaN]);
  });
});
