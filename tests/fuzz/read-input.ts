import { UnreadableFile, type SetAside } from '../../etl/model/set-aside.ts';
import { throughSignal, type LogSink, type StoreSink } from '../../etl/loading/sink.ts';
import { openBytes } from '../../etl/readers/bytes/byte-stream.ts';
import type { ReaderSink, ReadReport } from '../../etl/readers/reader.ts';
import { sniffFile } from '../../etl/readers/sniff.ts';
import type { Input } from './mutate.ts';

export type Outcome = { how: 'read' | 'refused'; rows: number; setAside: number };

/** What must not be: the reading broke a promise, other than by an error that escaped. */
export class BrokenPromise extends Error {
  override name = 'BrokenPromise';
}

const NOW_US = Date.UTC(2026, 10, 20) * 1000;

/**
 * Reads a file as a load does, from what it is to the cranks in it. Throws whatever escapes the readers; and
 * BrokenPromise where rows that were handed on, set aside and counted are not the same.
 */
export async function readInput(path: string, input: Input): Promise<Outcome> {
  const { profile } = input.sample;
  const sniffed = await sniffFile({ path, bytes: openBytes(path) }, { profile });
  if ('unrecognised' in sniffed) return refused(sniffed.unrecognised);
  const counted: Counted = { rows: 0, setAside: 0, wordless: null };
  let report: ReadReport;
  try {
    const file = { path, bytes: openBytes(path) };
    report = await throughSignal(KEEPS_NOTHING, async (log) =>
      sniffed.reader.read(file, countingSink(log, counted), { nowUs: NOW_US, profile }),
    );
  } catch (error) {
    if (error instanceof UnreadableFile) return refused(error.message);
    throw error;
  }
  checkReport(report, counted);
  checkRows(report, input, sniffed.reader.name);
  return { how: 'read', rows: report.taken, setAside: report.setAside };
}

function refused(reason: string): Outcome {
  promise(/ requires /.test(reason), `a refusal says what is required, got ${reason}`);
  return { how: 'refused', rows: 0, setAside: 0 };
}

function promise(kept: boolean, what: string): void {
  if (!kept) throw new BrokenPromise(what);
}

type Counted = { rows: number; setAside: number; wordless: string | null };

const nothing = async () => undefined;
const KEEPS_NOTHING: StoreSink = {
  units: nothing,
  fittedParts: nothing,
  workOrders: nothing,
  benchResults: nothing,
  troubleCodes: nothing,
  bays: nothing,
  shopVisits: nothing,
  cranks: nothing,
  found: nothing,
  setAside: nothing,
};

function countingSink(log: LogSink, counted: Counted): ReaderSink {
  const rows = async (list: readonly unknown[]) => void (counted.rows += list.length);
  return {
    units: rows,
    fittedParts: rows,
    workOrders: rows,
    benchResults: rows,
    troubleCodes: rows,
    bays: rows,
    shopVisits: rows,
    cranks: async ({ count }) => void (counted.rows += count),
    async samples(batch) {
      counted.rows += batch.count;
      await log.samples(batch);
    },
    busSignals: (batch) => log.busSignals(batch),
    async setAside(list: SetAside[]) {
      counted.setAside += list.length;
      counted.wordless ??= list.find(({ reason }) => !/ requires /.test(reason))?.reason ?? null;
    },
    progress: () => undefined,
  };
}

function checkReport(report: ReadReport, counted: Counted): void {
  promise(counted.wordless === null, `a row set aside says what is required, got ${counted.wordless}`);
  promise(counted.setAside === report.setAside, `${report.setAside} set aside, ${counted.setAside} handed on`);
  // Frames of a bus log are used without being handed on one by one.
  if (report.kind === 'can_log') return;
  promise(counted.rows === report.taken, `${report.taken} rows taken, ${counted.rows} handed on`);
}

/** Rows used and set aside are those of the file, where its lines can be counted from outside. */
function checkRows(report: ReadReport, { sample, text, headerKept }: Input, reader: string): void {
  const isLog = sample.rows === 'all_lines' && (reader === 'can-log' || reader.endsWith('-ndjson'));
  const isTable = sample.rows === 'below_header' && reader.endsWith('-csv') && headerKept;
  if (text === null || !(isLog || isTable) || text.includes(13)) return;
  if (isTable && text.includes(34)) return; // a quoted field may hold line ends
  const filled = text
    .toString('latin1')
    .split('\n')
    .filter((line) => !/^[ \t]*$/.test(line)).length;
  const expected = filled - (isTable ? 1 : 0);
  const found = report.taken + report.setAside;
  promise(found === expected, `${expected} rows stand in the file, ${report.taken} + ${report.setAside} were counted`);
}
