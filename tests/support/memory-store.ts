import type { BacktestForecast } from '../../etl/model/backtest.ts';
import type { FinishedTable } from '../../etl/model/crank.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../etl/model/settings.ts';
import type { ReadingCorrection } from '../../etl/model/reading-correction.ts';
import type { SetAside } from '../../etl/model/set-aside.ts';
import type { Trend } from '../../etl/model/trend.ts';
import type { ShopVisit } from '../../etl/model/shop.ts';
import type { Engine, Unit } from '../../etl/model/unit.ts';
import { knownUs, workOrderAsKnown, type WorkOrder } from '../../etl/model/work-order.ts';
import type {
  Assessment,
  AssessmentHead,
  BacktestHead,
  Booking,
  Deferral,
  ImportRecord,
  RankedRow,
  Store,
} from '../../etl/store/store.ts';

export type MemoryContents = {
  imports?: ImportRecord[];
  units?: Unit[];
  engines?: Engine[];
  workOrders?: WorkOrder[];
  shopVisits?: ShopVisit[];
  setAside?: (SetAside & { file: string })[];
  unreadable?: { file: string; reason: string }[];
  waiting?: { unit: string; rows: number }[];
  finished?: Map<number, FinishedTable>;
  /** By `<engineId>-<crankUs>`. */
  waveforms?: Map<string, Uint8Array>;
  newestUs?: number | null;
};
export type MemoryStore = Store & { contents: MemoryContents };

