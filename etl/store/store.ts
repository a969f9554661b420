import type { Backtest, BacktestForecast, BacktestSummary } from '../model/backtest.ts';
import type { BenchResult } from '../model/bench-result.ts';
import type { FinishedTable, KeptWaveform, MeasuredTable, CrankBatch } from '../model/crank.ts';
import type { Outlook } from '../model/outlook.ts';
import type { FittedPart } from '../model/part.ts';
import type { ServiceLife } from '../model/service-life.ts';
import type { ReadingCorrection } from '../model/reading-correction.ts';
import type { SetAside } from '../model/set-aside.ts';
import type { Settings } from '../model/settings.ts';
import type { Bay, ShopVisit } from '../model/shop.ts';
import type { AsOf } from '../model/time.ts';
import type { Trend } from '../model/trend.ts';
import type { TroubleCode } from '../model/trouble-code.ts';
import type { Engine, Unit } from '../model/unit.ts';
import type { UnitAlias, UnitDistinction } from '../model/unit-alias.ts';
import type { Action, ForecastComponent } from '../model/words.ts';
import type { WorkOrder } from '../model/work-order.ts';
import type { Kind } from '../model/kinds.ts';
import type { Lined } from '../readers/reader.ts';

/** A file that was loaded, or is being loaded. Its identity is bytes + profile + reader version. */
export type ImportRecord = {
  importId: number;
  file: string;
  kind: Kind;
  sha256: string;
  bytes: number;
  /** Hash of the import profile; '' without one. */
  profile: string;
  reader: string;
  readerVersion: number;
  state: 'loading' | 'live';
  taken: number;
  setAside: number;
  unknownColumns: string[];
  loadedUs: number | null;
};

export type ImportStart = Pick<ImportRecord, 'file' | 'kind' | 'bytes' | 'profile' | 'reader' | 'readerVersion'>;

/**
 * Writes one file in short batches under a load id that no query sees until `commit` flips it.
 * Left unfinished (a kill), its rows are swept the next time a store is opened for writing.
 */
export type ImportWriter = {
  /** Null until the first rows are written, at the latest with `commit`. */
  readonly importId: number | null;
  units(rows: Lined<Unit>[]): Promise<void>;
  fittedParts(rows: Lined<FittedPart>[]): Promise<void>;
  workOrders(rows: Lined<WorkOrder>[]): Promise<void>;
  benchResults(rows: Lined<BenchResult>[]): Promise<void>;
  troubleCodes(rows: Lined<TroubleCode>[]): Promise<void>;
  bays(rows: Lined<Bay>[]): Promise<void>;
  shopVisits(rows: Lined<ShopVisit>[]): Promise<void>;
  cranks(batch: CrankBatch): Promise<void>;
  /** Measured cranks of one engine, from a waveform. */
  measured(unit: string, position: string, table: MeasuredTable): Promise<void>;
  waveforms(kept: KeptWaveform[]): Promise<void>;
  /** All are counted by the caller; at most 10,000 a file are kept in detail. */
  setAside(rows: SetAside[]): Promise<void>;
  /** `already` when a live import holds the same bytes: this one's rows are dropped. */
  commit(end: {
    sha256: string;
    taken: number;
    setAside: number;
    unknownColumns: string[];
    loadedUs: number;
  }): Promise<'live' | 'already'>;
  abandon(): Promise<void>;
};

/** The stale mark of an engine, if it is stale, and the mark that its block answered. */
export type EngineStanding = { mark: number | null; answered: number | null };

/** What is written of an engine, and how it stood before its rows were read. */
export type FinishedWrite = { engine: Engine; table: FinishedTable; keep: Float64Array; standing?: EngineStanding };

/** Every measured row of one engine, file by file, with what decides between two files. */
export type MeasuredSource = { importId: number; sha256: string; table: MeasuredTable };
/** … and under which spelling of its unit. */
export type SpelledSource = MeasuredSource & { spelling: string };

/**
 * A stored assessment's head. `inputs` changes whenever a file is loaded or taken back. `reassessedUs`: when units were
 * last computed anew with the fleet's parameters of `computedUs`; null while none was. `rankingBasis`: what its
 * ranking rests on beside it, as whoever ranked it says; null while it has none.
 */
export type AssessmentHead = {
  asOf: AsOf;
  computedUs: number;
  inputs: string;
  reassessedUs: number | null;
  rankingBasis: string | null;
};

/** One unit's part of an assessment, computed anew as of a day of its own. */
export type ReassessedUnit = Pick<Assessment, 'lives' | 'trends' | 'outlooks'> & { unit: string; asOf: AsOf };
/** Which unit of an assessment was computed anew, as of when. */
export type Reassessed = Pick<ReassessedUnit, 'unit' | 'asOf'> & { computedUs: number };

