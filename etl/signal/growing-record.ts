import { VOLTS_ALONE, type Recording, type SampleBatch } from '../model/samples.ts';

/** Samples gathered before a record that goes on is searched for the first time. */
export const FIRST_LOOK = 16_384;

const SERIES = ['volts', 'amps', 'tempC', 'coolantC', 'rpm', 'startRequest', 'controlVolts'] as const;
type Series = (typeof SERIES)[number];

/** The record of one engine as it grows. */
export class GrowingRecord {
  readonly unit: string;
  readonly position: string;
  record = -1;
  count = 0;
  /** Samples in a row whose time ran back into what is recorded already, and the last of these times. */
  stepped = { count: 0, lastUs: Number.NaN };
  lookAt = FIRST_LOOK;
  #timeUs = new Float64Array(256);
  #line = new Float64Array(256);
  readonly #series: Record<Series, Float64Array | null> = {
    volts: new Float64Array(256),
    ...VOLTS_ALONE,
  };

  constructor(unit: string, position: string) {
    this.unit = unit;
    this.position = position;
  }

  get lastUs(): number {
    return this.#timeUs[this.count - 1]!;
  }

  /** The last sample not later than an instant; −1 where all are later. */
  lastUntil(us: number): number {
    let from = 0;
    let to = this.count;
    while (from < to) {
      const middle = (from + to) >> 1;
      if (this.#timeUs[middle]! <= us) from = middle + 1;
      else to = middle;
    }
    return from - 1;
  }

  /** Time and volts of a sample. */
  sample(index: number): { us: number; volts: number } {
    return { us: this.#timeUs[index]!, volts: this.#series.volts![index]! };
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
      // A column that only other engines of the file fill is no channel of this one.
      if (values === null || (this.#series[name] === null && isBlank(values, from, to))) {
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

function isBlank(values: Float64Array, from: number, to: number): boolean {
  let at = from;
  while (at < to && Number.isNaN(values[at]!)) at++;
  return at === to;
}

/** Where units come in turn a run is one sample, for which a call of `set` costs more than the copy. */
const SHORT_RUN = 16;

function put(into: Float64Array, at: number, run: { values: Float64Array; from: number; to: number }): void {
  const { values, from, to } = run;
  if (to - from > SHORT_RUN) into.set(values.subarray(from, to), at);
  else for (let i = from; i < to; i++) into[at + i - from] = values[i]!;
}
