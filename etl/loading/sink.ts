import type { SetAside } from '../model/set-aside.ts';
import type { ReaderSink } from '../readers/reader.ts';
import { createCanCranks } from '../signal/can-cranks.ts';
import { CLOCK_RAN_BACK } from '../signal/recorder.ts';
import { createCrankFinder, type Finding, type FoundCranks } from '../signal/crank-finder.ts';
import type { ImportWriter } from '../store/store.ts';
import { OldestFirst } from './newest-first.ts';

/** What a reader gives. */
export type LogSink = Omit<ReaderSink, 'progress'>;
/** What goes to the store: samples and readings of a data bus have become cranks. */
export type StoreSink = Omit<LogSink, 'samples' | 'busSignals'> & { found(cranks: FoundCranks[]): Promise<void> };

/** What the search for cranks adds to a reader's report: samples that it set aside, cranks that it found, notes. */
export type SignalCount = { setAside: number; cranks: number; notes: string[] };

/** A logger that restarts loses a few rows to its clock; a fifth of them is a way to write fractions. */
const RAN_BACK_SHARE = 0.2;
const RAN_BACK_NOTE =
  'time runs back again and again: are fractions of a second written without their zeros (.5 for .005)? The rows taken are then wrong too';

/** What a reader gives goes to the store: samples and bus readings through the search for cranks, all else as it comes. */
export async function throughSignal<End>(
  store: StoreSink,
  read: (log: LogSink) => Promise<End>,
): Promise<End & { bySignal: SignalCount }> {
  const finder = createCrankFinder();
  const canCranks = createCanCranks();
  const count = { setAside: 0, cranks: 0 };
  let [seen, ranBack] = [0, 0];
  const pass = async ({ cranks, setAside }: Finding) => {
    for (const { measured } of cranks) count.cranks += measured.count;
    count.setAside += setAside.length;
    for (const { reason } of setAside) if (reason === CLOCK_RAN_BACK) ranBack++;
    if (cranks.length > 0) await store.found(cranks);
    if (setAside.length > 0) await store.setAside(setAside);
  };
  const samples = new OldestFirst(async (batch) => pass(finder.push(batch)));
  try {
    const end = await read({
      ...store,
      async samples(batch) {
        seen += batch.count;
        await samples.push(batch);
      },
      busSignals: async (batch) => pass({ cranks: canCranks.push(batch), setAside: [] }),
    });
    await samples.end();
    await pass(finder.end());
    await pass({ cranks: canCranks.end(), setAside: [] });
    const notes = ranBack > RAN_BACK_SHARE * seen ? [...samples.notes, RAN_BACK_NOTE] : samples.notes;
    return { ...end, bySignal: { ...count, notes } };
  } finally {
    samples.close();
  }
}

/** Rows go to the store as they come; `onSetAside` sees those that were set aside. */
export function intoWriter(writer: ImportWriter, onSetAside: (rows: SetAside[]) => void): StoreSink {
  return {
    units: (rows) => writer.units(rows),
    fittedParts: (rows) => writer.fittedParts(rows),
    workOrders: (rows) => writer.workOrders(rows),
    benchResults: (rows) => writer.benchResults(rows),
    troubleCodes: (rows) => writer.troubleCodes(rows),
    bays: (rows) => writer.bays(rows),
    shopVisits: (rows) => writer.shopVisits(rows),
    cranks: (batch) => writer.cranks(batch),
    async found(cranks) {
      for (const { unit, position, measured, waveforms } of cranks) {
        await writer.measured(unit, position, measured);
        if (waveforms.length > 0) await writer.waveforms(waveforms);
      }
    },
    async setAside(rows) {
      onSetAside(rows);
      await writer.setAside(rows);
    },
  };
}