export type Assessment = {
  asOf: AsOf;
  lives: ServiceLife[];
  trends: Trend[];
  outlooks: Outlook[];
  /** What was fitted on the whole fleet, JSON-able, so that one unit can be shown and re-assessed without the fleet. */
  fleet: unknown;
};

/** A stored backtest's head: everything but its forecasts. */
export type BacktestHead = { summary: BacktestSummary; computedUs: number; inputs: string };

export type RankedRow = {
  rank: number;
  unit: string;
  position: string;
  depot: string;
  component: ForecastComponent;
  action: Action;
  actByOn: string | null;
  pFailToNextVisit: number | null;
  costNowMinor: number | null;
  costOfWaitingMinor: number | null;
  roadCallRisk: number | null;
  nextVisitOn: string;
  nextVisitFrom: 'booked' | 'shop_visit' | 'maintenance' | 'assumed';
  reason: string;
};

/** What decides about a row's place in a ranking. */
export type RankKey = Pick<RankedRow, 'unit' | 'position' | 'component' | 'costOfWaitingMinor' | 'roadCallRisk'>;
export type RankOrder = (a: RankKey, b: RankKey) => number;
/** Units that were ranked anew, and their rows. */
export type RankedUnits = { units: ReadonlySet<string>; rows: readonly RankedRow[] };

/** What people typed: never touched by load, assess or unload. */
export type Booking = {
  bookingId: number;
  unit: string;
  position: string;
  component: ForecastComponent;
  bookedOn: string;
  note: string;
  createdUs: number;
  withdrawnUs: number | null;
};
export type Deferral = {
  deferralId: number;
  unit: string;
  position: string;
  component: ForecastComponent;
  untilOn: string;
  reason: string;
  createdUs: number;
  withdrawnUs: number | null;
};

/**
 * The store, as the rest of the program sees it. Only `etl/store/` knows drizzle and a database. Every method is
 * awaited, so that another database can stand behind it. Reads never wait for a writer; there is one writer at a time
 * and it is held only for one batch.
 */
