import { BUS_SIGNALS } from '../../model/bus-signals.ts';
import type { SetAside, UnreadableFile } from '../../model/set-aside.ts';
import type { OpenedFile, ReaderSink, ReadOptions, ReadReport } from '../reader.ts';
import { shown } from '../csv/row-scanner.ts';
import { BusReadings, type Frame, type Impossible } from './bus-readings.ts';
import { CandumpLine } from './candump-line.ts';
import { MOST_LINE_BYTES, walkLines } from './line-window.ts';
import { LogFrameTimes } from './log-frame-times.ts';
import { SignalBatch } from './signal-batch.ts';

const SET_ASIDE_ROWS = 1_000;
const MOST_NOTES = 100;

export type LogOwner = { unit: string; position: string };

/** Reads a log of one unit's bus to its end. Every line is used, or set aside with why. */
export async function readCanLog(
  file: OpenedFile,
  sink: ReaderSink,
  { owner, options }: { owner: LogOwner; options: ReadOptions },
): Promise<ReadReport> {
  const log = new CanLog(sink, { owner, options });
  const brokenBy = await walkLines(
    file.bytes,
    async (bytes, from, to) => log.lines(bytes, from, to),
    async (first) => log.tooLong(first),
  );
  return log.end(brokenBy);
}

class CanLog {
  readonly #sink: ReaderSink;
  readonly #times: LogFrameTimes;
  readonly #batch: SignalBatch;
  readonly #readings: BusReadings;
  readonly #candump = new CandumpLine();
  /** The frame at hand; its data are those of the line. */
  readonly #frame: Frame = { data: this.#candump.data, length: 0, timeUs: 0, id: 0, extended: false, line: 0 };
  #line = 0;
  #taken = 0;
  #setAside = 0;
  #waiting: SetAside[] = [];
  #dropped = 0;
  /** Text that candump writes below an error frame belongs to it. */
  #afterError = false;

  constructor(sink: ReaderSink, { owner, options }: { owner: LogOwner; options: ReadOptions }) {
    this.#sink = sink;
    this.#times = new LogFrameTimes(options);
    this.#batch = new SignalBatch(owner.unit, owner.position);
    this.#readings = new BusReadings(this.#batch);
  }

  /** Reads whole lines: bytes [from, to). */
  async lines(bytes: Uint8Array, from: number, to: number): Promise<void> {
    for (let at = from; at < to;) {
      const end = this.#candump.read(bytes, at);
      this.#line++;
      this.#take(bytes, at, end);
      at = end + 1;
      if (this.#batch.isFull || this.#waiting.length >= SET_ASIDE_ROWS) await this.#deliver();
    }
  }

  async tooLong(first: Uint8Array): Promise<void> {
    this.#line++;
    this.#refuse(first, `line requires at most ${MOST_LINE_BYTES / 1024} KiB`);
    await this.#deliver();
  }

  async end(brokenBy: UnreadableFile | null): Promise<ReadReport> {
    if (brokenBy !== null) this.#keep({ line: this.#line + 1, field: '', value: '', reason: brokenBy.message });
    this.#readings.transfers.end();
    this.#readings.answers.end();
    await this.#deliver();
    const notes = this.#notes().slice(0, MOST_NOTES);
    return { kind: 'can_log', taken: this.#taken, setAside: this.#setAside, unknownColumns: [], notes };
  }

  #take(bytes: Uint8Array, from: number, end: number): void {
    const { kind } = this.#candump;
    const belongsToError = this.#afterError && (bytes[from] === 32 || bytes[from] === 9) && kind === 'bad';
    this.#afterError = kind === 'error' || belongsToError;
    if (kind === 'blank') return;
    if (kind === 'dropped') this.#dropped++;
    if (kind === 'bad' && !belongsToError) this.#refuse(bytes.subarray(from, end), this.#candump.reason);
    else if (kind === 'frame') this.#takeFrame(bytes, from, end);
    else this.#taken++;
  }

  #takeFrame(bytes: Uint8Array, from: number, end: number): void {
    const frame = this.#frame;
    frame.timeUs = this.#times.instant(this.#candump);
    if (Number.isNaN(frame.timeUs)) return this.#refuse(bytes.subarray(from, end), this.#times.reason, 'time');
    frame.id = this.#candump.id;
    frame.extended = this.#candump.extended;
    frame.length = this.#candump.length;
    frame.line = this.#line;
    const impossible = this.#readings.frame(frame);
    if (impossible === null) this.#taken++;
    else this.#keep(refusalOf(impossible, this.#line));
  }

  #refuse(text: Uint8Array, reason: string, field = ''): void {
    const value = shown(Buffer.from(text.subarray(0, 1024)).toString('latin1').trim());
    this.#keep({ line: this.#line, field, value, reason });
  }

  #keep(row: SetAside): void {
    this.#setAside++;
    this.#waiting.push(row);
  }

  async #deliver(): Promise<void> {
    const codes = this.#readings.codes.splice(0);
    if (this.#batch.count > 0) await this.#sink.busSignals(this.#batch);
    this.#batch.count = 0;
    if (codes.length > 0) await this.#sink.troubleCodes(codes);
    if (this.#waiting.length > 0) await this.#sink.setAside(this.#waiting);
    this.#waiting = [];
  }

  #notes(): string[] {
    const { sources, distances, transfers, answers } = this.#readings;
    const knows = (signal: (typeof BUS_SIGNALS)[number]) => sources.isKnown(BUS_SIGNALS.indexOf(signal));
    const elsewhere = knows('keyswitchVolts') ? 'the key switch' : 'a control unit';
    const notes = [...distances.notes(), ...sources.notes()];
    if (!knows('batteryVolts') && (knows('keyswitchVolts') || knows('moduleVolts')))
      notes.push(`volts are those at ${elsewhere}, a little under the bank's: battery potential (SPN 168) is not sent`);
    if (transfers.broken > 0)
      notes.push(`${transfers.broken} messages of several packets are not whole: packets are missing or out of order`);
    if (answers.broken > 0) notes.push(`${answers.broken} answers of several frames are not whole: frames are missing`);
    if (this.#dropped > 0) notes.push(`the logger lost frames in ${this.#dropped} places (DROPCOUNT)`);
    return notes;
  }
}

function refusalOf({ name, value, limit }: Impossible, line: number): SetAside {
  const reason = `${name} requires a value from ${limit.least} to ${limit.most} ${limit.unit}`;
  return { line, field: name, value: String(value), reason };
}
