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

  it('captures that come by turns, as of two loggers in one file, are each kept whole', () => {
    const turns = Array.from({ length: 20 }, (_, i) => at(i * 0.05, { record: i % 2 === 0 ? 'a' : 'b' }));
    expect(recordsOf(turns)).toEqual([10, 10]);
    // Once 2 s have passed a capture of the same name is another one.
    const again = [at(0, { record: 'a' }), at(0.1, { record: 'a' }), at(1, { record: 'b' }), at(2.5, { record: 'a' })];
    expect(recordsOf(again)).toEqual([2]);
    const ten = Array.from({ length: 60 }, (_, i) => at(i * 0.01, { record: `r${i % 10}` }));
    expect(recordsOf(ten)).toEqual(Array.from({ length: 10 }, () => 6));
  });

  it('a clock set back by less begins a new record too, where its times run on over what is there', () => {
    const before = Array.from({ length: 100 }, (_, i) => at(i * 0.01, { volts: 12 + i / 1000 }));
    const back = (from: number) => Array.from({ length: 100 }, (_, i) => at(from + i * 0.01, { volts: 11 }));
    expect(recordsOf([...before, ...back(0.503)])).toEqual([100, 98]);
    expect(find([...before, ...back(0.503)]).setAside.map(({ line }) => line)).toEqual([102, 103]);
  });

  it('what was sent twice, what came late into a hole, and a single wrong time do not cut a record', () => {
    const samples = Array.from({ length: 100 }, (_, i) => at(i * 0.01, { volts: 12 + i / 1000 }));
    const twice = [...samples.slice(0, 60), ...samples.slice(30)];
    expect(recordsOf(twice)).toEqual([100]);
    const late = [...samples.slice(0, 40), ...samples.slice(50, 60), ...samples.slice(40, 50), ...samples.slice(60)];
    expect(recordsOf(late)).toEqual([90]);
    const wrong = samples.map((sample, i) => (i === 50 ? at(0.2, { volts: 9 }) : sample));
    expect(recordsOf(wrong)).toEqual([99]);
  });

  it('a clock set back by more than 2 s begins a new record', () => {
    expect(recordsOf([at(100), at(100.1), at(50), at(50.1), at(50.2)])).toEqual([2, 3]);
  });

  it('a column of the file that only another engine fills is no channel of this one', () => {
    const channels: [string, Float64Array | null][] = [];
    const recorder = new Recorder(({ recording }) => {
      channels.push([recording.unit, recording.rpm]);
      return recording.count;
    });
    const turns = [
      at(0, { unit: 'A' }),
      at(0, { unit: 'B' }),
      at(0.1, { unit: 'A' }),
      at(0.1, { unit: 'B', rpm: 200 }),
    ];
    recorder.push(batchOf(turns));
    recorder.end();
    expect(channels).toEqual([
      ['A', null],
      ['B', Float64Array.of(Number.NaN, 200)],
    ]);
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
