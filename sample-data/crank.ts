import type { Circuit } from './crank-circuit.ts';

/**
 * One engagement of a starter as it truly was.
 * `turning`: the engine turned; `slow`: it turned too slowly to fire; `click`: the solenoid pulled in, the motor got
 * nothing; `free_spin`: the motor turned, the engine did not; `chatter`: too little voltage to hold the solenoid in.
 * (A start request that draws nothing at all leaves no crank.)
 */
export type CrankKind = 'turning' | 'slow' | 'click' | 'free_spin' | 'chatter';

export type Crank = {
  position: string;
  day: number;
  secondOfDay: number;
  kind: CrankKind;
  started: boolean;
  /** Volts just before, key loads on. The circuit's open volts are the same: what the inrush starts from. */
  restVolts: number;
  circuit: Circuit;
  /** Mean current while cranking. */
  amps: number;
  rpm: number;
  seconds: number;
  chargeVolts: number;
  tempC: number;
  cylinders: number;
  /** Compression of the weakest cylinder over the others. */
  weakCylinder: number;
  /** Contact lost and regained while turning, seconds after onset; null where it was not. */
  dropoutAt: number | null;
  systemVolts: 12 | 24;
};
