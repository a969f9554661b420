/** Hands a simulated log to the program as a reader would, and gives the finished cranks. */
import { emptyTable, MEASURED_COLUMNS, type FinishedTable, type MeasuredTable } from '../../etl/model/crank.ts';
import type { SampleBatch } from '../../etl/model/samples.ts';
import { createCrankFinder } from '../../etl/signal/crank-finder.ts';
import { finishCranks } from '../../etl/signal/finish.ts';
import { unit } from '../support/units.ts';
import type { Log } from './logger.ts';

const BATCH = 20_000;

export function finishedOf(log: Log): FinishedTable {
  const { vehicle } = log.plan;
  const { cylinders, systemVolts, ccaA, fuel } = vehicle;
  const register = unit({ unit: 'U', cylinders, systemVolts, batteryCcaA: Math.round(ccaA), fuel });
  return finishCranks([{ importId: 1, sha256: 'bench', table: measuredOf(log) }], register);
}

function measuredOf(log: Log): MeasuredTable {
  const finder = createCrankFinder();
  const tables: MeasuredTable[] = [];
  const take = ({ cranks }: ReturnType<typeof finder.end>) => tables.push(...cranks.map(({ measured }) => measured));
  for (let from = 0; from < log.count; from += BATCH) take(finder.push(batchOf(log, from)));
  take(finder.end());
  const whole = emptyTable(
    MEASURED_COLUMNS,
    tables.reduce((sum, { count }) => sum + count, 0),
  );
  let at = 0;
  for (const { count, columns } of tables) {
    for (const name of MEASURED_COLUMNS) whole.columns[name].set(columns[name], at);
    at += count;
  }
  return whole;
}

function batchOf(log: Log, from: number): SampleBatch {
  const to = Math.min(log.count, from + BATCH);
  const part = (series: Float64Array | null) => (series === null ? null : series.subarray(from, to));
  const records = log.record;
  return {
    count: to - from,
    names: ['U', ...Array.from({ length: 10 }, (_, k) => `record ${k}`)],
    unit: new Int32Array(to - from),
    position: null,
    record: records === null ? null : records.subarray(from, to).map((record) => record + 1),
    timeUs: log.timeUs.subarray(from, to),
    volts: log.volts.subarray(from, to),
    amps: part(log.amps),
    tempC: part(log.tempC),
    coolantC: null,
    rpm: part(log.rpm),
    startRequest: part(log.request),
    controlVolts: part(log.control),
    line: Float64Array.from({ length: to - from }, (_, i) => from + i + 2),
  };
}
