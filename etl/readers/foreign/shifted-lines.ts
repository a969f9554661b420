import type { SetAside } from '../../model/set-aside.ts';
import type { Lined, ReaderSink, ReadReport } from '../reader.ts';

/**
 * A sink for rows that were read from a copy of the file whose lines count otherwise: `by` is added to each line. What a
 * reader sets aside of a converted column says so, since the value is no longer as written.
 */
export function shiftedLines(sink: ReaderSink, by: number, converted: ReadonlyMap<string, string>): ReaderSink {
  const shift = <Row>(rows: Lined<Row>[]) => rows.map(({ line, row }) => ({ line: line + by, row }));
  const shiftColumn = (lines: Float64Array, count: number) => {
    for (let at = 0; at < count; at++) lines[at]! += by;
  };
  return {
    ...sink,
    units: async (rows) => sink.units(shift(rows)),
    fittedParts: async (rows) => sink.fittedParts(shift(rows)),
    workOrders: async (rows) => sink.workOrders(shift(rows)),
    benchResults: async (rows) => sink.benchResults(shift(rows)),
    troubleCodes: async (rows) => sink.troubleCodes(shift(rows)),
    bays: async (rows) => sink.bays(shift(rows)),
    shopVisits: async (rows) => sink.shopVisits(shift(rows)),
    async cranks(batch) {
      shiftColumn(batch.columns.line, batch.count);
      await sink.cranks(batch);
    },
    async samples(batch) {
      shiftColumn(batch.line, batch.count);
      await sink.samples(batch);
    },
    setAside: async (rows) => sink.setAside(rows.map((row) => shiftedRow(row, by, converted))),
  };
}

function shiftedRow(row: SetAside, by: number, converted: ReadonlyMap<string, string>): SetAside {
  const from = converted.get(row.field);
  const reason = from === undefined || row.value === '' ? row.reason : `${row.reason} (converted from ${from})`;
  return { ...row, line: row.line + by, reason };
}

/** Notes begin with their line. */
export function shiftedNotes(report: ReadReport, by: number): string[] {
  return report.notes.map((note) => note.replace(/^line (\d+)/, (_, line) => `line ${Number(line) + by}`));
}
