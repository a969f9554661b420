import type { MeasuredTable } from '../../etl/model/crank.ts';
import { MEASURED_COLUMNS, emptyTable } from '../../etl/model/crank.ts';
import type { SampleBatch } from '../../etl/model/samples.ts';
import type { SetAside } from '../../etl/model/set-aside.ts';
import { createCrankFinder } from '../../etl/signal/crank-finder.ts';

/** One sample as a test writes it. */
export type Sample = {
  unit?: string;
  position?: string;
  record?: string;
  timeUs: number;
  volts: number;
  amps?: number;
  rpm?: number;
};

/** Rows → a batch as a reader hands it on; `line` counts from 2. */
export function batchOf(samples: readonly Sample[], firstLine = 2): SampleBatch {
  const names: string[] = [];
  const index = (name: string) => {
    if (!names.includes(name)) names.push(name);
    return names.indexOf(name);
  };
  const column = (pick: (sample: Sample) => number | undefined) =>
    samples.some((sample) => pick(sample) !== undefined)
      ? Float64Array.from(samples, (sample) => pick(sample) ?? Number.NaN)
      : null;
  return {
    count: samples.length,
    unit: Int32Array.from(samples, (sample) => index(sample.unit ?? 'U1')),
    position: samples.some((sample) => sample.position !== undefined)
      ? Int32Array.from(samples, (sample) => index(sample.position ?? ''))
      : null,
    record: samples.some((sample) => sample.record !== undefined)
      ? Int32Array.from(samples, (sample) => index(sample.record ?? ''))
      : null,
    names,
    timeUs: Float64Array.from(samples, (sample) => sample.timeUs),
    volts: Float64Array.from(samples, (sample) => sample.volts),
    amps: column((sample) => sample.amps),
    tempC: null,
    coolantC: null,
    rpm: column((sample) => sample.rpm),
    startRequest: null,
    controlVolts: null,
    line: Float64Array.from(samples, (_, i) => firstLine + i),
  };
}

export type Found = { tables: Map<string, MeasuredTable>; setAside: SetAside[]; waveforms: number };

/** Runs samples through the crank finder in batches of `size`; tables by `unit/position`, batches joined. */
export function find(samples: readonly Sample[], size = 20_000): Found {
  const finder = createCrankFinder();
  const found: Found = { tables: new Map(), setAside: [], waveforms: 0 };
  const take = (finding: ReturnType<typeof finder.end>) => {
    found.setAside.push(...finding.setAside);
    for (const { unit, position, measured, waveforms } of finding.cranks) {
      const key = position === '' ? unit : `${unit}/${position}`;
      const known = found.tables.get(key);
      found.tables.set(key, known === undefined ? measured : joined(known, measured));
      found.waveforms += waveforms.length;
    }
  };
  for (let from = 0; from < samples.length; from += size)
    take(finder.push(batchOf(samples.slice(from, from + size), from + 2)));
  take(finder.end());
  return found;
}

function joined(a: MeasuredTable, b: MeasuredTable): MeasuredTable {
  const table = emptyTable(MEASURED_COLUMNS, a.count + b.count);
  for (const name of MEASURED_COLUMNS) {
    table.columns[name].set(a.columns[name]);
    table.columns[name].set(b.columns[name], a.count);
  }
  return table;
}

/** The one table of a run over one engine; an empty one if nothing was found. */
export function cranksOf(samples: readonly Sample[]): MeasuredTable {
  return [...find(samples).tables.values()][0] ?? emptyTable(MEASURED_COLUMNS, 0);
}
