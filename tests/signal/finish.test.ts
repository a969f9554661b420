import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyTable, MEASURED_COLUMNS, type MeasuredColumn } from '../../etl/model/crank.ts';
import { OUTCOMES, PATTERNS, qualityBit, qualityWords, SOURCES } from '../../etl/model/words.ts';
import { finishCranks } from '../../etl/signal/finish.ts';
import type { MeasuredSource } from '../../etl/store/store.ts';
import { unit } from '../support/units.ts';

type Row = Partial<Record<MeasuredColumn, number>>;
const T0 = 1_700_000_000_000_000;
const at = (seconds: number, more: Row = {}): Row => ({
  timeUs: T0 + seconds * 1e6,
  crankSeconds: 1,
  quality: 0,
  ...more,
});

function source(importId: number, rows: readonly Row[], sha256 = `hash-${importId}`): MeasuredSource {
  const table = emptyTable(MEASURED_COLUMNS, rows.length);
  rows.forEach((row, i) => {
    for (const [name, value] of Object.entries(row)) table.columns[name as MeasuredColumn][i] = value;
  });
  return { importId, sha256, table };
}
const finished = (row: Row, of: Parameters<typeof unit>[0] | null = {}) =>
  finishCranks([source(1, [at(0, row)])], of === null ? null : unit(of)).columns;
const patternOf = (row: Row, of: Parameters<typeof unit>[0] = {}) => PATTERNS[finished(row, of).pattern[0]!];

describe('cranking speed', () => {
  it('7.14 Hz is 214 rpm on four cylinders (recorded start: the engine read 206–223)', () => {
    expect(finished({ rippleHz: 7.14 }).crankRpm[0]).toBeCloseTo(214.2, 6);
  });
  it('takes the runner-up where the strongest tone is no speed that a starter reaches', () => {
    expect(finished({ rippleHz: 20, rippleOtherHz: 10 }, { cylinders: 4 }).crankRpm[0]).toBe(300);
  });
  it('falls back on the logged speed and says so', () => {
    const { crankRpm, quality } = finished({ loggedRpm: 201 });
    expect([crankRpm[0], qualityWords(quality[0]!)]).toEqual([201, 'rpm_logged']);
  });
  it('is empty without the register, and says so; the register may come later', () => {
    const { crankRpm, quality } = finished({ rippleHz: 7.14 }, null);
    expect([crankRpm[0], qualityWords(quality[0]!)]).toEqual([Number.NaN, 'no_cylinders']);
  });
});

describe('sag ratio and system', () => {
  it('12.6 V at rest and a dip to 6.6 V give 0.909 (Ohm: 5 mΩ over 5.5 mΩ)', () => {
    expect(finished({ restVolts: 12.6, dipVolts: 6.6 }).sagRatio[0]).toBeCloseTo(0.909, 3);
  });
  it('a log that reads 12 V on a unit registered as 24 V is flagged', () => {
    expect(qualityWords(finished({ restVolts: 12.5 }, { systemVolts: 24 }).quality[0]!)).toBe('system_volts_differ');
    expect(qualityWords(finished({ restVolts: 25 }, { systemVolts: 24 }).quality[0]!)).toBe('');
  });
});

