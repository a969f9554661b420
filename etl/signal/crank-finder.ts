import { emptyTable, MEASURED_COLUMNS, type KeptWaveform, type MeasuredTable } from '../model/crank.ts';
import type { Recording, SampleBatch } from '../model/samples.ts';
import type { SetAside } from '../model/set-aside.ts';
import { searchCranks, type SearchedCrank } from './crank-search.ts';
import { EngineRan } from './engine-ran.ts';
import { Recorder } from './recorder.ts';
import { encodeWaveform } from './waveform-codec.ts';

/** Cranks of one engine, in time order, with the samples around each. */
export type FoundCranks = { unit: string; position: string; measured: MeasuredTable; waveforms: KeptWaveform[] };
export type Finding = { cranks: FoundCranks[]; setAside: SetAside[] };

export type CrankFinder = {
  /** Takes the next samples of the stream; gives the cranks that are decided by now. */
  push(batch: SampleBatch): Finding;
  /** The stream has ended: what is left. */
  end(): Finding;
};

/** Voltage samples in, cranks out: streaming, in bounded memory, without the register. */
export function createCrankFinder(): CrankFinder {
  let found: FoundCranks[] = [];
  const engineRan = new EngineRan();
  const recorder = new Recorder(({ recording, more }) => {
    const { cranks, doneBefore } = searchCranks(recording, more);
    const rows = cranks.map(({ row }) => row);
    engineRan.mark(recording, rows, more ? doneBefore : recording.count);
    if (cranks.length > 0) found.push(asTable(recording, cranks));
    return doneBefore;
  });
  const take = (setAside: SetAside[]): Finding => {
    const cranks = found;
    found = [];
    return { cranks, setAside };
  };
  return { push: (batch) => take(recorder.push(batch)), end: () => take(recorder.end()) };
}

function asTable(recording: Recording, cranks: readonly SearchedCrank[]): FoundCranks {
  const { unit, position } = recording;
  const measured = emptyTable(MEASURED_COLUMNS, cranks.length);
  cranks.forEach(({ row }, index) => {
    for (const name of MEASURED_COLUMNS) measured.columns[name][index] = row[name];
  });
  return { unit, position, measured, waveforms: cranks.map((crank) => keptWaveform(recording, crank)) };
}

function keptWaveform(recording: Recording, { row, from, to }: SearchedCrank): KeptWaveform {
  const { unit, position, timeUs, volts, amps } = recording;
  const samples = encodeWaveform({
    timeUs: timeUs.subarray(from, to),
    volts: volts.subarray(from, to),
    amps: amps === null ? null : amps.subarray(from, to),
  });
  return { unit, position, crankUs: row.timeUs, samples, sampleCount: to - from };
}
