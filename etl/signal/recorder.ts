import type { Recording, SampleBatch } from '../model/samples.ts';
import type { SetAside } from '../model/set-aside.ts';
import { clockStepped } from './clock-step.ts';
import { FIRST_LOOK, GrowingRecord } from './growing-record.ts';

export const CLOCK_RAN_BACK = 'time requires samples in order: the clock ran back';

/** Samples of one record that lie further apart than this are two records. */
const RECORD_GAP_US = 2e6;
/** A clock that runs back by less was disturbed; by more, it was set: a new record begins. */
const CLOCK_STEP_US = 2e6;
/** A record that still cannot be decided is cut here: 100 s at 10 kHz. */
const MOST_SAMPLES = 1 << 20;
/** Samples held for all engines together; over it the record that has waited longest is closed. About 250 MB. */
const MOST_HELD = 4 << 20;

/** Captures of one engine that come by turns, as two loggers do in one file; with more the oldest is closed. Program. */
const MOST_BY_TURNS = 16;

export type RecordPiece = { recording: Recording; more: boolean };
/** Looks at a piece and answers from which sample on it is still needed (`count`: none). */
export type OnPiece = (piece: RecordPiece) => number;

/**
 * Sorts a stream of samples into records: one engine, in time order, without long gaps. A record that goes on is
 * handed over in pieces; what a piece still needs is kept. Memory is bounded by `MOST_HELD`.
 */
export class Recorder {
  readonly #onPiece: OnPiece;
  /** Of each engine the record that grows. */
  readonly #records = new Map<string, GrowingRecord>();
  /** … and its captures that another one has interrupted, the oldest first. */
  readonly #interrupted = new Map<string, GrowingRecord[]>();
  #held = 0;
  #refused: SetAside[] = [];

  constructor(onPiece: OnPiece) {
    this.#onPiece = onPiece;
  }

  /** Takes a batch; gives the samples that cannot be placed in time. */
  push(batch: SampleBatch): SetAside[] {
    let last: GrowingRecord | null = null;
    let lastUnit = -1;
    let lastPosition = -1;
    for (let i = 0; i < batch.count;) {
      const unit = batch.unit[i]!;
      const position = batch.position === null ? -1 : batch.position[i]!;
      if (last === null || unit !== lastUnit || position !== lastPosition) {
        last = this.#recordOf(batch.names[unit]!, position < 0 ? '' : batch.names[position]!);
        lastUnit = unit;
        lastPosition = position;
      }
      const capture = batch.record === null ? -1 : batch.record[i]!;
      if (capture !== last.record) last = this.#turnTo(capture, last, batch.timeUs[i]!);
      i = this.#take(last, batch, i);
    }
    if (this.#held > MOST_HELD) this.#closeLongestWaiting();
    return this.#takeRefused();
  }

  /** Closes every record. */
  end(): SetAside[] {
    for (const [key, record] of this.#records) this.#closeAll(key, record);
    this.#records.clear();
    return this.#takeRefused();
  }

  #recordOf(unit: string, position: string): GrowingRecord {
    const key = engineOf({ unit, position });
    const known = this.#records.get(key);
    if (known !== undefined) {
      this.#records.delete(key); // to the end of the order: the first is the one that has waited longest
      this.#records.set(key, known);
      return known;
    }
    const record = new GrowingRecord(unit, position);
    this.#records.set(key, record);
    return record;
  }

  /** The record of another capture. The one that it interrupts may go on as long as no gap has passed. */
  #turnTo(capture: number, from: GrowingRecord, us: number): GrowingRecord {
    const key = engineOf(from);
    if (from.count === 0 && !this.#interrupted.has(key)) {
      from.record = capture;
      return from;
    }
    const waiting = [...(this.#interrupted.get(key) ?? []), from];
    let next = waiting.find(({ record }) => record === capture);
    const kept: GrowingRecord[] = [];
    for (const [index, each] of waiting.entries()) {
      const isOver = us - each.lastUs > RECORD_GAP_US || waiting.length - index > MOST_BY_TURNS;
      if (each === next) continue;
      if (isOver) this.#close(each);
      else kept.push(each);
    }
    next ??= new GrowingRecord(from.unit, from.position);
    next.record = capture;
    if (kept.length > 0) this.#interrupted.set(key, kept);
    else this.#interrupted.delete(key);
    this.#records.set(key, next);
    return next;
  }

  /** Takes sample `i` and those after it that go on without a break; returns the first that was not taken. */
  #take(record: GrowingRecord, batch: SampleBatch, i: number): number {
    const us = batch.timeUs[i]!;
    if (record.count > 0) {
      const step = us - record.lastUs;
      if (step > RECORD_GAP_US || step < -CLOCK_STEP_US) this.#close(record);
      else if (step === 0) return this.#refuse(batch, i, 'time requires one sample an instant');
      else if (step < 0) {
        if (!clockStepped(record, us, batch.volts[i]!)) return this.#refuse(batch, i, CLOCK_RAN_BACK);
        this.#close(record);
      }
    }
    const end = runEnd(batch, i);
    for (let from = i; from < end;) {
      const to = Math.min(end, from + record.lookAt - record.count);
      record.add(batch, from, to);
      this.#held += to - from;
      from = to;
      if (record.count >= record.lookAt) this.#look(record);
    }
    return end;
  }

  /** Sets a sample aside; returns the next. */
  #refuse(batch: SampleBatch, i: number, reason: string): number {
    const value = new Date(batch.timeUs[i]! / 1000).toISOString();
    this.#refused.push({ line: batch.line[i]!, field: 'time', value, reason });
    return i + 1;
  }

  #look(record: GrowingRecord): void {
    const full = record.count >= MOST_SAMPLES;
    const from = this.#onPiece({ recording: record.recording(), more: !full });
    const dropped = full ? record.count : from;
    record.dropBefore(dropped);
    this.#held -= dropped;
    record.lookAt = Math.min(MOST_SAMPLES, Math.max(FIRST_LOOK, 2 * record.count));
  }

  #close(record: GrowingRecord): void {
    if (record.count > 1) this.#onPiece({ recording: record.recording(), more: false });
    this.#held -= record.count;
    record.dropBefore(record.count);
    record.lookAt = FIRST_LOOK;
    record.stepped = { count: 0, lastUs: Number.NaN };
  }

  #closeAll(key: string, record: GrowingRecord): void {
    for (const each of this.#interrupted.get(key) ?? []) this.#close(each);
    this.#interrupted.delete(key);
    this.#close(record);
  }

  #closeLongestWaiting(): void {
    for (const [key, record] of this.#records) {
      if (this.#held <= MOST_HELD / 2) return;
      this.#closeAll(key, record);
      this.#records.delete(key);
    }
  }

  #takeRefused(): SetAside[] {
    const refused = this.#refused;
    this.#refused = [];
    return refused;
  }
}

const engineOf = ({ unit, position }: { unit: string; position: string }) => `${unit}\u0000${position}`;

/** First sample after `i` that is of another engine or record, or not later by at most the gap. */
function runEnd({ count, unit, position, record, timeUs }: SampleBatch, i: number): number {
  let end = i + 1;
  for (; end < count; end++) {
    const step = timeUs[end]! - timeUs[end - 1]!;
    if (unit[end] !== unit[i] || !(step > 0 && step <= RECORD_GAP_US)) break;
    if (position !== null && position[end] !== position[i]) break;
    if (record !== null && record[end] !== record[i]) break;
  }
  return end;
}
