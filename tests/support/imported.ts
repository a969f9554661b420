import { createHash } from 'node:crypto';
import { emptyTable, MEASURED_COLUMNS, type MeasuredColumn, type MeasuredTable } from '../../etl/model/crank.ts';
import { dateUs } from '../../etl/model/time.ts';
import { SOURCES } from '../../etl/model/words.ts';
import type { ImportStart, ImportWriter, Store } from '../../etl/store/store.ts';

/** Any file: its name stands for its bytes. */
export function importStart(file: string, known: Partial<ImportStart> = {}): ImportStart {
  return { file, kind: 'cranks', bytes: file.length, profile: '', reader: 'csv', readerVersion: 1, ...known };
}

export const sha256Of = (text: string) => createHash('sha256').update(text).digest('hex');

export function importEnd(file: string, known: Partial<Parameters<ImportWriter['commit']>[0]> = {}) {
  const counted = { taken: 1, setAside: 0, unknownColumns: [], loadedUs: dateUs('2026-06-01') };
  return { sha256: sha256Of(file), ...counted, ...known };
}

/** Loads one invented file into a store; returns its import's id. */
export async function imported(
  store: Store,
  file: string,
  write: (writer: ImportWriter) => Promise<void> | void,
): Promise<number> {
  const writer = await store.beginImport(importStart(file));
  await write(writer);
  await writer.commit(importEnd(file));
  return writer.importId!;
}

/** Rows on the lines after the header. */
export const lined = <Row>(...rows: Row[]) => rows.map((row, index) => ({ line: index + 2, row }));

type CrankRow = Partial<Record<MeasuredColumn, number>> & { timeUs: number };

/** Measured cranks with everything missing but what a test names. */
export function measured(...rows: CrankRow[]): MeasuredTable {
  const table = emptyTable(MEASURED_COLUMNS, rows.length);
  rows.forEach((row, index) => {
    const standing = { source: SOURCES.indexOf('cranks'), quality: 0, line: index + 2 };
    for (const [name, value] of Object.entries({ ...standing, ...row }))
      table.columns[name as MeasuredColumn][index] = value;
  });
  return table;
}
