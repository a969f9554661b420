import { BUS_SIGNALS, type BusSignal, type BusSignalBatch } from '../../etl/model/bus-signals.ts';
import { MEASURED_COLUMNS, type MeasuredColumn } from '../../etl/model/crank.ts';
import { OUTCOMES, PATTERNS, qualityWords, SOURCES } from '../../etl/model/words.ts';
import { createCanCranks } from '../../etl/signal/can-cranks.ts';

export const BEGIN_US = 1_772_344_800e6;

/** One reading: seconds from the beginning, signal, value. */
export type BusReading = [seconds: number, signal: BusSignal, value: number];

/** Readings of one signal at a steady rate over [from, to). */
export function every(
  step: number,
  [from, to]: [number, number],
  signal: BusSignal,
  value: number | ((seconds: number) => number),
): BusReading[] {
  return Array.from({ length: Math.round((to - from) / step) }, (_, index) => {
    const at = from + index * step;
    return [at, signal, typeof value === 'number' ? value : value(at)];
  });
}

export type FoundRow = Record<MeasuredColumn, number> & { words: string; seconds: number; what: string };

/** Cranks of readings, which are put in order of time; line n is the nth reading. */
export function cranksOfBus(readings: readonly BusReading[], batchRows = 500): FoundRow[] {
  const sorted = [...readings].sort((a, b) => a[0] - b[0]);
  const canCranks = createCanCranks();
  const found = [];
  for (let from = 0; from < sorted.length; from += batchRows)
    found.push(...canCranks.push(batchOf(sorted.slice(from, from + batchRows), from)));
  found.push(...canCranks.end());
  return found.flatMap(({ measured }) =>
    Array.from({ length: measured.count }, (_, at) => rowAt(measured.columns, at)),
  );
}

function batchOf(readings: readonly BusReading[], before: number): BusSignalBatch {
  return {
    unit: 'T-1',
    position: '',
    count: readings.length,
    signal: Uint8Array.from(readings, ([, signal]) => BUS_SIGNALS.indexOf(signal)),
    timeUs: Float64Array.from(readings, ([seconds]) => Math.round(BEGIN_US + seconds * 1e6)),
    value: Float64Array.from(readings, ([, , value]) => value),
    line: Float64Array.from(readings, (_, index) => before + index + 1),
  };
}

/** A row with onset in seconds, its quality in words, and source, pattern so far and outcome in one word each. */
function rowAt(columns: Record<MeasuredColumn, Float64Array>, at: number): FoundRow {
  const entries = MEASURED_COLUMNS.map((name) => [name, columns[name][at]!]);
  const row = Object.fromEntries(entries) as Record<MeasuredColumn, number>;
  const word = (words: readonly string[], index: number) => words[index] ?? '-';
  return {
    ...row,
    words: qualityWords(row.quality),
    seconds: (row.timeUs - BEGIN_US) / 1e6,
    what: [word(SOURCES, row.source), word(PATTERNS, row.form), word(OUTCOMES, row.outcome)].join(' '),
  };
}
