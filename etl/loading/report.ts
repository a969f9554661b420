import type { Kind } from '../model/kinds.ts';
import type { SetAside } from '../model/set-aside.ts';
import type { Store } from '../store/store.ts';

export type FileReport = {
  file: string;
  /** `loaded`, `already` (the same bytes are there), `unreadable` (why stands in the first set-aside row). */
  result: 'loaded' | 'already' | 'unreadable';
  kind: Kind | null;
  importId: number | null;
  /** Rows used. */
  taken: number;
  setAside: number;
  /** Reasons and how often each came, most frequent first. */
  reasons: { reason: string; rows: number }[];
  /** The first few set-aside rows. */
  examples: SetAside[];
  /** Cranks found in a waveform file. */
  cranks: number;
  unknownColumns: string[];
  notes: string[];
};

export type LoadReport = {
  files: FileReport[];
  /** Units that rows wait for: not in the register. */
  waiting: { unit: string; rows: number }[];
  /** Spellings that may be one unit: offered, never merged. */
  alike: string[][];
  taken: number;
  setAside: number;
  /** The load was asked to stop: only the files named here have been dealt with. */
  interrupted: boolean;
};

/** Set-aside rows of a file that its report shows. */
const EXAMPLES = 5;

export function emptyReport(file: string, result: FileReport['result']): FileReport {
  return {
    file,
    result,
    kind: null,
    importId: null,
    taken: 0,
    setAside: 0,
    reasons: [],
    examples: [],
    cranks: 0,
    unknownColumns: [],
    notes: [],
  };
}

export function unreadable(file: string, reason: string): FileReport {
  const row = { line: 0, field: '', value: '', reason };
  return { ...emptyReport(file, 'unreadable'), setAside: 1, reasons: [{ reason, rows: 1 }], examples: [row] };
}

/** What a load remembers of the files that it met: those that could not be read, with the reason, and the others. */
export function readableOrNot(files: readonly FileReport[]): Parameters<Store['noteUnreadable']>[0] {
  const unread = files.filter(({ result }) => result === 'unreadable');
  return {
    unreadable: unread.map(({ file, reasons }) => ({ file, reason: reasons[0]?.reason ?? '' })),
    readable: files.filter(({ result }) => result !== 'unreadable').map(({ file }) => file),
  };
}

/** Counts set-aside rows by reason, and keeps the first few. */
export class SetAsideTally {
  readonly examples: SetAside[] = [];
  readonly #rows = new Map<string, number>();

  add(rows: readonly SetAside[]): void {
    for (const { reason } of rows) this.#rows.set(reason, (this.#rows.get(reason) ?? 0) + 1);
    this.examples.push(...rows.slice(0, EXAMPLES - this.examples.length));
  }

  /** Most frequent first. */
  reasons(): FileReport['reasons'] {
    return [...this.#rows].map(([reason, rows]) => ({ reason, rows })).sort((a, b) => b.rows - a.rows);
  }
}
