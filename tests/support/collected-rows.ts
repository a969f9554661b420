import type { BenchResult } from '../../etl/model/bench-result.ts';
import { BUS_SIGNALS } from '../../etl/model/bus-signals.ts';
import type { FittedPart } from '../../etl/model/part.ts';
import type { SetAside } from '../../etl/model/set-aside.ts';
import type { Bay, ShopVisit } from '../../etl/model/shop.ts';
import type { TroubleCode } from '../../etl/model/trouble-code.ts';
import type { Unit } from '../../etl/model/unit.ts';
import type { WorkOrder } from '../../etl/model/work-order.ts';
import type { ByteStream, Lined, ReadReport, ReaderSink, TableReader } from '../../etl/readers/reader.ts';

/** One row of numbers of a waveform or crank file, with its names spelled out. */
export type CollectedRow = Record<string, number | string>;

export type Collected = {
  report: ReadReport;
  samples: CollectedRow[];
  cranks: CollectedRow[];
  units: Lined<Unit>[];
  parts: Lined<FittedPart>[];
  orders: Lined<WorkOrder>[];
  benchResults: Lined<BenchResult>[];
  codes: Lined<TroubleCode>[];
  bays: Lined<Bay>[];
  visits: Lined<ShopVisit>[];
  /** Readings of a bus, one row each, `signal` by its name. */
  signals: CollectedRow[];
  setAside: SetAside[];
  /** Rows of the largest batch of set-aside rows. */
  largestSetAside: number;
};

/** Reads a stream to its end and keeps everything that the reader hands on. */
export async function collect(
  reader: Pick<TableReader, 'read'>,
  bytes: ByteStream,
  nowUs?: number,
): Promise<Collected> {
  return collectInto((sink) => reader.read(bytes, sink, nowUs === undefined ? {} : { nowUs }));
}

/** Keeps everything that a reading hands on. */
export async function collectInto(read: (sink: ReaderSink) => Promise<ReadReport>): Promise<Collected> {
  const kept: Omit<Collected, 'report'> = {
    samples: [],
    cranks: [],
    units: [],
    parts: [],
    orders: [],
    benchResults: [],
    codes: [],
    bays: [],
    visits: [],
    signals: [],
    setAside: [],
    largestSetAside: 0,
  };
  const report = await read(sinkInto(kept));
  return { report, ...kept };
}

function sinkInto(kept: Omit<Collected, 'report'>): ReaderSink {
  return {
    units: async (rows) => void kept.units.push(...rows),
    fittedParts: async (rows) => void kept.parts.push(...rows),
    workOrders: async (rows) => void kept.orders.push(...rows),
    benchResults: async (rows) => void kept.benchResults.push(...rows),
    troubleCodes: async (rows) => void kept.codes.push(...rows),
    bays: async (rows) => void kept.bays.push(...rows),
    shopVisits: async (rows) => void kept.visits.push(...rows),
    async samples({ count, names, unit, position, record, ...columns }) {
      kept.samples.push(...rowsOf({ count, names }, { unit, position, record }, columns));
    },
    async cranks({ count, names, unit, position, columns }) {
      kept.cranks.push(...rowsOf({ count, names }, { unit, position }, columns));
    },
    async busSignals({ count, unit, signal, timeUs, value, line }) {
      for (let at = 0; at < count; at += 1)
        kept.signals.push({
          unit,
          signal: BUS_SIGNALS[signal[at]!]!,
          timeUs: timeUs[at]!,
          value: value[at]!,
          line: line[at]!,
        });
    },
    async setAside(rows) {
      kept.largestSetAside = Math.max(kept.largestSetAside, rows.length);
      kept.setAside.push(...rows);
    },
    progress: () => undefined,
  };
}

function rowsOf(
  { count, names }: { count: number; names: readonly string[] },
  named: Record<string, Int32Array | null>,
  measured: Record<string, Float64Array | null>,
): CollectedRow[] {
  return Array.from({ length: count }, (_, at) => {
    const row: CollectedRow = {};
    for (const [field, column] of Object.entries(named)) if (column !== null) row[field] = names[column[at]!]!;
    for (const [field, column] of Object.entries(measured)) if (column !== null) row[field] = column[at]!;
    return row;
  });
}

/** The same bytes cut at the given places; each chunk in a buffer of its own that is wiped once the next is asked for. */
export async function* cutAt(bytes: Uint8Array, places: readonly number[]): ByteStream {
  const cuts = [0, ...places.map((place) => Math.min(place, bytes.length)).sort((a, b) => a - b), bytes.length];
  for (let index = 1; index < cuts.length; index += 1) {
    const chunk = Uint8Array.from(bytes.subarray(cuts[index - 1], cuts[index]));
    yield chunk;
    chunk.fill(0xff);
  }
}

/** A text as a stream of one chunk. */
export function textStream(text: string): ByteStream {
  return cutAt(Buffer.from(text), []);
}
