/**
 * A whole vehicle, step by step: battery, loads, alternator, control circuit, solenoid, starter, engine. Gives what could
 * be measured at every tenth of a millisecond, and the moments at which things truly happened.
 */
import { Battery } from './battery.ts';
import { Drive } from './starter.ts';
import { Solenoid } from './solenoid.ts';
import type { Load, Plan, Press } from './plan.ts';

export const STEP = 0.0001;
const WARM_UP = 4;

/** Series at every STEP from time 0, and what happened when (s). */
export type Course = {
  count: number;
  volts: Float64Array;
  amps: Float64Array;
  rpm: Float64Array;
  controlVolts: Float64Array;
  request: Uint8Array;
  /** When a cylinder passed its top dead centre. */
  compressions: number[];
  presses: PressMoments[];
};

export type PressMoments = {
  press: Press;
  /** First moment of request, of any current; −1 where it did not come to it. */
  requested: number;
  letGo: number;
  closes: number[];
  opens: number[];
  fires: number;
};

export function run(plan: Plan): Course {
  return new Circuit(plan).run();
}

class Circuit {
  readonly #plan: Plan;
  readonly #battery: Battery;
  readonly #drive: Drive;
  readonly #solenoid: Solenoid;
  #alternatorAmps = 0;
  #running: boolean;
  #runsSince = -Infinity;
  #fires = Infinity;
  #dies = Infinity;
  #strokes: number;
  readonly #compressions: number[] = [];
  #volts: number;

