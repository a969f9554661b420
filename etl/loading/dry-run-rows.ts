import { MEASURED_COLUMNS, type CrankBatch } from '../model/crank.ts';
import { BUS_SIGNALS } from '../model/bus-signals.ts';
import type { SampleBatch } from '../model/samples.ts';
import { isoInstant } from '../model/time.ts';
import { OUTCOMES } from '../model/words.ts';
import type { LogSink, StoreSink } from './sink.ts';
import type { Lined } from '../readers/reader.ts';

/** A row as it was understood: the contract's field names, instants in UTC, empty where missing. */
export type UnderstoodRow = { line: number; fields: Record<string, string> };

/** Names that are not the field's own name in another writing. */
const FIELD_NAMES: Readonly<Record<string, string>> = {
  loggedRpm: 'crank_rpm',
  batteryCcaA: 'battery_cca',
  inServiceOn: 'in_service_date',
  outOfServiceOn: 'out_of_service_date',
  nextPmOn: 'next_pm_date',
  visitOn: 'date',
};
const LEFT_OUT = new Set(['line', 'source', 'quality', 'importId', 'unit', 'position', 'record']);

/** A sink that keeps the first rows and lets everything go on, so that what the search for cranks refuses is told too. */
export class FirstRows {
  readonly rows: UnderstoodRow[] = [];
  readonly #most: number;

  constructor(most: number) {
    this.#most = most;
  }

  /** What stands where a load has its store: it keeps nothing. */
  store(onSetAside: StoreSink['setAside']): StoreSink {
    const keep = async (rows: Lined<object>[]) => this.#keepRecords(rows);
    return {
      units: keep,
      fittedParts: keep,
      workOrders: keep,
      benchResults: keep,
      troubleCodes: keep,
      bays: keep,
      shopVisits: keep,
      cranks: async (batch) => this.#keepCranks(batch),
      found: async () => undefined,
      setAside: onSetAside,
    };
  }

  /** The same sink, looked over the shoulder for samples and readings of a bus. */
  watching(log: LogSink): LogSink {
    return {
      ...log,
      samples: async (batch) => {
        this.#keepSamples(batch);
        await log.samples(batch);
      },
      busSignals: async (batch) => {
        for (let at = 0; this.#open && at < batch.count; at++) {
          const fields = {
            unit: batch.unit,
            time: isoInstant(batch.timeUs[at]!),
            signal: BUS_SIGNALS[batch.signal[at]!]!,
            value: text('value', batch.value[at]),
          };
          this.rows.push({ line: batch.line[at]!, fields });
        }
        await log.busSignals(batch);
      },
    };
  }

  get #open(): boolean {
    return this.rows.length < this.#most;
  }

  #keepRecords(rows: readonly Lined<object>[]): void {
    for (const { line, row } of rows.slice(0, this.#most - this.rows.length)) {
      const cells = Object.entries(row).map(([name, value]) => [fieldName(name), text(name, value)]);
      this.rows.push({ line, fields: Object.fromEntries(cells) });
    }
  }

  #keepSamples({ count, names, unit, position, record, ...columns }: SampleBatch): void {
    for (let at = 0; this.#open && at < count; at++) {
      const fields: Record<string, string> = { unit: names[unit[at]!]! };
      if (position !== null) fields['position'] = names[position[at]!]!;
      if (record !== null) fields['record'] = names[record[at]!]!;
      addNumbers(fields, columns, at);
      this.rows.push({ line: columns.line[at]!, fields });
    }
  }

  #keepCranks({ count, names, unit, position, columns }: CrankBatch): void {
    for (let at = 0; this.#open && at < count; at++) {
      const fields: Record<string, string> = { unit: names[unit[at]!]! };
      if (position !== null) fields['position'] = names[position[at]!]!;
      const used = Object.fromEntries(MEASURED_COLUMNS.map((name) => [name, columns[name]] as const));
      addNumbers(fields, { ...used, outcome: null }, at, true);
      if (!Number.isNaN(columns.outcome[at]!)) fields['outcome'] = OUTCOMES[columns.outcome[at]!]!;
      this.rows.push({ line: columns.line[at]!, fields });
    }
  }
}

/** Columns that the file does not have stay out; a crank batch has all of them, so there missing values stay out. */
function addNumbers(
  fields: Record<string, string>,
  columns: Record<string, Float64Array | null>,
  at: number,
  dense = false,
): void {
  for (const [name, column] of Object.entries(columns)) {
    if (column === null || LEFT_OUT.has(name) || (dense && Number.isNaN(column[at]!))) continue;
    fields[fieldName(name)] = text(name, column[at]);
  }
}

/** `timeUs` → `time`, `restVolts` → `rest_volts`, `partsCostMinor` → `parts_cost`. */
function fieldName(name: string): string {
  const known = FIELD_NAMES[name];
  if (known !== undefined) return known;
  const bare = name.replace(/(Us|On|Minor)$/, '');
  return bare.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}

function text(name: string, value: unknown): string {
  if (value === null || value === undefined || Number.isNaN(value)) return '';
  if (typeof value === 'boolean') return value ? '1' : '0';
  if (typeof value !== 'number') return typeof value === 'string' ? value : JSON.stringify(value);
  if (name.endsWith('Us')) return isoInstant(value);
  return String(name.endsWith('Minor') ? value / 100 : value);
}
