import { and, asc, eq, ne } from 'drizzle-orm';
import type { BacktestForecast } from '../model/backtest.ts';
import { inBatches } from './batch-queue.ts';
import { bulkInsert } from './bulk-insert.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { isAlive } from './process-identity.ts';
import { backtestForecasts, backtests } from './schema/derived.ts';
import type { BacktestHead, Store } from './store.ts';

type BacktestMethods = Pick<Store, 'saveBacktest' | 'backtest' | 'backtestForecasts'>;

/**
 * The newest walk through history. Written in short batches under a head that no query sees until it is flipped, as
 * assessments are; the former one goes with the flip.
 */
export function backtestMethods(connections: StoreConnections, saver: string): BacktestMethods {
  const { reader } = connections;
  return {
    async saveBacktest({ forecasts, ...summary }, computedUs, inputs) {
      save(writerOf(connections), forecasts, { summary, computedUs, inputs, saver });
    },
    async backtest(): Promise<BacktestHead | null> {
      const head = live(reader);
      if (head === undefined) return null;
      const { summary, computedUs, inputs } = head;
      return { summary, computedUs, inputs };
    },
    async backtestForecasts(unit): Promise<BacktestForecast[]> {
      const head = live(reader);
      if (head === undefined) return [];
      const ofUnit = unit === undefined ? undefined : eq(backtestForecasts.unit, unit);
      return reader.db
        .select()
        .from(backtestForecasts)
        .where(and(eq(backtestForecasts.backtestId, head.backtestId), ofUnit))
        .orderBy(asc(backtestForecasts.seq))
        .all()
        .map(({ backtestId: _, seq: __, ...forecast }) => forecast);
    },
  };
}

function live({ db }: Connection) {
  return db.select().from(backtests).where(eq(backtests.state, 'live')).get();
}

function save(
  writer: Connection,
  forecasts: readonly BacktestForecast[],
  head: BacktestHead & { saver: string },
): void {
  const { db } = writer;
  const { backtestId } = db
    .insert(backtests)
    .values({ ...head, state: 'saving' })
    .returning({ backtestId: backtests.backtestId })
    .get();
  const rows = forecasts.map((forecast, seq) => ({ backtestId, seq, ...forecast }));
  for (const some of inBatches(rows)) inTransaction(writer, () => bulkInsert(writer.sqlite, backtestForecasts, some));
  inTransaction(writer, () => {
    db.update(backtests)
      .set({ state: 'dropped', saver: '' })
      .where(and(eq(backtests.state, 'live'), ne(backtests.backtestId, backtestId)))
      .run();
    db.update(backtests).set({ state: 'live', saver: '' }).where(eq(backtests.backtestId, backtestId)).run();
  });
  sweepBacktests(writer);
}

/** Deletes walks that were replaced, or left unfinished by a process that is gone. */
export function sweepBacktests(writer: Connection): void {
  const { db } = writer;
  const heads = db.select().from(backtests).where(ne(backtests.state, 'live')).all();
  for (const { backtestId, state, saver } of heads) {
    if (state === 'saving' && isAlive(saver)) continue;
    inTransaction(writer, () => {
      db.delete(backtestForecasts).where(eq(backtestForecasts.backtestId, backtestId)).run();
      db.delete(backtests).where(eq(backtests.backtestId, backtestId)).run();
    });
  }
}
