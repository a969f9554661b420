import type { Recording, SampleBatch } from '../model/samples.ts';
import type { SetAside } from '../model/set-aside.ts';

/** Samples of one record that lie further apart than this are two records. */
const RECORD_GAP_US = 2e6;
/** A clock that runs back by less was disturbed; by more, it was set: a new record begins. */
const CLOCK_STEP_US = 2e6;
/** Samples gathered before a record that goes on is searched for the first time. */
const FIRST_LOOK = 16_384;
/** A record that still cannot be decided is cut here: 100 s at 10 kHz. */
const MOST_SAMPLES = 1 << 20;
/** Samples held for all engines together; over it the record that has waited longest is closed. About 250 MB. */
const MOST_HELD = 4 << 20;

const SERIES = ['volts', 'amps', 'tempC', 'coolantC', 'rpm', 'startRequest', 'controlVolts'] as const;
type Series = (typeof SERIES)[number];

export type RecordPiece = { recording: Recording; more: boolean };
/** Looks at a piece and answers from which sample on it is still needed (`count`: none). */
export type OnPiece = (piece: RecordPiece) => number;

/**
 * Sorts a stream of samples into records: one engine, in time order, without long gaps. A record that goes on is
 * handed over in pieces; what a piece still needs is kept. Memory is bounded by `MOST_HELD`.
 */
export class Recorder {
  readonly #onPiece: OnPiece;
  readonly #channels = new Map<string, Channel>();
  #held = 0;
  #refused: SetAside[] = [];

  constructor(onPiece: OnPiece) {
    this.#onPiece = onPiece;
  }

  /** Takes a batch; gives the samples that cannot be placed in time. */
  push(batch: SampleBatch): SetAside[] {
    let last: Channel | null = null;
    let lastUnit = -1;
    let lastPosition = -1;
    for (let i = 0; i < batch.count;) {
      const unit = batch.unit[i]!;
      const position = batch.position === null ? -1 : batch.position[i]!;
      if (last === null || unit !== lastUnit || position !== lastPosition) {
        last = this.#channel(batch.names[unit]!, position < 0 ? '' : batch.names[position]!);
        lastUnit = unit;
        lastPosition = position;
      }
      i = this.#take(last, batch, i);
    }
    if (this.#held > MOST_HELD) this.#closeLongestWaiting();
    return this.#takeRefused();
  }

  /** Closes every record. */
  end(): SetAside[] {
    for (const channel of this.#channels.values()) this.#close(channel);
    this.#channels.clear();
    return this.#takeRefused();
  }

  #channel(unit: string, position: string): Channel {
    const key = `${unit}\u0000${position}`;
    const known = this.#channels.get(key);
    if (known !== undefined) {
      this.#channels.delete(key); // to the end of the order: the first is the one that has waited longest
      this.#channels.set(key, known);
      return known;
    }
    const channel = new Channel(unit, position);
    this.#channels.set(key, channel);
    return channel;
  }

  /** Takes sample `i` and those after it that go on without a break; returns the first that was not taken. */
  #take(channel: Channel, batch: SampleBatch, i: number): number {
    const us = batch.timeUs[i]!;
    const record = batch.record === null ? -1 : batch.record[i]!;
    if (channel.count > 0) {
      const step = us - channel.lastUs;
      if (record !== channel.record || step > RECORD_GAP_US || step < -CLOCK_STEP_US) this.#close(channel);
      else if (step <= 0) {
        const reason =
          step === 0 ? 'time requires one sample an instant' : 'time requires samples in order: the clock ran back';
        this.#refused.push({ line: batch.line[i]!, field: 'time', value: new Date(us / 1000).toISOString(), reason });
        return i + 1;
      }
    }
    channel.record = record;
    const end = runEnd(batch, i);
    for (let from = i; from < end;) {
      const to = Math.min(end, from + channel.lookAt - channel.count);
      channel.add(batch, from, to);
      this.#held += to - from;
      from = to;
      if (channel.count >= channel.lookAt) this.#look(channel);
    }
    return end;
  }

