import type { BusSignalBatch } from '../../model/bus-signals.ts';

/** Signals of a frame at most: a batch with less room left is full. */
const ROOM = 8;
const CAPACITY = 8192;

/** Readings gathered for the next call of the sink; its arrays are filled anew. */
export class SignalBatch implements BusSignalBatch {
  readonly unit: string;
  readonly position: string;
  count = 0;
  readonly signal = new Uint8Array(CAPACITY);
  readonly timeUs = new Float64Array(CAPACITY);
  readonly value = new Float64Array(CAPACITY);
  readonly line = new Float64Array(CAPACITY);

  constructor(unit: string, position: string) {
    this.unit = unit;
    this.position = position;
  }

  get isFull(): boolean {
    return this.count > CAPACITY - ROOM;
  }

  add(signal: number, value: number, { timeUs, line }: { timeUs: number; line: number }): void {
    const at = this.count++;
    this.signal[at] = signal;
    this.value[at] = value;
    this.timeUs[at] = timeUs;
    this.line[at] = line;
  }
}
