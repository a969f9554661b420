import { BUS_SIGNALS, BUS_VOLTS, type BusSignal, type BusSignalBatch } from '../model/bus-signals.ts';
import { emptyTable, MEASURED_COLUMNS } from '../model/crank.ts';
import { CanStarts } from './can-starts.ts';
import type { FoundCranks } from './crank-finder.ts';

export type CanCranks = {
  /** Takes the next readings; gives the cranks that are decided by now. */
  push(batch: BusSignalBatch): FoundCranks[];
  /** The log has ended: what is left. */
  end(): FoundCranks[];
};

type Engine = { unit: string; position: string; starts: CanStarts };

/** Readings of a data bus in, one row a crank out: streaming, in bounded memory, without the register. */
export function createCanCranks(): CanCranks {
  const engines = new Map<string, Engine>();
  const take = () => [...engines.values()].filter(({ starts }) => starts.rows.length > 0).map(asTable);
  return {
    push(batch) {
      const { starts } = engineOf(engines, batch);
      for (let row = 0; row < batch.count; row++) read(starts, batch, row);
      return take();
    },
    end() {
      for (const { starts } of engines.values()) starts.breakRecord();
      return take();
    },
  };
}

function engineOf(engines: Map<string, Engine>, { unit, position }: BusSignalBatch): Engine {
  const key = JSON.stringify([unit, position]);
  const known = engines.get(key) ?? { unit, position, starts: new CanStarts() };
  engines.set(key, known);
  return known;
}

function read(starts: CanStarts, { signal, timeUs, value, line }: BusSignalBatch, row: number): void {
  const at = { us: timeUs[row]!, line: line[row]! };
  const reading = value[row]!;
  const name: BusSignal = BUS_SIGNALS[signal[row]!]!;
  starts.advance(at.us);
  switch (name) {
    case 'engineRpm':
      return starts.speed(reading, at);
    case 'starterMode':
      return starts.mode(reading, at);
    case 'coolantC':
      return starts.temperatures.coolant(at.us, reading);
    case 'ambientC':
      return starts.temperatures.ambient(at.us, reading);
    case 'batteryVolts':
    case 'keyswitchVolts':
    case 'moduleVolts':
      return starts.volts(BUS_VOLTS.indexOf(name), at.us, reading);
  }
}

/** Rows in time order: a request that was given up is decided before the crank in front of it. */
function asTable({ unit, position, starts }: Engine): FoundCranks {
  const rows = starts.rows.sort((a, b) => a.timeUs - b.timeUs);
  starts.rows = [];
  const measured = emptyTable(MEASURED_COLUMNS, rows.length);
  rows.forEach((row, index) => {
    for (const name of MEASURED_COLUMNS) measured.columns[name][index] = row[name];
  });
  return { unit, position, measured, waveforms: [] };
}
