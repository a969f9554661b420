/**
 * What files hold, row by row, exactly as it was read: the truth from which everything derived can be computed anew.
 * Every row belongs to an import and counts only while that import is `live`.
 */
import { blob, index, integer, primaryKey, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { MEASURED_COLUMNS, type MeasuredColumn } from '../../model/crank.ts';
import type { Unit } from '../../model/unit.ts';
import { COMPONENTS } from '../../model/words.ts';
import { KINDS } from '../../model/kinds.ts';

export const imports = sqliteTable(
  'imports',
  {
    /** Never used twice: an id also serves as the mark that a flip leaves on its engines. */
    importId: integer('import_id').primaryKey({ autoIncrement: true }),
    kind: text('kind', { enum: KINDS }).notNull(),
    /** Null until the last byte has been read. */
    sha256: text('sha256'),
    bytes: integer('bytes').notNull(),
    profile: text('profile').notNull(),
    reader: text('reader').notNull(),
    readerVersion: integer('reader_version').notNull(),
    /** `dropped`: invisible from that moment on, its rows are deleted in short batches afterwards. */
    state: text('state', { enum: ['loading', 'live', 'dropped'] }).notNull(),
    /** The process that loads it; '' for none. */
    loader: text('loader').notNull(),
    taken: integer('taken').notNull(),
    setAside: integer('set_aside').notNull(),
    unknownColumns: text('unknown_columns', { mode: 'json' }).$type<string[]>().notNull(),
    loadedUs: integer('loaded_us'),
  },
  (table) => [index('imports_sha256').on(table.sha256)],
);

const importId = () =>
  integer('import_id')
    .notNull()
    .references(() => imports.importId);

/** Every path under which the same bytes were met; the first in alphabetical order names the import. */
export const importFiles = sqliteTable(
  'import_files',
  { importId: importId(), file: text('file').notNull() },
  (table) => [primaryKey({ columns: [table.importId, table.file] })],
);

/** Dictionary: a crank row carries a small number in place of unit and position. */
export const engines = sqliteTable(
  'engines',
  {
    engineId: integer('engine_id').primaryKey({ autoIncrement: true }),
    unit: text('unit').notNull(),
    position: text('position').notNull(),
  },
  (table) => [uniqueIndex('engines_unit_position').on(table.unit, table.position)],
);

const engineId = () =>
  integer('engine_id')
    .notNull()
    .references(() => engines.engineId);

/** Which engines an import has cranks of, so that no query and no deletion scans the fleet. */
export const importEngines = sqliteTable(
  'import_engines',
  { importId: importId(), engineId: engineId(), rows: integer('rows').notNull() },
  (table) => [
    primaryKey({ columns: [table.importId, table.engineId] }),
    index('import_engines_engine').on(table.engineId),
  ],
);

function snakeCase(name: string): string {
  return name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}

export type MeasureColumn = Exclude<MeasuredColumn, 'timeUs' | 'line'>;
/** The measured columns that are not part of the key. */
export const MEASURE_COLUMNS = MEASURED_COLUMNS.filter((name) => name !== 'timeUs' && name !== 'line');

function measures() {
  const columns = Object.fromEntries(MEASURE_COLUMNS.map((name) => [name, real(snakeCase(name))]));
  return columns as Record<MeasureColumn, ReturnType<typeof real<string>>>;
}

/**
 * Measured cranks. WITHOUT ROWID (in the migration, as drizzle has no word for it): rows lie in the order of their key.
 * The import comes first, so that a file is written, and swept, on pages of its own: by engine first, each row of a
 * day's file of the whole fleet would touch another page. An engine is read by one look-up an import. No foreign keys: they would be looked up for each of millions of rows, and
 * `import_engines`, written in the same transaction, carries them.
 */
export const crankRows = sqliteTable(
  'crank_rows',
  {
    importId: integer('import_id').notNull(),
    engineId: integer('engine_id').notNull(),
    timeUs: integer('time_us').notNull(),
    line: integer('line').notNull(),
    ...measures(),
  },
  (table) => [primaryKey({ columns: [table.importId, table.engineId, table.timeUs, table.line] })],
);

export const waveforms = sqliteTable(
  'waveforms',
  {
    engineId: engineId(),
    crankUs: integer('crank_us').notNull(),
    importId: importId(),
    sampleCount: integer('sample_count').notNull(),
    samples: blob('samples', { mode: 'buffer' }).notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.engineId, table.crankUs, table.importId] }),
    index('waveforms_import').on(table.importId),
  ],
);

/** The line of the file, and the hash of the row's content that decides where two are known equally late. */
const origin = () => ({
  importId: importId(),
  line: integer('line').notNull(),
  contentHash: text('content_hash').notNull(),
});

