import type { BenchResult } from '../model/bench-result.ts';
import type { BusSignalBatch } from '../model/bus-signals.ts';
import type { CrankBatch } from '../model/crank.ts';
import type { ImportProfile } from '../model/import-profile.ts';
import type { Kind } from '../model/kinds.ts';
import type { FittedPart } from '../model/part.ts';
import type { SampleBatch } from '../model/samples.ts';
import type { SetAside } from '../model/set-aside.ts';
import type { Bay, ShopVisit } from '../model/shop.ts';
import type { TroubleCode } from '../model/trouble-code.ts';
import type { Unit } from '../model/unit.ts';
import type { WorkOrder } from '../model/work-order.ts';
import type { ColumnTable } from './columns/column-table.ts';
import type { GuessedProfile } from './profile/guessed-profile.ts';

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
  benchResults(rows: Lined<BenchResult>[]): Promise<void>;
  troubleCodes(rows: Lined<TroubleCode>[]): Promise<void>;
  bays(rows: Lined<Bay>[]): Promise<void>;
  shopVisits(rows: Lined<ShopVisit>[]): Promise<void>;
  cranks(batch: CrankBatch): Promise<void>;
  samples(batch: SampleBatch): Promise<void>;
  busSignals(batch: BusSignalBatch): Promise<void>;
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

export type ReadOptions = {
  /** The clock, for a reader that has to tell a logger's clock is ahead. Without it no time is too late. */
  nowUs?: number;
  /** How a foreign file is to be read; null or absent for files with the contract's own columns. */
  profile?: ImportProfile | null;
};

/** Bytes of a file as they come (already unzipped, BOM still there). Chunks may be reused after the next is asked for. */
export type ByteStream = AsyncIterable<Uint8Array>;

/** A kind of table: how the rows of its columns are read. Column names are trimmed and lower-cased. */
export type TableReader = {
  name: string;
  kind: Kind;
  /** Raised when the same bytes would be read differently; part of a file's identity. */
  version: number;
  /** The columns that make it; `orNeeded` does as well. */
  needed: readonly string[];
  orNeeded?: readonly string[];
  /** Reads text as CSV, header included. Throws UnreadableFile for a file that cannot be read at all. */
  read(bytes: ByteStream, sink: ReaderSink, options?: ReadOptions): Promise<ReadReport>;
  /** Reads columns that stand in another shape of file, with the same result as the same table in CSV. */
  readTable(table: ColumnTable, sink: ReaderSink, options?: ReadOptions): Promise<ReadReport>;
};

/** A file to be read: where it lies, and its bytes, which a reader may also leave alone and open the path itself. */
export type OpenedFile = { path: string; bytes: ByteStream };

/** What reads one file, once its shape and kind are known. Name and version are part of the file's identity. */
export type Reader = {
  name: string;
  kind: Kind;
  version: number;
  /** Whether the profile had a part in it: then the profile's hash is part of the file's identity too. */
  byProfile?: boolean;
  /** What a profile could make of the file, where it bears the contract's columns and few of its rows can be used. */
  guess?: () => GuessedProfile | null;
  read(file: OpenedFile, sink: ReaderSink, options?: ReadOptions): Promise<ReadReport>;
};

/** The beginning of a file, unzipped, at most 64 KiB. */
export type FileStart = { path: string; bytes: Uint8Array };

/** The reader for a file, or why there is none, in words that say what to do, and the profile that might read it. */
export type Sniffed = { reader: Reader } | { unrecognised: string; guess?: GuessedProfile };

/** One foreign shape of file (CSV, a column store, a bus log): told by how it begins. */
export type FileShape = {
  name: string;
  recognises(start: FileStart): boolean;
  readerOf(start: FileStart, options?: ReadOptions): Promise<Sniffed>;
};