describe('pattern, the first that holds', () => {
  const well = { restVolts: 12.6, crankVolts: 10, rippleHz: 6.5, tempC: 20 };
  it('steady', () => expect(patternOf(well)).toBe('steady'));
  it('long: turned well for 8 s', () => expect(patternOf({ ...well, crankSeconds: 8 })).toBe('long'));
  it('long: turned well for 3 s and did not fire', () => {
    expect(patternOf({ ...well, crankSeconds: 3, outcome: OUTCOMES.indexOf('failed') })).toBe('long');
    expect(patternOf({ ...well, crankSeconds: 3, outcome: OUTCOMES.indexOf('started') })).toBe('steady');
  });
  it.each([
    [20, 7.9, 'slow'],
    [20, 8.1, 'steady'],
    [0, 7.9, 'steady'],
    [0, 6.9, 'slow'],
    [-15, 6.1, 'steady'],
    [-15, 5.9, 'slow'],
  ])('at %i °C, %f V while cranking: %s (TM 5-3895-382-24 table 29)', (tempC, crankVolts, pattern) => {
    expect(patternOf({ ...well, tempC, crankVolts })).toBe(pattern);
    expect(patternOf({ ...well, restVolts: 25, tempC, crankVolts: 2 * crankVolts }, { systemVolts: 24 })).toBe(pattern);
  });
  it('slow by speed: 80 rpm warm', () => expect(patternOf({ ...well, rippleHz: 80 / 30 })).toBe('slow'));
  it.each([
    [20, 0.64, 'steady'],
    [20, 0.66, 'slow'],
    [-20, 0.8, 'steady'],
    [-20, 0.82, 'slow'],
    [Number.NaN, 0.7, 'steady'],
    [Number.NaN, 0.72, 'slow'],
  ])('at %f °C, the motor still draws %f of its stalled current: %s', (tempC, share, pattern) => {
    const row = { restVolts: 12.6, crankVolts: 10, tempC, rateHz: 200, crankSeconds: 1.5 };
    expect(patternOf({ ...row, dipVolts: 12.6 - 2.6 / share })).toBe(pattern);
  });
  it.each([
    [10, 8.6],
    [20, 8.8],
    [25, 9],
  ])(
    'slow by what %i Hz meets of the dip: with 10.2 V while cranking, %f V is a motor that spins up',
    (rateHz, met) => {
      const row = { restVolts: 12.6, crankVolts: 10.2, tempC: 20, rateHz, crankSeconds: 1.5 };
      expect(patternOf({ ...row, dipVolts: met })).toBe('steady');
      expect(patternOf({ ...row, dipVolts: 10 })).toBe('slow');
      expect(finished({ ...row, dipVolts: 10 }).dipVolts[0]).toBeNaN();
    },
  );
  it('at 50 Hz a logger that means over its interval takes some of the dip: 0.68 may be healthy, 0.70 is slow', () => {
    const row = { restVolts: 12.6, crankVolts: 10, tempC: 20, crankSeconds: 1.5 };
    const drawing = (share: number, rateHz: number) => patternOf({ ...row, rateHz, dipVolts: 12.6 - 2.6 / share });
    expect([drawing(0.68, 50), drawing(0.7, 50), drawing(0.68, 200)]).toEqual(['steady', 'slow', 'slow']);
    expect(drawing(0.66, Number.NaN)).toBe('slow');
  });
  it('at 10 Hz an engine that fired within 1.5 s turned well where the share alone would say slow', () => {
    const row = { restVolts: 12.6, crankVolts: 10, tempC: 20, rateHz: 10, dipVolts: 12.6 - 2.6 / 0.91 };
    const fired = (outcome: 'started' | 'failed', crankSeconds: number) =>
      patternOf({ ...row, crankSeconds, outcome: OUTCOMES.indexOf(outcome) });
    expect(fired('started', 1.4)).toBe('steady');
    expect([fired('started', 1.6), fired('failed', 1.4)]).toEqual(['slow', 'slow']);
    expect(patternOf({ ...row, rateHz: 200, crankSeconds: 1.4, outcome: OUTCOMES.indexOf('started') })).toBe('slow');
  });
  it.each([
    [20, 10.4, 'steady'],
    [20, 8.6, 'slow'],
    [-5, 9.6, 'steady'],
    [-5, 7.6, 'slow'],
  ])(
    'at 20 Hz and %i °C the volts weigh too, about 9.6 when warm (TM 10-3930-671-24): %f V is %s',
    (tempC, crankVolts, is) => {
      const share = 0.79 + 0.004 * (20 - tempC);
      const row = { restVolts: 12.6, crankVolts, tempC, rateHz: 20, crankSeconds: 1.5 };
      const dipVolts = 12.6 - (12.6 - crankVolts) / share;
      expect(patternOf({ ...row, dipVolts })).toBe(is);
      const doubled = { restVolts: 25.2, crankVolts: 2 * crankVolts, dipVolts: 2 * dipVolts };
      expect(patternOf({ ...row, ...doubled }, { systemVolts: 24 })).toBe(is);
    },
  );
  it('what the log alone decided stays', () => {
    expect(patternOf({ ...well, form: PATTERNS.indexOf('dropout'), crankVolts: 5 })).toBe('dropout');
  });
});

