import type { SetAside } from '../../model/set-aside.ts';
import { shiftedLines } from '../foreign/shifted-lines.ts';
import type { OpenedFile, Reader, ReaderSink, ReadReport } from '../reader.ts';
import { counted } from '../../model/counted.ts';

export type SheetReader = { name: string; reader: Reader };
/** A sheet of logs is one that somebody may miss; notes and charts are not. The reason names the sheet. */
export type UnreadSheet = { name: string; isLog: boolean; isEmpty: boolean; reason: string };

/** The most rows that a sheet can have (ECMA-376 by way of every spreadsheet program): 2²⁰. */
const SHEET_ROWS = 1_048_576;

/**
 * One reader for all sheets of a workbook that can be read: they are one file, which comes and goes as a whole. With
 * several kinds it is a `workbook`. What is set aside names the row of the sheet, and the sheet where there are several;
 * why a sheet is not read is a note, or a set-aside row where it holds a log.
 */
export function sheetsReader(
  seen: readonly SheetReader[],
  look: (file: OpenedFile) => Promise<(SheetReader | UnreadSheet)[]>,
): Reader {
  const readers = seen.map(({ reader }) => reader);
  const first = readers[0]!;
  const isOneKind = readers.every(({ name }) => name === first.name);
  const kind = isOneKind ? first.kind : 'workbook';
  return {
    name: isOneKind ? first.name : 'workbook-xlsx',
    kind,
    // A later version of any of them is a later version of the whole.
    version: readers.reduce((sum, { version }) => sum + version, 0),
    byProfile: readers.some(({ byProfile }) => byProfile === true),
    async read(file, sink, options) {
      const total: ReadReport = { kind, taken: 0, setAside: 0, unknownColumns: [], notes: [] };
      const sheets = await look(file);
      const isAlone = sheets.filter((each) => 'reader' in each || !each.isEmpty).length === 1;
      let before = 0;
      for (const sheet of sheets) {
        if ('reason' in sheet) await addUnread(total, sheet, sink);
        else {
          const into = isAlone ? sink : namingSheet(sink, sheet.name, before++ * SHEET_ROWS);
          const report = await sheet.reader.read(file, into, options);
          add(total, report, isAlone ? null : sheet.name);
        }
      }
      return total;
    },
  };
}

async function addUnread(total: ReadReport, { name, isLog, isEmpty, reason }: UnreadSheet, sink: ReaderSink) {
  if (isEmpty) return;
  if (!isLog) return void total.notes.push(`sheet not read: ${reason}`);
  total.setAside++;
  await sink.setAside([{ line: 0, field: '', value: name, reason }]);
}

function add(total: ReadReport, report: ReadReport, sheet: string | null): void {
  total.taken += report.taken;
  total.setAside += report.setAside;
  if (sheet === null) {
    total.unknownColumns.push(...report.unknownColumns);
    total.notes.push(...report.notes);
    return;
  }
  total.unknownColumns.push(...report.unknownColumns.map((column) => `${column} (sheet ${sheet})`));
  total.notes.push(
    `sheet ${sheet}: ${counted(report.taken, 'row')} taken as ${report.kind}, ${report.setAside} set aside`,
  );
  total.notes.push(...report.notes.map((note) => `sheet ${sheet}: ${note}`));
}

/** Rows of several sheets stand under one file: the store tells them apart by their lines. */
function namingSheet(sink: ReaderSink, sheet: string, by: number): ReaderSink {
  const named = (row: SetAside) => ({ ...row, reason: `${row.reason} (sheet ${sheet})` });
  return { ...shiftedLines(sink, by, new Map()), setAside: async (rows) => sink.setAside(rows.map(named)) };
}
