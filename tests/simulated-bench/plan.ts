import type { Vehicle } from './vehicle.ts';
import type { BatteryState } from './battery.ts';

/** What is wrong. `none` stands for a vehicle in order. */
export const FAULTS = [
  'none',
  'weak battery',
  'flat battery',
  'bad cable',
  'worn starter',
  'brush dropouts',
  'control dropouts',
  'solenoid only',
  'chatter by battery',
  'chatter by cable',
  'no response, control',
  'no response, winding',
  'free spin',
  'drag',
  'does not fire',
  'weak cylinder',
] as const;
export type Fault = (typeof FAULTS)[number];

/** What happens around it. */
export const SITUATIONS = [
  'first start',
  'preheated start',
  'repeated start',
  'start-stop',
  'loads only',
  'engine idles',
] as const;
export type Situation = (typeof SITUATIONS)[number];

/** The key is turned at `at`; it is let go `reaction` after the engine runs by itself, at the latest after `most`. */
export type Press = {
  at: number;
  most: number;
  reaction: number;
  /** The engine fires so long after the motor has begun to turn; Infinity: it does not. Builds up over `firingBuilds`. */
  firesAfter: number;
  firingBuilds: number;
  /** It dies so long after it was let go; Infinity: it runs on. */
  diesAfter: number;
};

export type Load = {
  kind: 'lamps' | 'blower' | 'lift' | 'heater' | 'standing';
  from: number;
  to: number;
  amps: number;
};

export type Plan = {
  vehicle: Vehicle;
  battery: BatteryState;
  taus: { fast: number; slow: number };
  fault: Fault;
  situation: Situation;
  /** Length of what is simulated, s. */
  seconds: number;
  tempC: number;
  coolantC: number;
  presses: Press[];
  loads: Load[];
  /** The engine runs from the beginning until then; −Infinity: it stands. */
  runsUntil: number;
  /** Friction over that of the warm engine. */
  friction: number;
  /** Added to the good circuit, ohm. */
  extra: { cableOhms: number; motorOhms: number };
  /** Motor circuit open at these times after the contacts close (worn brushes). */
  brushesOpen: { at: number; seconds: number }[];
  /** Control circuit lost at these times after the key is turned. */
  controlLost: { at: number; seconds: number }[];
  controlOhms: number;
  /** Pinion off the gear at these times after the contacts close. */
  bounces: { at: number; seconds: number }[];
  startAngle: number;
  seed: number;
};
