import { CAN_THRESHOLDS as C } from './can-thresholds.ts';

type Reading = { us: number; value: number };
const never: Reading = { us: Number.NaN, value: Number.NaN };

/** What the bus says of the air around a crank; where that is not sent, of coolant as cold as the battery. */
export class CanTemperatures {
  #ambient = never;
  #coolant = never;

  ambient(us: number, value: number): void {
    this.#ambient = { us, value };
  }

  coolant(us: number, value: number): void {
    this.#coolant = { us, value };
  }

  /** Ambient within ten minutes of this time; NaN where there is none. */
  ambientNear(us: number): number {
    return Math.abs(us - this.#ambient.us) <= C.temperatureSeconds * 1e6 ? this.#ambient.value : Number.NaN;
  }

  /** Coolant of an engine that has not run for long (`ranUs`: when it last ran, NaN for never seen). */
  coldCoolant(us: number, ranUs: number): number {
    const stood = !(us - ranUs < C.coldStandSeconds * 1e6);
    const fresh = us - this.#coolant.us <= C.temperatureSeconds * 1e6;
    return fresh && stood && this.#coolant.value <= C.coldCoolantC ? this.#coolant.value : Number.NaN;
  }
}
