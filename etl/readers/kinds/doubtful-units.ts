import type { SampleBatch } from '../../model/samples.ts';
import type { SetAside } from '../../model/set-aside.ts';
import { median } from 'd3-array';
import { LIMITS } from './column-limits.ts';
import type { Reader, ReaderSink } from '../reader.ts';

/** Batteries and the air around them are seldom so warm in °C; in °F that is a mild day (common practice). */
const WARM_FOR_CELSIUS = 55;
/** Handbooks allow a starter 30 s at a time: as milliseconds that is the shortest crank there is. */
const LONG_FOR_SECONDS = 30;
/**
 * Less is no bank of 12 or 24 V on the average, not even one that is used up; zero is a line that is not connected. A
 * probe of 10:1 leaves 1.3 V of 13, an input of 0 to 5 V has a divider before it (common practice).
 */
export const [LEAST_DIVIDED_VOLTS, LEAST_BANK_VOLTS] = [0.3, 5];
/** A crank draws more than any alternator gives: where the largest values are negative, so is discharge. */
const LEAST_DISCHARGE_AMPS = 100;
/** 1990 to 2100 in other counts than the milliseconds that a plain number is taken for. */
const EPOCHS = { epoch_s: 1, epoch_us: 1e6, epoch_ns: 1e9 };
const [EARLIEST_S, LATEST_S] = [631_152_000, 4_102_444_800];
/** Rows that stand twice make a half of them: beyond this share it is the clock that is coarse. */
const COARSE_CLOCK_SHARE = 0.8;
const LEAST_PAIRS = 8;
/** What a column `unit` holds beside a value, and no fleet calls a vehicle. */
const UNIT_OF_MEASURE = /^(?:m?v|volts?|millivolts?|amps?|°[cf])$/i;
/** Every so-manieth value is enough to tell a unit of measure, and costs nothing. */
const STRIDE = 61;
/** With fewer set-aside rows it is some rows that are wrong, not the unit of measure. */
const LEAST_ROWS = 20;

/**
 * The same reader, with a note where the values look like another unit of measure, which no limit catches: Fahrenheit
 * in a column of °C, milliseconds in one of seconds, a current with the other sign, volts behind a divider; and millivolts
 * in a column of volts, all of whose rows are set aside. Told, never converted.
 */
export function doubtingReader(reader: Reader): Reader {
  return {
    ...reader,
    async read(file, sink, options) {
      const doubts = new Doubts();
      const report = await reader.read(file, doubts.watching(sink), options);
      return { ...report, notes: [...report.notes, ...doubts.notes()] };
    },
  };
}

class Doubts {
  readonly #temperatures: number[] = [];
  readonly #crankSeconds: number[] = [];
  readonly #volts: number[] = [];
  readonly #epochs = new Map<string, number>();
  readonly #names = new Set<string>();
  #millivolts = 0;
  #milliamperes = 0;
  #sameInstant = 0;
  #pairs = 0;
  #leastAmps = Infinity;
  #mostAmps = -Infinity;

  watching(sink: ReaderSink): ReaderSink {
    return {
      ...sink,
      samples: async (batch) => {
        this.#seeTimes(batch);
        this.#names.add(batch.names[batch.unit[0] ?? 0] ?? '');
        this.#see(this.#temperatures, batch.tempC, batch.count);
        this.#see(this.#volts, batch.volts, batch.count);
        this.#seeAmps(batch.amps, batch.count);
        await sink.samples(batch);
      },
      cranks: async (batch) => {
        this.#see(this.#temperatures, batch.columns.tempC, batch.count);
        this.#see(this.#crankSeconds, batch.columns.crankSeconds, batch.count);
        this.#see(this.#volts, batch.columns.restVolts, batch.count);
        await sink.cranks(batch);
      },
      setAside: async (rows) => {
        this.#refused(rows);
        await sink.setAside(rows);
      },
    };
  }