describe('starts', () => {
  const startsOf = (rows: readonly Row[]) =>
    [...finishCranks([source(1, rows)], null).columns.startUs].map((us) => (us - T0) / 1e6);
  it('at most 60 s from one release to the next onset is one start', () => {
    expect(startsOf([at(0), at(61), at(122.1)])).toEqual([0, 0, 122.1]);
  });
  it('a heater is no crank and joins nothing', () => {
    expect(startsOf([at(0, { form: PATTERNS.indexOf('preheat') }), at(5), at(20)])).toEqual([0, 5, 5]);
  });
});

describe('one crank in several files', () => {
  const chosen = (...sources: MeasuredSource[]) => [...finishCranks(sources, null).columns.importId];
  it('the higher rate wins', () => {
    expect(chosen(source(1, [at(0, { rateHz: 50 })]), source(2, [at(0.5, { rateHz: 1000 })]))).toEqual([2]);
  });
  it('a whole record beats a cut one', () => {
    const cut = { quality: qualityBit('ended_after_record'), rateHz: 50 };
    expect(chosen(source(1, [at(0, { rateHz: 50 })], 'a'), source(2, [at(0, cut)], 'z'))).toEqual([1]);
  });
  it('a tie goes to the greater content hash', () => {
    expect(chosen(source(1, [at(0)], 'b'), source(2, [at(0)], 'c'), source(3, [at(0)], 'a'))).toEqual([2]);
  });
  it('onsets more than 2 s apart, or that do not overlap, are two', () => {
    expect(chosen(source(1, [at(0, { crankSeconds: 5 })]), source(2, [at(2.5)]))).toEqual([1, 2]);
    expect(chosen(source(1, [at(0, { crankSeconds: 0.8 })]), source(2, [at(1.5)]))).toEqual([1, 2]);
  });
  it('two captures of one file that overlap saw one crank; what a gateway rounds may be two', () => {
    const ratesOf = (rows: Row[]) => [...finishCranks([source(1, rows)], null).columns.rateHz];
    const two = (from: number) => [at(0, { source: from, rateHz: 50 }), at(0.5, { source: from, rateHz: 1000 })];
    expect(ratesOf(two(SOURCES.indexOf('waveform')))).toEqual([1000]);
    expect(ratesOf(two(SOURCES.indexOf('cranks')))).toEqual([50, 1000]);
  });
  it('a record that a set clock cut inside a crank holds one crank, not a second try', () => {
    const source0 = SOURCES.indexOf('waveform');
    const begin = at(0, { source: source0, crankSeconds: Number.NaN, quality: qualityBit('ended_after_record') });
    const rest = (quality: number) => at(0.3, { source: source0, crankSeconds: Number.NaN, quality });
    const count = (rows: Row[]) => finishCranks([source(1, rows)], null).count;
    expect(count([begin, rest(qualityBit('begun_before_record'))])).toBe(1);
    expect(count([begin, rest(0)])).toBe(2);
  });
  it('does not depend on the order in which files came', () => {
    const some = fc.array(
      fc.record({
        seconds: fc.integer({ min: 0, max: 60 }),
        rateHz: fc.constantFrom(10, 50, 200),
        crankSeconds: fc.constantFrom(0.5, 1, 3),
      }),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(fc.tuple(some, some, some), (files) => {
        const sources = files.map((rows, i) =>
          source(
            i,
            rows.toSorted((a, b) => a.seconds - b.seconds).map(({ seconds, ...more }) => at(seconds, more)),
          ),
        );
        expect(finishCranks(sources.toReversed(), null)).toEqual(finishCranks(sources, null));
      }),
    );
  });
});