export const unitRows = sqliteTable(
  'unit_rows',
  {
    ...origin(),
    unit: text('unit').notNull(),
    depot: text('depot').notNull(),
    class: text('class').notNull(),
    systemVolts: integer('system_volts').$type<Unit['systemVolts']>().notNull(),
    batteryCount: integer('battery_count').notNull(),
    batteryCcaA: real('battery_cca_a').notNull(),
    cylinders: integer('cylinders').notNull(),
    fuel: text('fuel').$type<NonNullable<Unit['fuel']>>(),
    vin: text('vin'),
    inServiceOn: text('in_service_on'),
    outOfServiceOn: text('out_of_service_on'),
    nextPmOn: text('next_pm_on'),
    pmIntervalDays: real('pm_interval_days'),
    startsPerDay: real('starts_per_day'),
    starterRatedKw: real('starter_rated_kw'),
    costCentre: text('cost_centre'),
    enteredUs: integer('entered_us'),
  },
  (table) => [
    primaryKey({ columns: [table.unit, table.importId, table.line] }),
    index('unit_rows_import').on(table.importId),
  ],
);

export const partRows = sqliteTable(
  'part_rows',
  {
    ...origin(),
    unit: text('unit').notNull(),
    component: text('component', { enum: COMPONENTS }).notNull(),
    position: text('position').notNull(),
    fittedOn: text('fitted_on').notNull(),
    part: text('part'),
    rating: text('rating'),
    warrantyUntilOn: text('warranty_until_on'),
    costMinor: integer('cost_minor'),
    enteredUs: integer('entered_us'),
  },
  (table) => [
    primaryKey({ columns: [table.unit, table.importId, table.line] }),
    index('part_rows_import').on(table.importId),
  ],
);

export const workOrderRows = sqliteTable(
  'work_order_rows',
  {
    ...origin(),
    workOrder: text('work_order').notNull(),
    unit: text('unit').notNull(),
    position: text('position').notNull(),
    openedUs: integer('opened_us').notNull(),
    closedUs: integer('closed_us'),
    enteredUs: integer('entered_us'),
    odometerKm: real('odometer_km'),
    engineHours: real('engine_hours'),
    complaint: text('complaint'),
    cause: text('cause'),
    correction: text('correction'),
    systemCode: text('system_code'),
    roadCall: integer('road_call', { mode: 'boolean' }),
    partsCostMinor: integer('parts_cost_minor'),
    laborHours: real('labor_hours'),
    laborCostMinor: integer('labor_cost_minor'),
    downtimeHours: real('downtime_hours'),
  },
  (table) => [
    primaryKey({ columns: [table.unit, table.importId, table.line] }),
    index('work_order_rows_import').on(table.importId),
  ],
);

export const benchResultRows = sqliteTable(
  'bench_result_rows',
  {
    ...origin(),
    unit: text('unit').notNull(),
    position: text('position').notNull(),
    timeUs: integer('time_us').notNull(),
    test: text('test').notNull(),
    value: real('value').notNull(),
    note: text('note'),
    enteredUs: integer('entered_us'),
  },
  (table) => [
    primaryKey({ columns: [table.unit, table.importId, table.line] }),
    index('bench_result_rows_import').on(table.importId),
  ],
);

export const troubleCodeRows = sqliteTable(
  'trouble_code_rows',
  {
    ...origin(),
    unit: text('unit').notNull(),
    position: text('position').notNull(),
    timeUs: integer('time_us').notNull(),
    code: text('code'),
    spn: integer('spn'),
    fmi: integer('fmi'),
  },
  (table) => [
    // One line of a bus log may hold several codes.
    primaryKey({ columns: [table.unit, table.importId, table.line, table.contentHash] }),
    index('trouble_code_rows_import').on(table.importId),
  ],
);

export const bayRows = sqliteTable(
  'bay_rows',
  {
    ...origin(),
    depot: text('depot').notNull(),
    bay: text('bay').notNull(),
    weekday: integer('weekday').notNull(),
    hours: real('hours').notNull(),
  },
  (table) => [primaryKey({ columns: [table.importId, table.line] })],
);

export const shopVisitRows = sqliteTable(
  'shop_visit_rows',
  {
    ...origin(),
    unit: text('unit').notNull(),
    visitOn: text('visit_on').notNull(),
    depot: text('depot').notNull(),
    reason: text('reason'),
  },
  (table) => [
    primaryKey({ columns: [table.unit, table.importId, table.line] }),
    index('shop_visit_rows_import').on(table.importId),
  ],
);

export const setAsideRows = sqliteTable(
  'set_aside_rows',
  {
    importId: importId(),
    seq: integer('seq').notNull(),
    line: integer('line').notNull(),
    field: text('field').notNull(),
    value: text('value').notNull(),
    reason: text('reason').notNull(),
  },
  (table) => [primaryKey({ columns: [table.importId, table.seq] })],
);

/** Files that could not be read at all, until they can: they have no import. */
export const unreadableFiles = sqliteTable('unreadable_files', {
  file: text('file').primaryKey(),
  reason: text('reason').notNull(),
});