export type Store = {
  readonly path: string;
  close(): void;

  // ── loaded from files ──
  beginImport(start: ImportStart): Promise<ImportWriter>;
  /** Live imports, oldest first. */
  imports(): Promise<ImportRecord[]>;
  /** Takes a file back; its engines become stale. Throws RangeError for an id that is not live. */
  unload(importId: number): Promise<ImportRecord>;
  /** Of all files, those that could not be read included, or of one import. */
  setAside(importId?: number): AsyncIterable<SetAside & { file: string }>;
  /** Files that could not be read when they were last met, with the reason. */
  unreadable(): Promise<{ file: string; reason: string }[]>;
  /** Remembers which of the files that a load met could not be read, and forgets it of the others. */
  noteUnreadable(met: {
    unreadable: readonly { file: string; reason: string }[];
    readable: readonly string[];
  }): Promise<void>;
  /** Units that rows wait for: named by cranks, orders or parts, but not in the register. */
  waiting(): Promise<{ unit: string; rows: number }[]>;
  engines(unit?: string): Promise<Engine[]>;
  engine(unit: string, position: string): Promise<Engine | null>;
  /** The register as known then: of two rows for a unit the later entered wins, at a tie the greater content hash. */
  units(asOfUs?: number, unit?: string): Promise<Unit[]>;
  unit(unit: string): Promise<Unit | null>;
  fittedParts(asOfUs: number, unit?: string): Promise<FittedPart[]>;
  /** As known then (`workOrderAsKnown` applied), one per number and unit, by the same rule of the later known. */
  workOrders(asOfUs: number, unit?: string): Promise<WorkOrder[]>;
  /** Known at `entered`, else when it was measured; one per unit, position, instant and test. */
  benchResults(asOfUs: number, unit?: string): Promise<BenchResult[]>;
  /** Stored up to then, each once. */
  troubleCodes(asOfUs: number, unit?: string): Promise<TroubleCode[]>;
  /** Open hours; one per depot, bay and weekday. */
  bays(): Promise<Bay[]>;
  /** Planned visits; one per unit and day. */
  shopVisits(unit?: string): Promise<ShopVisit[]>;
  /** Changes with every flip and unload, and with how people say records are read; the ETag of everything derived. */
  inputsVersion(): Promise<string>;
  /** Newest accepted crank or record that is not later than the limit; null in an empty store. */
  newestKnownUs(limitUs: number): Promise<number | null>;

  // ── cranks: rows are the truth, blocks are derived ──
  staleEngines(): Promise<Engine[]>;
  /** Measured rows of all stale engines: how much there is to finish. */
  staleRows(): Promise<number>;
  standing(engine: Engine): Promise<EngineStanding>;
  measured(engine: Engine): Promise<SpelledSource[]>;
  /**
   * Replaces the engine's block, prunes waveforms that are not in `keep` (onsets, µs), clears its stale mark. Does
   * nothing where the engine's rows have changed since `measured` read them: whoever changed them finishes them.
   * `standing`: how the engine stood before the rows were read, where another connection read them.
   */
  writeFinished(engine: Engine, table: FinishedTable, keep: Float64Array, standing?: EngineStanding): Promise<void>;
  /** The same for several engines at once, in one transaction. */
  writeFinishedAll(engines: readonly FinishedWrite[]): Promise<void>;
  finished(engine: Engine): Promise<FinishedTable | null>;
  waveform(engine: Engine, crankUs: number): Promise<Uint8Array | null>;
  /** Onsets (µs) of the engine's kept waveforms, ascending. */
  waveformTimes(engine: Engine): Promise<Float64Array>;

  // ── derived by assess ──
  saveAssessment(assessment: Assessment, computedUs: number, inputs: string): Promise<void>;
  /** Newest as-of first. */
  assessments(): Promise<AssessmentHead[]>;
  lives(asOfLabel: string, unit?: string): Promise<ServiceLife[]>;
  trends(asOfLabel: string, unit?: string): Promise<Trend[]>;
  outlooks(asOfLabel: string, unit?: string): Promise<Outlook[]>;
  fleet(asOfLabel: string): Promise<unknown>;
  saveRanking(asOfLabel: string, basis: string, rows: RankedRow[]): Promise<void>;
  /** Puts units' lives, trends and outlooks in place of those that they had in an assessment. */
  saveReassessed(asOfLabel: string, units: readonly ReassessedUnit[], computedUs: number): Promise<void>;
  /** Units of an assessment that were computed anew after it, by unit. */
  reassessed(asOfLabel: string): Promise<Reassessed[]>;
  /**
   * Puts units' ranked rows in place of those that they had, where `order` has them; all others move up or down. A unit
   * without rows is no longer ranked.
   */
  mergeRanking(asOfLabel: string, ranked: RankedUnits, order: RankOrder): Promise<void>;
  ranking(asOfLabel: string): Promise<{ basis: string; rows: RankedRow[] } | null>;

  // ── derived by backtest: the newest walk replaces the one before ──
  saveBacktest(backtest: Backtest, computedUs: number, inputs: string): Promise<void>;
  backtest(): Promise<BacktestHead | null>;
  /** By origin, unit, position and component; none where nothing was walked. */
  backtestForecasts(unit?: string): Promise<BacktestForecast[]>;

  // ── typed by people ──
  settings(): Promise<Settings>;
  /** Merges a patch over what stands and returns the whole; changes `settingsVersion`. */
  saveSettings(patch: Partial<Settings>): Promise<Settings>;
  /** Changes whenever settings, bookings or deferrals change. */
  settingsVersion(): Promise<string>;
  bookings(): Promise<Booking[]>;
  addBooking(booking: Omit<Booking, 'bookingId' | 'withdrawnUs'>): Promise<Booking>;
  withdrawBooking(bookingId: number, atUs: number): Promise<void>;
  deferrals(): Promise<Deferral[]>;
  addDeferral(deferral: Omit<Deferral, 'deferralId' | 'withdrawnUs'>): Promise<Deferral>;
  withdrawDeferral(deferralId: number, atUs: number): Promise<void>;
  /** Corrections that stand, of all records or of one unit's. */
  readingCorrections(unit?: string): Promise<ReadingCorrection[]>;
  /** Withdraws the one that stood for the record. */
  correctReading(correction: Omit<ReadingCorrection, 'correctionId' | 'withdrawnUs'>): Promise<ReadingCorrection>;
  /** Throws RangeError where none stands. */
  withdrawReading(unit: string, workOrder: string, atUs: number): Promise<void>;

  /** Those that stand, in the order in which they came. */
  unitAliases(): Promise<UnitAlias[]>;
  /** Its rows count as the unit's from then on, and its engines are stale. The same pair twice changes nothing. */
  addUnitAlias(alias: Pick<UnitAlias, 'spelling' | 'unit' | 'createdUs'>): Promise<UnitAlias>;
  /** Takes back every alias that names the spelling, and returns them. Throws RangeError where none does. */
  withdrawUnitAliases(spelling: string, atUs: number): Promise<UnitAlias[]>;
  /** Those that stand, in the order in which they came. */
  unitDistinctions(): Promise<UnitDistinction[]>;
  /** All of them or none. A pair that stands, either way round, is left as it is. Returns those of the pairs that stand. */
  addUnitDistinctions(pairs: readonly (readonly [string, string])[], atUs: number): Promise<UnitDistinction[]>;
  withdrawUnitDistinctions(distinctionIds: readonly number[], atUs: number): Promise<UnitDistinction[]>;
  /** What the unit of a spelling goes by: the spelling itself where nobody says that it is another's. */
  unitName(spelling: string): Promise<string>;

  /** A consistent copy while the store is in use. Throws if `file` exists. */
  backup(file: string): Promise<void>;
};