  #look(channel: Channel): void {
    const full = channel.count >= MOST_SAMPLES;
    const from = this.#onPiece({ recording: channel.recording(), more: !full });
    const dropped = full ? channel.count : from;
    channel.dropBefore(dropped);
    this.#held -= dropped;
    channel.lookAt = Math.min(MOST_SAMPLES, Math.max(FIRST_LOOK, 2 * channel.count));
  }

  #close(channel: Channel): void {
    if (channel.count > 1) this.#onPiece({ recording: channel.recording(), more: false });
    this.#held -= channel.count;
    channel.dropBefore(channel.count);
    channel.lookAt = FIRST_LOOK;
  }

  #closeLongestWaiting(): void {
    for (const [key, channel] of this.#channels) {
      if (this.#held <= MOST_HELD / 2) return;
      this.#close(channel);
      this.#channels.delete(key);
    }
  }

  #takeRefused(): SetAside[] {
    const refused = this.#refused;
    this.#refused = [];
    return refused;
  }
}

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

/** The record of one engine as it grows. */
class Channel {
  readonly unit: string;
  readonly position: string;
  record = -1;
  count = 0;
  lookAt = FIRST_LOOK;
  #timeUs = new Float64Array(256);
  #line = new Float64Array(256);
  readonly #series: Record<Series, Float64Array | null> = {
    volts: new Float64Array(256),
    amps: null,
    tempC: null,
    coolantC: null,
    rpm: null,
    startRequest: null,
    controlVolts: null,
  };

  constructor(unit: string, position: string) {
    this.unit = unit;
    this.position = position;
  }

  get lastUs(): number {
    return this.#timeUs[this.count - 1]!;
  }

  /** Takes samples [from, to) of a batch. */
  add(batch: SampleBatch, from: number, to: number): void {
    const at = this.count;
    this.count += to - from;
    if (this.count > this.#timeUs.length) this.#grow();
    put(this.#timeUs, at, { values: batch.timeUs, from, to });
    put(this.#line, at, { values: batch.line, from, to });
    for (let k = 0; k < SERIES.length; k++) {
      const name = SERIES[k]!;
      const values = batch[name];
      if (values === null) {
        this.#series[name]?.fill(Number.NaN, at, this.count);
        continue;
      }
      const into = (this.#series[name] ??= new Float64Array(this.#timeUs.length).fill(Number.NaN));
      put(into, at, { values, from, to });
    }
  }

  /** The samples so far, as views: valid until the next one is added. */
  recording(): Recording {
    const view = (values: Float64Array | null) => (values === null ? null : values.subarray(0, this.count));
    const { amps, tempC, coolantC, rpm, startRequest, controlVolts } = this.#series;
    return {
      unit: this.unit,
      position: this.position,
      count: this.count,
      timeUs: this.#timeUs.subarray(0, this.count),
      line: this.#line.subarray(0, this.count),
      volts: this.#series.volts!.subarray(0, this.count),
      amps: view(amps),
      tempC: view(tempC),
      coolantC: view(coolantC),
      rpm: view(rpm),
      startRequest: view(startRequest),
      controlVolts: view(controlVolts),
    };
  }

  dropBefore(index: number): void {
    for (const values of [this.#timeUs, this.#line, ...Object.values(this.#series)])
      values?.copyWithin(0, index, this.count);
    this.count -= index;
  }

  #grow(): void {
    // A power of two that holds the whole run: growing step by step would touch as much memory again.
    const length = 2 ** Math.ceil(Math.log2(this.count));
    const longer = (values: Float64Array) => {
      const grown = new Float64Array(length);
      grown.set(values);
      return grown;
    };
    this.#timeUs = longer(this.#timeUs);
    this.#line = longer(this.#line);
    for (const name of SERIES) {
      const values = this.#series[name];
      if (values !== null) this.#series[name] = longer(values);
    }
  }
}

/** Where units come in turn a run is one sample, for which a call of `set` costs more than the copy. */
const SHORT_RUN = 16;

function put(into: Float64Array, at: number, run: { values: Float64Array; from: number; to: number }): void {
  const { values, from, to } = run;
  if (to - from > SHORT_RUN) into.set(values.subarray(from, to), at);
  else for (let i = from; i < to; i++) into[at + i - from] = values[i]!;
}
