import type { SetAside } from '../../model/set-aside.ts';
import { median } from 'd3-array';
import type { Reader, ReaderSink } from '../reader.ts';

/** Batteries and the air around them are seldom so warm in °C; in °F that is a mild day (common practice). */
const WARM_FOR_CELSIUS = 55;
/** Handbooks allow a starter 30 s at a time: as milliseconds that is the shortest crank there is. */
const LONG_FOR_SECONDS = 30;
/** A crank draws more than any alternator gives: where the largest values are negative, so is discharge. */
const LEAST_DISCHARGE_AMPS = 100;
/** Every so-manieth value is enough to tell a unit of measure, and costs nothing. */
const STRIDE = 61;
/** With fewer set-aside rows it is some rows that are wrong, not the unit of measure. */
const LEAST_ROWS = 20;

/**
 * The same reader, with a note where the values look like another unit of measure, which no limit catches: Fahrenheit
 * in a column of °C, milliseconds in one of seconds, a current with the other sign; and millivolts in a column of volts,
 * all of whose rows are set aside. Told, never converted.
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
  #millivolts = 0;
  #leastAmps = Infinity;
  #mostAmps = -Infinity;

  watching(sink: ReaderSink): ReaderSink {
    return {
      ...sink,
      samples: async (batch) => {
        this.#see(this.#temperatures, batch.tempC, batch.count);
        this.#seeAmps(batch.amps, batch.count);
        await sink.samples(batch);
      },
      cranks: async (batch) => {
        this.#see(this.#temperatures, batch.columns.tempC, batch.count);
        this.#see(this.#crankSeconds, batch.columns.crankSeconds, batch.count);
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
    const seconds = Math.round(median(this.#crankSeconds) ?? Number.NaN);
    if (seconds > LONG_FOR_SECONDS)
      notes.push(
        `crank_seconds look like ms (${seconds} in the middle): a profile with unitOfMeasure ms converts them`,
      );
    const [least, most] = [Math.round(this.#leastAmps), Math.round(this.#mostAmps)];
    if (-least > Math.max(most, LEAST_DISCHARGE_AMPS))
      notes.push(
        `amps look reversed (${least} to ${most} A): discharge counts positive, a profile turns it (reversed)`,
      );
    if (this.#millivolts >= LEAST_ROWS) notes.push('volts look like mV: a profile with unitOfMeasure mV converts them');
    return notes;
  }

  #see(into: number[], values: Float64Array | null, count: number): void {
    if (values === null || into.length > 100_000) return;
    for (let at = 0; at < count; at += STRIDE) if (!Number.isNaN(values[at]!)) into.push(values[at]!);
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
    for (const { field, value } of rows)
      if (field.endsWith('volts') && Number(value) >= 1000 && Number(value) <= 65_000) this.#millivolts++;
  }
}
