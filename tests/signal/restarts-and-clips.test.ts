import { describe, expect, it } from 'vitest';
import { qualityWords } from '../../etl/model/words.ts';
import { simulateStart, uniforms, type StartPlan } from './electrical-start.ts';
import { cranksOf, type Sample } from './sample-batches.ts';

const ONSET_US = 1_700_000_000_000_000;

function startAt(us: number, changes: Partial<StartPlan> = {}): Sample[] {
  const { seconds, volts } = simulateStart({ rateHz: 200, seed: 7, ...changes });
  return Array.from(seconds, (t, i) => ({ timeUs: us + Math.round(t * 1e6), volts: volts[i]! }));
}

/** An engine that charges for some seconds until `toUs`. */
function runningUntil(toUs: number, seconds: number): Sample[] {
  const noise = uniforms(5);
  return Array.from({ length: seconds * 200 }, (_, i) => ({
    timeUs: toUs - (seconds * 200 - i) * 5000,
    volts: Math.round((14.1 + 0.04 * noise()) * 100) / 100,
  }));
}

const wordsOf = (samples: readonly Sample[]) => {
  const { count, columns } = cranksOf(samples);
  return Array.from({ length: count }, (_, i) => qualityWords(columns.quality[i]!).split(';').filter(Boolean));
};

describe('restarts of a running vehicle', () => {
  const crank = startAt(ONSET_US);

  it('a start without running before is none', () => expect(wordsOf(crank)[0]).not.toContain('restarted_running'));

  it('a start 3 s after the engine ran is one, in one record or in two', () => {
    expect(wordsOf([...runningUntil(ONSET_US - 3e6, 5), ...crank])[0]).toContain('restarted_running');
    expect(wordsOf([...runningUntil(ONSET_US - 30e6, 5), ...crank])[0]).toContain('restarted_running');
  });

  it('a start 10 minutes after the engine ran is none', () => {
    expect(wordsOf([...runningUntil(ONSET_US - 600e6, 5), ...crank])[0]).not.toContain('restarted_running');
  });

  it('of two starts in a minute the second follows an engine that ran', () => {
    const twice = wordsOf([...crank, ...startAt(ONSET_US + 40e6)]);
    expect(twice.map((words) => words.includes('restarted_running'))).toEqual([false, true]);
  });
});

describe('a sensor at its end stop', () => {
  const fine = { noiseVolts: 0.02, stepVolts: 0.001 };
  const stopped = startAt(ONSET_US, fine).map((sample) => ({ ...sample, volts: Math.max(8, sample.volts) }));

  it('leaves the dip empty and says clipped; rest and cranking volts stand', () => {
    const { columns } = cranksOf(stopped);
    const whole = cranksOf(startAt(ONSET_US, fine)).columns;
    expect(wordsOf(stopped)[0]).toContain('clipped');
    expect(columns.dipVolts[0]).toBeNaN();
    expect(columns.restVolts[0]).toBe(whole.restVolts[0]);
    expect(Math.abs(columns.crankVolts[0]! - whole.crankVolts[0]!)).toBeLessThan(0.02);
  });

  it('is not taken for one where the sensor is coarse or the voltage is its own lowest', () => {
    expect(wordsOf(startAt(ONSET_US, fine))[0]).not.toContain('clipped');
    expect(wordsOf(startAt(ONSET_US, { stepVolts: 0.1 }))[0]).not.toContain('clipped');
  });
});

describe('a record that a trigger began', () => {
  it('50 ms before the inrush has not begun inside the crank, though rest is not known', () => {
    const record = startAt(ONSET_US).filter(({ timeUs }) => timeUs >= ONSET_US - 50_000);
    const { count, columns } = cranksOf(record);
    expect(count).toBe(1);
    expect(Math.abs(columns.timeUs[0]! - ONSET_US)).toBeLessThanOrEqual(5000);
    expect(wordsOf(record)[0]).toContain('no_rest');
    expect(wordsOf(record)[0]).not.toContain('begun_before_record');
    expect(columns.crankSeconds[0]).toBeCloseTo(1.5, 1);
  });
});
