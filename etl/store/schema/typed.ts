/** What people typed. Nothing else holds it: never touched by load, unload or assess. */
import { index, integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import type { CorrectedReading } from '../../model/reading-correction.ts';
import { FORECAST_COMPONENTS } from '../../model/words.ts';

/** Only what was set; the rest follows the program's defaults. */
export const settings = sqliteTable('settings', {
  name: text('name').primaryKey(),
  value: text('value', { mode: 'json' }).$type<unknown>().notNull(),
});

const subject = () => ({
  unit: text('unit').notNull(),
  position: text('position').notNull(),
  component: text('component', { enum: FORECAST_COMPONENTS }).notNull(),
});

export const bookings = sqliteTable('bookings', {
  bookingId: integer('booking_id').primaryKey({ autoIncrement: true }),
  ...subject(),
  bookedOn: text('booked_on').notNull(),
  note: text('note').notNull(),
  createdUs: integer('created_us').notNull(),
  withdrawnUs: integer('withdrawn_us'),
});

export const deferrals = sqliteTable('deferrals', {
  deferralId: integer('deferral_id').primaryKey({ autoIncrement: true }),
  ...subject(),
  untilOn: text('until_on').notNull(),
  reason: text('reason').notNull(),
  createdUs: integer('created_us').notNull(),
  withdrawnUs: integer('withdrawn_us'),
});

/** How a person reads a repair record, in place of the program. At most one of a record stands. */
export const readingCorrections = sqliteTable(
  'reading_corrections',
  {
    correctionId: integer('correction_id').primaryKey({ autoIncrement: true }),
    unit: text('unit').notNull(),
    workOrder: text('work_order').notNull(),
    readings: text('readings', { mode: 'json' }).$type<CorrectedReading[]>().notNull(),
    createdUs: integer('created_us').notNull(),
    withdrawnUs: integer('withdrawn_us'),
  },
  (table) => [index('reading_corrections_record').on(table.unit, table.workOrder)],
);

/** Which spelling a person says to be which unit. A pair stands at most once. */
export const unitAliases = sqliteTable(
  'unit_aliases',
  {
    aliasId: integer('alias_id').primaryKey({ autoIncrement: true }),
    spelling: text('spelling').notNull(),
    unit: text('unit').notNull(),
    createdUs: integer('created_us').notNull(),
    withdrawnUs: integer('withdrawn_us'),
  },
  (table) => [index('unit_aliases_spelling').on(table.spelling), index('unit_aliases_unit').on(table.unit)],
);

/** Which two spellings a person says to be two units, so that they are not offered as one again. A pair stands at most once. */
export const unitDistinctions = sqliteTable('unit_distinctions', {
  distinctionId: integer('distinction_id').primaryKey({ autoIncrement: true }),
  unit: text('unit').notNull(),
  other: text('other').notNull(),
  createdUs: integer('created_us').notNull(),
  withdrawnUs: integer('withdrawn_us'),
});