  notes(): string[] {
    const notes: string[] = [];
    const temperature = Math.round(median(this.#temperatures) ?? Number.NaN);
    if (temperature > WARM_FOR_CELSIUS)
      notes.push(`temp_c looks like °F (${temperature} in the middle): a profile with unitOfMeasure °F converts it`);
    const volts = median(this.#volts) ?? Number.NaN;
    if (volts > LEAST_DIVIDED_VOLTS && volts < LEAST_BANK_VOLTS)
      notes.push(
        `volts look divided (${volts.toFixed(2)} in the middle): a profile with scale, such as 10 for a probe of 10:1, converts them`,
      );
    const seconds = Math.round(median(this.#crankSeconds) ?? Number.NaN);
    if (seconds > LONG_FOR_SECONDS)
      notes.push(
        `crank_seconds look like ms (${seconds} in the middle): a profile with unitOfMeasure ms converts them`,
      );
    const [least, most] = [Math.round(this.#leastAmps), Math.round(this.#mostAmps)];
    if (this.#milliamperes >= LEAST_ROWS)
      notes.push('amps look like mA: a profile with unitOfMeasure mA converts them');
    else if (-least > Math.max(most, LEAST_DISCHARGE_AMPS))
      notes.push(
        `amps look reversed (${least} to ${most} A): discharge counts positive, a profile turns it (reversed)`,
      );
    if (this.#millivolts >= LEAST_ROWS) notes.push('volts look like mV: a profile with unitOfMeasure mV converts them');
    const measure = [...this.#names].find((name) => UNIT_OF_MEASURE.test(name));
    if (measure !== undefined)
      notes.push(
        `unit looks like a unit of measure (${measure}), not a vehicle: a profile names the column or the unit`,
      );
    for (const [format, rows] of this.#epochs)
      if (rows >= LEAST_ROWS) notes.push(`time looks like ${format}: a profile with time.format ${format} reads it`);
    if (this.#pairs >= LEAST_PAIRS && this.#sameInstant > COARSE_CLOCK_SHARE * this.#pairs)
      notes.push(
        'time is written too coarsely, many rows have one instant: name a finer column, or samples_from_start in a profile',
      );
    return notes;
  }

  #see(into: number[], values: Float64Array | null, count: number): void {
    if (values === null || into.length > 100_000) return;
    for (let at = 0; at < count; at += STRIDE) if (!Number.isNaN(values[at]!)) into.push(values[at]!);
  }

  /** Whether a row and the next of its engine have one instant. */
  #seeTimes({ count, unit, position, timeUs }: SampleBatch): void {
    for (let at = 0; at + 1 < count; at += STRIDE) {
      if (unit[at] !== unit[at + 1] || position?.[at] !== position?.[at + 1]) continue;
      this.#pairs++;
      if (timeUs[at] === timeUs[at + 1]) this.#sameInstant++;
    }
  }

  /** All of them: an inrush is over before the next one by stride. */
  #seeAmps(amps: Float64Array | null, count: number): void {
    if (amps === null) return;
    let [least, most] = [this.#leastAmps, this.#mostAmps];
    for (let at = 0; at < count; at++) {
      const value = amps[at]!;
      if (value < least) least = value;
      if (value > most) most = value;
    }
    this.#leastAmps = least;
    this.#mostAmps = most;
  }

  /** A bank reads at least 1 V, and no more than 65: as millivolts. */
  #refused(rows: readonly SetAside[]): void {
    for (const { field, value } of rows) {
      if (field.endsWith('volts') && Number(value) >= 1000 && Number(value) <= 65_000) this.#millivolts++;
      const size = Math.abs(Number(value));
      if (field === 'amps' && size > LIMITS.amps.most && size < 1000 * LIMITS.amps.most) this.#milliamperes++;
      if (field !== 'time') continue;
      const epoch = Object.entries(EPOCHS).find(
        ([, each]) => Number(value) >= EARLIEST_S * each && Number(value) <= LATEST_S * each,
      )?.[0];
      if (epoch !== undefined) this.#epochs.set(epoch, (this.#epochs.get(epoch) ?? 0) + 1);
    }
  }
}
