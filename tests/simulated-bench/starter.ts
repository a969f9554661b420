/**
 * Starter motor, clutch and engine as rotating masses at the crankshaft. The motor turns the engine through a clutch that
 * only pushes; each expansion throws the engine ahead of it for a moment. Before the pinion has found its tooth, and
 * while it bounces, the motor turns by itself.
 */
import { compressionCycle, CYCLE_POINTS, firingCycle } from './compression.ts';
import { batteryOhms } from './battery.ts';
import type { Plan } from './plan.ts';

const CYCLE = 4 * Math.PI;
const RAD_PER_RPM = Math.PI / 30;
/** Share of the rotating mass that belongs to the motor, seen from the crankshaft. */
const MOTOR_SHARE = 0.22;

export class Drive {
  readonly loopOhms: number;
  readonly inductance: number;
  readonly brushVolts: number;
  readonly idleOmega: number;
  amps = 0;
  motorOmega = 0;
  engineOmega = 0;
  angle: number;
  readonly #cylinders: number;
  readonly #k: number;
  readonly #ratedAmps: number;
  readonly #series: boolean;
  readonly #meanTorque: number;
  readonly #peakTorque: number;
  readonly #ownTorque: number;
  readonly #motorMass: number;
  readonly #engineMass: number;
  readonly #friction: number;
  readonly #warmOmega: number;
  readonly #compression: Float64Array;
  readonly #firing: Float64Array;

  constructor({ vehicle, friction, extra, startAngle }: Plan) {
    const { motor, engine, cableOhms, systemVolts } = vehicle;
    const nominal = { systemVolts, ccaA: vehicle.ccaA, agm: false, charge: 1, tempC: 25, wear: 1, surfaceVolts: 0 };
    const goodOhms = batteryOhms(nominal) + cableOhms + motor.ohms;
    const volts = (12.6 * systemVolts) / 12 - motor.brushVolts;
    this.#warmOmega = engine.warmRpm * RAD_PER_RPM;
    this.#ratedAmps = (motor.loadShare * volts) / goodOhms;
    this.#k = ((1 - motor.loadShare) * volts) / this.#warmOmega;
    this.#series = motor.series;
    this.#ownTorque = this.#k * this.#flux(motor.noLoadAmps) * motor.noLoadAmps;
    this.#meanTorque = this.#k * this.#ratedAmps - this.#ownTorque;
    this.#peakTorque = engine.peakShare * this.#meanTorque;
    const mass = (engine.spinUp * this.#k ** 2) / goodOhms;
    this.#motorMass = MOTOR_SHARE * mass;
    this.#engineMass = mass - this.#motorMass;
    this.#friction = friction;
    this.#compression = compressionCycle(engine);
    this.#firing = firingCycle(engine);
    this.loopOhms = cableOhms + motor.ohms + extra.cableOhms + extra.motorOhms;
    this.inductance = motor.tau * goodOhms;
    this.brushVolts = motor.brushVolts;
    this.idleOmega = engine.idleRpm * RAD_PER_RPM;
    this.angle = startAngle;
    this.#cylinders = vehicle.cylinders;
  }

  /** Which cylinder has passed its top dead centre last: changes at each, and not where the angle begins anew. */
  get strokes(): number {
    return Math.floor((this.angle / CYCLE + 0.5) * this.#cylinders + 1e-9) % this.#cylinders;
  }

  /** Current under `volts` behind `ohms`, over one step; open: it dies over the arc. */
  stepCurrent(volts: number, ohms: number, seconds: number, closed: boolean): void {
    if (!closed) {
      this.amps *= Math.exp(-seconds / 0.0005);
      if (this.amps < 0.01) this.amps = 0;
      return;
    }
    const driving = volts - this.brushVolts - this.#k * this.#flux(this.amps) * this.motorOmega;
    const share = seconds / this.inductance;
    this.amps = Math.max(0, (this.amps + share * driving) / (1 + share * (ohms + this.loopOhms)));
  }

  /** One step of the masses; `firing` 0 to 1 is how well it burns. */
  stepMasses(seconds: number, engaged: boolean, firing: number): void {
    const drive = this.#k * this.#flux(this.amps) * this.amps - (this.motorOmega > 0 ? this.#ownTorque : 0);
    const load = this.#engineTorque(firing);
    if (engaged && this.motorOmega >= this.engineOmega) {
      const standing = this.engineOmega <= 0 && drive < load;
      const speedUp = standing ? 0 : (drive - load) / (this.#motorMass + this.#engineMass);
      const push = standing ? 1 : drive - this.#motorMass * speedUp;
      if (push >= 0) {
        this.engineOmega = Math.max(0, this.engineOmega + speedUp * seconds);
        this.motorOmega = this.engineOmega;
        this.#turn(seconds);
        return;
      }
    }
    this.motorOmega = Math.max(0, this.motorOmega + (drive / this.#motorMass) * seconds);
    if (this.engineOmega > 0 || load < 0)
      this.engineOmega = Math.max(0, this.engineOmega - (load / this.#engineMass) * seconds);
    if (engaged && this.motorOmega > this.engineOmega) this.#meet();
    this.#turn(seconds);
  }

  /** The clutch takes hold: both go on with their common momentum. */
  #meet(): void {
    const whole = this.#motorMass + this.#engineMass;
    const omega = (this.#motorMass * this.motorOmega + this.#engineMass * this.engineOmega) / whole;
    this.motorOmega = omega;
    this.engineOmega = omega;
  }

  #turn(seconds: number): void {
    this.angle = (this.angle + this.engineOmega * seconds) % CYCLE;
  }

  #engineTorque(firing: number): number {
    const rubbing = this.#meanTorque * this.#friction * (0.75 + (0.25 * this.engineOmega) / this.#warmOmega);
    const gas = this.#peakTorque * this.#compression[this.#point()]!;
    if (firing === 0) return rubbing + gas;
    const governed = Math.max(0, Math.min(1, (1.3 * this.idleOmega - this.engineOmega) / (0.5 * this.idleOmega)));
    return rubbing + gas - 5 * this.#meanTorque * firing * governed * this.#firing[this.#point()]!;
  }

  #point(): number {
    return Math.floor((this.angle / CYCLE) * CYCLE_POINTS) % CYCLE_POINTS;
  }

  /** Field over that at rated current: a permanent magnet's does not change, a series winding's grows and saturates. */
  #flux(amps: number): number {
    if (!this.#series) return 1;
    return (0.12 + (0.88 * amps) / (amps + 0.5 * this.#ratedAmps)) / 0.7067;
  }
}
