import { BUS_SIGNALS, type BusSignal } from '../../model/bus-signals.ts';

/** A sender silent for so long gives way to another. Program. */
const SILENT_US = 60e6;

const NAMES: Record<BusSignal, string> = {
  engineRpm: 'engine speed',
  starterMode: 'starter mode',
  batteryVolts: 'battery voltage',
  keyswitchVolts: 'key-switch voltage',
  moduleVolts: 'control-unit voltage',
  coolantC: 'coolant temperature',
  ambientC: 'ambient temperature',
};

type Sender = { source: number; lastUs: number };

/**
 * Several control units may send the same signal, each as it measures it: values of two senders are never mixed. The
 * first that gives a value is taken until it falls silent; the others are told.
 */
export class ChosenSources {
  readonly #chosen: (Sender | undefined)[] = BUS_SIGNALS.map(() => undefined);
  readonly #others = BUS_SIGNALS.map(() => new Set<number>());

  /** Whether a value of this sender counts. `signal` is an index in BUS_SIGNALS. */
  takes(signal: number, source: number, us: number): boolean {
    const chosen = this.#chosen[signal];
    if (chosen !== undefined && chosen.source !== source && us - chosen.lastUs <= SILENT_US) {
      this.#others[signal]!.add(source);
      return false;
    }
    if (chosen === undefined) this.#chosen[signal] = { source, lastUs: us };
    else [chosen.source, chosen.lastUs] = [source, us];
    return true;
  }

  isKnown(signal: number): boolean {
    return this.#chosen[signal] !== undefined;
  }

  notes(): string[] {
    return BUS_SIGNALS.flatMap((name, signal) => {
      const others = [...this.#others[signal]!].sort((a, b) => a - b);
      if (others.length === 0) return [];
      const used = this.#chosen[signal]!.source;
      return [
        `${NAMES[name]} is sent by control unit ${used} and also by ${others.join(', ')}: only that of ${used} is used`,
      ];
    });
  }
}