/** A store in memory for tests of what stands on the Store type: reads what it is given, keeps what people type. */
export function memoryStore(contents: MemoryContents = {}): MemoryStore {
  const saved: { head: AssessmentHead; assessment: Assessment }[] = [];
  const rankings = new Map<string, { basis: string; rows: RankedRow[] }>();
  const typed = { settings: DEFAULT_SETTINGS, version: 0, bookings: [] as Booking[], deferrals: [] as Deferral[] };
  let corrections: ReadingCorrection[] = [];
  let corrected = 0;
  const withdraw = (unit: string, workOrder: string) => {
    corrected++;
    corrections = corrections.filter((each) => each.unit !== unit || each.workOrder !== workOrder);
  };
  let walked: { head: BacktestHead; forecasts: BacktestForecast[] } | null = null;
  const at = (label: string) => saved.find(({ head }) => head.asOf.label === label)?.assessment;
  const ofUnit = <Row extends { unit: string }>(rows: readonly Row[] | undefined, unit?: string) =>
    (rows ?? []).filter((row) => unit === undefined || row.unit === unit);
  const loads = () => Promise.reject(new Error('memory store requires rows given at its making, got a load'));
  return {
    contents,
    path: ':memory:',
    close: () => undefined,
    beginImport: loads,
    unload: loads,
    imports: async () => contents.imports ?? [],
    async *setAside(importId) {
      const file = (contents.imports ?? []).find((each) => each.importId === importId)?.file;
      yield* (contents.setAside ?? []).filter((row) => importId === undefined || row.file === file);
    },
    unreadable: async () => contents.unreadable ?? [],
    noteUnreadable: async () => undefined,
    waiting: async () => contents.waiting ?? [],
    engines: async () => contents.engines ?? [],
    engine: async (unit, position) =>
      (contents.engines ?? []).find((each) => each.unit === unit && each.position === position) ?? null,
    units: async () => contents.units ?? [],
    unit: async (unit) => (contents.units ?? []).find((each) => each.unit === unit) ?? null,
    fittedParts: async () => [],
    benchResults: async () => [],
    troubleCodes: async () => [],
    bays: async () => [],
    shopVisits: async (unit) => ofUnit(contents.shopVisits, unit),
    workOrders: async (asOfUs, unit) =>
      ofUnit(contents.workOrders, unit)
        .filter((order) => knownUs(order) <= asOfUs)
        .flatMap((order) => workOrderAsKnown(order, asOfUs) ?? []),
    inputsVersion: async () => `inputs-${(contents.imports ?? []).length}${corrected === 0 ? '' : `-${corrected}`}`,
    newestKnownUs: async () => contents.newestUs ?? null,
    staleEngines: async () => [],
    staleRows: async () => 0,
    standing: async () => ({ mark: null, answered: null }),
    measured: async () => [],
    writeFinished: loads,
    writeFinishedAll: loads,
    finished: async (engine) => contents.finished?.get(engine.engineId) ?? null,
    waveform: async (engine, crankUs) => contents.waveforms?.get(`${engine.engineId}-${crankUs}`) ?? null,
    waveformTimes: async (engine) =>
      Float64Array.from(
        [...(contents.waveforms ?? new Map<string, Uint8Array>()).keys()]
          .filter((id) => id.startsWith(`${engine.engineId}-`))
          .map((id) => Number(id.split('-')[1])),
      ),
    saveAssessment: async (assessment, computedUs, inputs) => {
      saved.push({
        head: { asOf: assessment.asOf, computedUs, inputs, reassessedUs: null, rankingBasis: null },
        assessment,
      });
      saved.sort((a, b) => b.head.asOf.us - a.head.asOf.us);
    },
    assessments: async () => saved.map(({ head }) => head),
    lives: async (label, unit) => ofUnit(at(label)?.lives, unit),
    trends: async (label, unit) => ofUnit<Trend>(at(label)?.trends, unit),
    outlooks: async (label, unit) => ofUnit(at(label)?.outlooks, unit),
    fleet: async (label) => at(label)?.fleet ?? null,
    saveRanking: async (label, basis, rows) => {
      rankings.set(label, { basis, rows });
    },
    ranking: async (label) => rankings.get(label) ?? null,
    saveReassessed: loads,
    reassessed: async () => [],
    mergeRanking: loads,
    saveBacktest: async ({ forecasts, ...summary }, computedUs, inputs) => {
      walked = { head: { summary, computedUs, inputs }, forecasts };
    },
    backtest: async () => walked?.head ?? null,
    backtestForecasts: async (unit) => ofUnit(walked?.forecasts, unit),
    settings: async () => typed.settings,
    saveSettings: async (patch) => {
      typed.version++;
      const named = Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined));
      typed.settings = { ...typed.settings, ...named } satisfies Settings;
      return typed.settings;
    },
    settingsVersion: async () => `settings-${typed.version}`,
    bookings: async () => typed.bookings,
    addBooking: async (booking) => {
      typed.version++;
      typed.bookings.push({ ...booking, bookingId: typed.bookings.length + 1, withdrawnUs: null });
      return typed.bookings.at(-1)!;
    },
    withdrawBooking: async (bookingId, atUs) => {
      typed.version++;
      typed.bookings = typed.bookings.map((each) =>
        each.bookingId === bookingId ? { ...each, withdrawnUs: atUs } : each,
      );
    },
    deferrals: async () => typed.deferrals,
    addDeferral: async (deferral) => {
      typed.version++;
      typed.deferrals.push({ ...deferral, deferralId: typed.deferrals.length + 1, withdrawnUs: null });
      return typed.deferrals.at(-1)!;
    },
    withdrawDeferral: async (deferralId, atUs) => {
      typed.version++;
      typed.deferrals = typed.deferrals.map((each) =>
        each.deferralId === deferralId ? { ...each, withdrawnUs: atUs } : each,
      );
    },
    readingCorrections: async (unit) => ofUnit(corrections, unit),
    correctReading: async (correction) => {
      withdraw(correction.unit, correction.workOrder);
      corrections.push({ ...correction, correctionId: corrected, withdrawnUs: null });
      return corrections.at(-1)!;
    },
    withdrawReading: async (unit, workOrder) => withdraw(unit, workOrder),
    unitAliases: async () => [],
    addUnitAlias: loads,
    withdrawUnitAliases: loads,
    unitDistinctions: async () => [],
    addUnitDistinctions: loads,
    withdrawUnitDistinctions: loads,
    unitName: async (spelling) => spelling,
    backup: loads,
  };
}
