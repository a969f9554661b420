import { inTransaction, type Connection } from './connection.ts';
import { prepared } from './prepared.ts';
import type { ImportStart } from './store.ts';

/** Of a file that is no larger the first rows that are written are nearly always the last ones too. Program. */
const SMALL_BYTES = 4 * 2 ** 20;

/**
 * An import in state `loading`, which no query sees. One of a small file gets its number with the first rows that are
 * written: a transaction of its own would cost as much as all of them. `loader` names this process.
 */
export class ImportHead {
  readonly #writer: Connection;
  readonly #start: ImportStart;
  readonly #loader: string;
  #importId: number | null = null;

  constructor(writer: Connection, start: ImportStart, loader: string) {
    this.#writer = writer;
    this.#start = start;
    this.#loader = loader;
    if (start.bytes > SMALL_BYTES) this.inTransaction(() => undefined);
  }

  /** Null while nothing of it is written. */
  get importId(): number | null {
    return this.#importId;
  }

  /** Does some work as the one writer. */
  inTransaction<Result>(work: (importId: number) => Result): Result {
    const { importId, result } = inTransaction(this.#writer, () => this.within(work));
    this.written(importId);
    return result;
  }

  /** Does some work inside the caller's transaction, who calls `written` once that is committed. */
  within<Result>(work: (importId: number) => Result): { importId: number; result: Result } {
    const importId = this.#importId ?? this.#insert();
    return { importId, result: work(importId) };
  }

  /** Its number stands in the store: one that went with its transaction is given again. */
  written(importId: number): void {
    this.#importId = importId;
  }

  #insert(): number {
    const { sqlite } = this.#writer;
    const { file, kind, bytes, profile, reader, readerVersion } = this.#start;
    const { lastInsertRowid } = prepared(
      sqlite,
      `insert into imports (kind, bytes, profile, reader, reader_version, state, loader, taken, set_aside, unknown_columns)
       values (?, ?, ?, ?, ?, 'loading', ?, 0, 0, '[]')`,
    ).run(kind, bytes, profile, reader, readerVersion, this.#loader);
    const importId = Number(lastInsertRowid);
    prepared(sqlite, 'insert into import_files (import_id, file) values (?, ?)').run(importId, file);
    return importId;
  }
}
