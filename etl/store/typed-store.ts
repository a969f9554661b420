import { and, asc, eq, isNull } from 'drizzle-orm';
import { DEFAULT_SETTINGS, type Settings } from '../model/settings.ts';
import { inTransaction, writerOf, type StoreConnections } from './connection.ts';
import { contentHash } from './content-hash.ts';
import { bookings, deferrals, settings } from './schema/typed.ts';
import type { Store } from './store.ts';
import { unitNames } from './unit-names.ts';

type TypedMethods = Pick<
  Store,
  | 'settings'
  | 'saveSettings'
  | 'settingsVersion'
  | 'bookings'
  | 'addBooking'
  | 'withdrawBooking'
  | 'deferrals'
  | 'addDeferral'
  | 'withdrawDeferral'
>;

/** What people typed. A withdrawn booking or deferral stays, with the instant of its withdrawal. */
export function typedMethods(connections: StoreConnections): TypedMethods {
  const { reader } = connections;
  const standing = (): Settings => {
    const rows = reader.db.select().from(settings).orderBy(asc(settings.name)).all();
    const set = Object.fromEntries(rows.map(({ name, value }) => [name, value])) as Partial<Settings>;
    return { ...DEFAULT_SETTINGS, ...set };
  };
  const named = <Row extends { unit: string }>(rows: readonly Row[]): Row[] => {
    const { nameOf } = unitNames(reader);
    return rows.map((row) => ({ ...row, unit: nameOf(row.unit) }));
  };
  const methods: TypedMethods = {
    async settings() {
      return standing();
    },
    async saveSettings(patch) {
      const writer = writerOf(connections);
      // What a caller leaves undefined it does not name: it stays.
      const given = Object.entries(patch).filter(([, value]) => value !== undefined);
      inTransaction(writer, () => {
        for (const [name, value] of given)
          writer.db
            .insert(settings)
            .values({ name, value })
            .onConflictDoUpdate({ target: settings.name, set: { value } })
            .run();
      });
      return standing();
    },
    async settingsVersion() {
      return contentHash([standing(), await methods.bookings(), await methods.deferrals()]);
    },
    async bookings() {
      return named(reader.db.select().from(bookings).orderBy(asc(bookings.bookingId)).all());
    },
    async addBooking(booking) {
      return writerOf(connections).db.insert(bookings).values(booking).returning().get();
    },
    async withdrawBooking(bookingId, atUs) {
      const { changes } = writerOf(connections)
        .db.update(bookings)
        .set({ withdrawnUs: atUs })
        .where(and(eq(bookings.bookingId, bookingId), isNull(bookings.withdrawnUs)))
        .run();
      if (changes === 0) throw new RangeError(`withdraw requires a booking that stands, got ${bookingId} (bookings)`);
    },
    async deferrals() {
      return named(reader.db.select().from(deferrals).orderBy(asc(deferrals.deferralId)).all());
    },
    async addDeferral(deferral) {
      return writerOf(connections).db.insert(deferrals).values(deferral).returning().get();
    },
    async withdrawDeferral(deferralId, atUs) {
      const { changes } = writerOf(connections)
        .db.update(deferrals)
        .set({ withdrawnUs: atUs })
        .where(and(eq(deferrals.deferralId, deferralId), isNull(deferrals.withdrawnUs)))
        .run();
      if (changes === 0)
        throw new RangeError(`withdraw requires a deferral that stands, got ${deferralId} (deferrals)`);
    },
  };
  return methods;
}
