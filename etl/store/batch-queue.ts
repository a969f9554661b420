/** Rows in one transaction: fewer cost speed, more keep others waiting for the write lock. */
export const BATCH_ROWS = 5_000;
/** … and bytes. */
export const BATCH_BYTES = 4 * 1024 * 1024;

export type BatchSize = { rows: number; bytes: number };

/** Writes rows of an import, inside a transaction. */
export type Work = (importId: number) => void;

export type BatchQueue = {
  /** Puts a small write off until a batch is full. */
  add(size: { rows: number; bytes?: number }, work: Work): void;
  /** What waits, to be written with what comes last. */
  take(): BatchSize & { write: Work };
  /** Forgets what waits. */
  clear(): void;
};

/** Gathers small writes into transactions of some thousand rows, held as briefly as one of them takes. */
export function batchQueue(transact: (work: Work) => void): BatchQueue {
  let waiting: Work[] = [];
  let rows = 0;
  let bytes = 0;
  const clear = () => {
    waiting = [];
    rows = 0;
    bytes = 0;
  };
  const take = () => {
    const works = waiting;
    const taken = { rows, bytes };
    clear();
    const write: Work = (importId) => {
      for (const work of works) work(importId);
    };
    return { ...taken, write };
  };
  const add: BatchQueue['add'] = (size, work) => {
    waiting.push(work);
    rows += size.rows;
    bytes += size.bytes ?? 0;
    if (rows >= BATCH_ROWS || bytes >= BATCH_BYTES) transact(take().write);
  };
  return { add, take, clear };
}

/** `rows` in pieces of one batch. */
export function* inBatches<Row>(rows: readonly Row[]): Generator<Row[]> {
  for (let from = 0; from < rows.length; from += BATCH_ROWS) yield rows.slice(from, from + BATCH_ROWS);
}
