import type { CrankBatch } from '../model/crank.ts';
import type { Kind } from '../model/kinds.ts';
import type { FittedPart } from '../model/part.ts';
import type { SampleBatch } from '../model/samples.ts';
import type { SetAside } from '../model/set-aside.ts';
import type { Unit } from '../model/unit.ts';
import type { WorkOrder } from '../model/work-order.ts';

/** A row with the line it stood on. */
export type Lined<Row> = { line: number; row: Row };

/**
 * Where a reader puts what it reads. Each call is awaited before the next batch is made, so that a slow store slows
 * the reader and memory stays bounded; the arrays of a batch are filled anew after the call returns.
 */
export type ReaderSink = {
  units(rows: Lined<Unit>[]): Promise<void>;
  fittedParts(rows: Lined<FittedPart>[]): Promise<void>;
  workOrders(rows: Lined<WorkOrder>[]): Promise<void>;
  cranks(batch: CrankBatch): Promise<void>;
  samples(batch: SampleBatch): Promise<void>;
  setAside(rows: SetAside[]): Promise<void>;
  /** Bytes of the file (as on disk) consumed so far; told by whoever opened the file (`openBytes`), not by a reader. */
  progress(bytes: number): void;
};

export type ReadReport = {
  kind: Kind;
  /** Data rows used. */
  taken: number;
  setAside: number;
  /** Columns that the kind does not know: kept aside, named in the import report. */
  unknownColumns: string[];
  /** What a person should look at although the row was used, such as a mistyped VIN. At most 100. */
  notes: string[];
};

/** The clock, for a reader that has to tell a logger's clock is ahead. Without it no time is too late. */
export type ReadOptions = { nowUs?: number };

/** Bytes of a file as they come (already unzipped, BOM still there). Chunks may be reused after the next is asked for. */
export type ByteStream = AsyncIterable<Uint8Array>;

/** One foreign shape. `recognises` sees the header's column names, trimmed and lower-cased. */
export type Reader = {
  name: string;
  kind: Kind;
  /** Raised when the same bytes would be read differently; part of a file's identity. */
  version: number;
  recognises(columns: readonly string[]): boolean;
  /** Reads the whole stream, header included. Throws UnreadableFile for a file that cannot be read at all. */
  read(bytes: ByteStream, sink: ReaderSink, options?: ReadOptions): Promise<ReadReport>;
};
