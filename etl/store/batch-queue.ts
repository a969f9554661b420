import { inTransaction, type Connection } from './connection.ts';

/** Rows in one transaction: fewer cost speed, more keep others waiting for the write lock. */
export const BATCH_ROWS = 5_000;
/** … and bytes. */
export const BATCH_BYTES = 4 * 1024 * 1024;

export type BatchQueue = {
  /** Puts a small write off until a batch is full. */
  add(size: { rows: number; bytes?: number }, work: () => void): void;
  /** Writes what waits. */
  flush(): void;
  /** Writes what waits and does `last`, all in one transaction. */
  flushWith<Result>(last: () => Result): Result;
  /** Forgets what waits. */
  clear(): void;
};

/** Gathers small writes into transactions of some thousand rows, held as briefly as one of them takes. */
export function batchQueue(writer: Connection): BatchQueue {
  let waiting: (() => void)[] = [];
  let rows = 0;
  let bytes = 0;
  const clear = () => {
    waiting = [];
    rows = 0;
    bytes = 0;
  };
  const flushWith = <Result>(last: () => Result): Result => {
    const works = waiting;
    clear();
    return inTransaction(writer, () => {
      for (const work of works) work();
      return last();
    });
  };
  const flush = () => {
    if (waiting.length > 0) flushWith(() => undefined);
  };
  const add: BatchQueue['add'] = (size, work) => {
    waiting.push(work);
    rows += size.rows;
    bytes += size.bytes ?? 0;
    if (rows >= BATCH_ROWS || bytes >= BATCH_BYTES) flush();
  };
  return { add, flush, flushWith, clear };
}

/** `rows` in pieces of one batch. */
export function* inBatches<Row>(rows: readonly Row[]): Generator<Row[]> {
  for (let from = 0; from < rows.length; from += BATCH_ROWS) yield rows.slice(from, from + BATCH_ROWS);
}