  constructor(plan: Plan) {
    this.#plan = plan;
    this.#battery = new Battery(plan.battery, plan.taus);
    this.#drive = new Drive(plan);
    this.#strokes = this.#drive.strokes;
    this.#solenoid = new Solenoid(plan.vehicle.solenoid, {
      burnt: plan.fault === 'solenoid only',
      openWinding: plan.fault === 'no response, winding',
    });
    this.#running = plan.runsUntil > 0;
    this.#volts = this.#battery.open;
    if (this.#running) this.#drive.engineOmega = this.#drive.idleOmega;
    for (let t = -WARM_UP; t < 0; t += 0.001) this.#electrics(t, 0.001);
  }

  run(): Course {
    const count = Math.ceil(this.#plan.seconds / STEP);
    const series = () => new Float64Array(count);
    const course: Course = {
      count,
      volts: series(),
      amps: series(),
      rpm: series(),
      controlVolts: series(),
      request: new Uint8Array(count),
      compressions: this.#compressions,
      presses: this.#plan.presses.map((press) => ({
        press,
        requested: press.at,
        letGo: press.at + press.most,
        closes: [],
        opens: [],
        fires: Infinity,
      })),
    };
    let at = 0;
    for (let i = 0; i < count; i++) {
      const t = i * STEP;
      while (at < course.presses.length - 1 && t >= course.presses[at + 1]!.press.at) at++;
      const now = course.presses[at];
      const held = now !== undefined && t >= now.press.at && t < now.letGo;
      this.#step(t, held ? now : null, now ?? null);
      this.#write(course, i, held);
    }
    return course;
  }

  #write(course: Course, i: number, held: boolean): void {
    course.volts[i] = this.#volts;
    course.amps[i] = this.#total;
    course.rpm[i] = (this.#drive.engineOmega * 30) / Math.PI;
    course.controlVolts[i] = this.#solenoid.volts;
    course.request[i] = held ? 1 : 0;
  }

  #step(t: number, held: PressMoments | null, last: PressMoments | null): void {
    const plan = this.#plan;
    const drive = this.#drive;
    const solenoid = this.#solenoid;
    const contactSince = last === null || last.closes.length === 0 ? -1 : t - last.closes[0]!;
    const lost = held === null || plan.controlLost.some((gap) => isIn(gap, t - held.press.at));
    const open = plan.fault === 'no response, control';
    const wasClosed = solenoid.closed;
    if (!lost || !solenoid.idle) solenoid.step(lost || open ? 0 : this.#starterVolts(), plan.controlOhms, STEP);
    if (last !== null && solenoid.closed !== wasClosed) (solenoid.closed ? last.closes : last.opens).push(t);
    this.#electrics(t, STEP);
    const brushes = !plan.brushesOpen.some((gap) => isIn(gap, contactSince));
    const behind = this.#battery.inner - this.#battery.ohms * this.#others;
    if (solenoid.closed || drive.amps > 0)
      drive.stepCurrent(behind, this.#battery.ohms, STEP, solenoid.closed && brushes);
    this.#turn(t, { held, last, contactSince });
    this.#volts = behind - this.#battery.ohms * drive.amps;
    this.#total = this.#others + drive.amps;
  }

  /** A bad ground or positive cable is felt by the solenoid too. */
  #starterVolts(): number {
    return Math.max(0.1, this.#volts - this.#drive.amps * this.#plan.extra.cableOhms);
  }

  #turn(
    t: number,
    { held, last, contactSince }: { held: PressMoments | null; last: PressMoments | null; contactSince: number },
  ): void {
    const plan = this.#plan;
    const drive = this.#drive;
    // It fires first in a cylinder that passes its top dead centre.
    const passed = drive.strokes !== this.#strokes;
    this.#strokes = drive.strokes;
    if (passed && !this.#running) this.#compressions.push(t);
    if (passed && last !== null && last.fires === Infinity && contactSince >= last.press.firesAfter) {
      this.#fires = t;
      last.fires = t;
    }
    if (t >= this.#dies || (plan.runsUntil > 0 && t >= plan.runsUntil && this.#runsSince === -Infinity)) {
      this.#running = false;
      this.#fires = this.#dies = Infinity;
      this.#runsSince = -1e9;
    }
    const firing =
      this.#fires === Infinity ? 0 : Math.min(1, (t - this.#fires) / (last?.press.firingBuilds ?? 0.1) + 0.15);
    if (
      held !== null &&
      firing > 0 &&
      drive.engineOmega > 0.75 * drive.idleOmega &&
      held.letGo > t + held.press.reaction
    )
      held.letGo = Math.min(held.letGo, t + held.press.reaction);
    if (firing > 0 && !this.#running && drive.engineOmega > 0.7 * drive.idleOmega) {
      this.#running = true;
      this.#runsSince = t;
      this.#dies = t + (last?.press.diesAfter ?? Infinity);
    }
    if (drive.amps === 0 && drive.motorOmega === 0 && this.#running) {
      drive.engineOmega += ((drive.idleOmega - drive.engineOmega) * STEP) / 0.4;
      return;
    }
    if (drive.amps === 0 && drive.motorOmega === 0 && drive.engineOmega === 0) return;
    const off = plan.fault === 'free spin' || plan.bounces.some((gap) => isIn(gap, contactSince));
    drive.stepMasses(STEP, !off, firing);
  }

  #others = 0;
  #total = 0;

  #electrics(t: number, seconds: number): void {
    let loads = 0;
    const share = this.#volts / this.#battery.open;
    for (const load of this.#plan.loads)
      if (t >= load.from && t < load.to) loads += ampsOf(load, t - load.from) * share;
    this.#alternate(t, seconds);
    this.#others = loads + this.#solenoid.amps - this.#alternatorAmps;
    const drawn = this.#others + this.#drive.amps;
    this.#battery.step(drawn, seconds);
    if (t < 0) this.#volts = this.#battery.inner - this.#battery.ohms * drawn;
  }

  #alternate(t: number, seconds: number): void {
    const { setVolts, mostAmps, excitesAfter } = this.#plan.vehicle.alternator;
    const on = this.#running && t >= this.#runsSince + excitesAfter;
    if (!on) {
      if (this.#alternatorAmps === 0) return;
      this.#alternatorAmps *= Math.exp(-seconds / 0.05);
      if (this.#alternatorAmps < 0.05) this.#alternatorAmps = 0;
      return;
    }
    const ripple = 1 + 0.03 * Math.sin(2 * Math.PI * 87 * t) + 0.02 * Math.sin(2 * Math.PI * 13 * t);
    const slope = 60 * (setVolts * (1 + 0.002 * (ripple - 1)) - this.#volts);
    this.#alternatorAmps = Math.max(0, Math.min(mostAmps * ripple, this.#alternatorAmps + slope * seconds));
  }
}

function isIn(gap: { at: number; seconds: number }, t: number): boolean {
  return t >= gap.at && t < gap.at + gap.seconds;
}

/** Filaments and motors draw most at first. */
function ampsOf({ kind, amps }: Load, since: number): number {
  switch (kind) {
    case 'lamps':
      return amps * (1 + 5 * Math.exp(-since / 0.04));
    case 'blower':
      return amps * (1 + 1.2 * Math.exp(-since / 0.3));
    case 'lift':
      return amps * (1 + 1.3 * Math.exp(-since / 0.09));
    case 'heater':
      return amps * (1 + 0.15 * Math.exp(-since / 1.5));
    case 'standing':
      return amps;
  }
}
