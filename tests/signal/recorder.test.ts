import { describe, expect, it } from 'vitest';
import { Recorder } from '../../etl/signal/recorder.ts';
import { batchOf, find, type Sample } from './sample-batches.ts';

const T0 = 1_700_000_000_000_000;
const at = (seconds: number, more: Partial<Sample> = {}): Sample => ({
  timeUs: T0 + seconds * 1e6,
  volts: 12.5,
  ...more,
});

/** Sample counts of the records that a stream is cut into. */
function recordsOf(samples: readonly Sample[]): number[] {
  const counts: number[] = [];
  const recorder = new Recorder(({ recording, more }) => {
    if (!more) counts.push(recording.count);
    return more ? 0 : recording.count;
  });
  recorder.push(batchOf(samples));
  recorder.end();
  return counts;
}

describe('sorting samples into records', () => {
  it('a gap of more than 2 s begins a new record, one of 2 s does not', () => {
    expect(recordsOf([at(0), at(1), at(3), at(5.1), at(5.2)])).toEqual([3, 2]);
  });

  it('`record` separates captures that touch', () => {
    const captures = ['a', 'a', 'b', 'b', 'b'].map((record, i) => at(i * 0.1, { record }));
    expect(recordsOf(captures)).toEqual([2, 3]);
  });

  it('a clock set back by more than 2 s begins a new record', () => {
    expect(recordsOf([at(100), at(100.1), at(50), at(50.1), at(50.2)])).toEqual([2, 3]);
  });

  it('the same instant twice is set aside with its line and reason', () => {
    expect(find([at(0), at(0.1), at(0.1), at(0.2)]).setAside).toEqual([
      { line: 4, field: 'time', value: '2023-11-14T22:13:20.100Z', reason: 'time requires one sample an instant' },
    ]);
  });

  it('a sample whose time runs back is set aside, and the rest goes on', () => {
    const samples = [at(0), at(0.2), at(0.1), at(0.3)];
    expect(find(samples).setAside.map(({ line, reason }) => [line, reason])).toEqual([
      [4, 'time requires samples in order: the clock ran back'],
    ]);
    expect(recordsOf(samples)).toEqual([3]);
  });
});
