import type { Vehicle } from './vehicle.ts';

/**
 * The solenoid: two windings pull the plunger in, which takes some tens of ms; then the contacts close and the pull-in
 * winding is shorted by them. The hold-in winding lets go where its volts fall too low: the plunger must go all the way
 * back before it can be pulled again, which gives the rattle of a flat battery.
 */
export class Solenoid {
  amps = 0;
  volts = 0;
  closed = false;
  #state: 'out' | 'pulling' | 'in' | 'returning' = 'out';
  #since = 0;
  #weak = 0;
  readonly #design: Vehicle['solenoid'];
  readonly #burnt: boolean;
  readonly #openWinding: boolean;

  constructor(design: Vehicle['solenoid'], { burnt, openWinding }: { burnt: boolean; openWinding: boolean }) {
    this.#design = design;
    this.#burnt = burnt;
    this.#openWinding = openWinding;
  }

  get idle(): boolean {
    return this.#state === 'out' && this.amps === 0;
  }

  /** `volts` at the end of the control circuit without load; 0 where it is open. */
  step(volts: number, controlOhms: number, seconds: number): void {
    const { holdOhms, pullOhms, inSeconds, backSeconds, pullV, dropV } = this.#design;
    const both = this.#openWinding ? Infinity : this.closed ? holdOhms : 1 / (1 / holdOhms + 1 / pullOhms);
    const wanted = volts > 0 ? volts / (both + controlOhms) : 0;
    this.amps += ((wanted - this.amps) * seconds) / 0.003;
    if (volts === 0 && this.amps < 0.05) this.amps = 0;
    this.volts = volts > 0 ? volts - this.amps * controlOhms : 0;
    if (this.#openWinding) return;
    this.#since += seconds;
    if (this.#state === 'out') {
      if (this.volts > pullV * 0.8 && wanted > 0) this.#to('pulling');
    } else if (this.#state === 'pulling') {
      if (this.volts < dropV) this.#to('returning');
      else if (this.#since >= inSeconds) this.#to('in');
    } else if (this.#state === 'in') {
      this.#weak = this.volts < dropV ? this.#weak + seconds : 0;
      if (this.#weak > 0.004) this.#to('returning');
    } else if (this.#since >= backSeconds) this.#to('out');
    this.closed =
      !this.#burnt &&
      (this.#state === 'in' || (this.#state === 'returning' && this.closed && this.#since < 0.3 * backSeconds));
  }

  #to(state: 'out' | 'pulling' | 'in' | 'returning'): void {
    this.#state = state;
    this.#since = 0;
    this.#weak = 0;
  }
}
