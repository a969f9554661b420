import type { Crank } from './crank.ts';
import {
  INRUSH_SECONDS,
  POLARISATION,
  PULL_IN_AMPS,
  RIPPLE_SHARE,
  SOLENOID_SECONDS,
  SPIN_UP_SECONDS,
  STALLED_SECONDS,
  freeSpinInrush,
  inrushAmps,
  smoothed,
} from './logger.ts';
import type { LoggerKind } from './logger.ts';
import { stalledCrank } from './crank-circuit.ts';
import type { Random } from './random.ts';

/**
 * A crank in the time domain: terminal volts and amps, seconds counted from the motor's inrush (the solenoid's own step
 * comes 45 ms before). Compression ripple at rpm · cylinders / 120, the weak cylinder's peaks smaller; the engine's
 * pick-up; release; recovery or charging. Not modelled: bounce of the contacts, the alternator's own ripple.
 */
export type Waveform = { seconds: Float64Array; volts: Float64Array; amps: Float64Array };

const BEFORE_SECONDS = 1.3;
const PICK_UP_SECONDS = 0.14;
const DROPOUT_SECONDS = 0.11;

export function sampleWaveform(crank: Crank, logger: LoggerKind, random: Random): Waveform {
  const tail = crank.started ? (random.chance(0.6) ? 7.5 : 3) : 2;
  const phase = random.uniform() / logger.rateHz;
  const count = Math.floor((BEFORE_SECONDS + crank.seconds + tail) * logger.rateHz);
  const wave = { seconds: new Float64Array(count), volts: new Float64Array(count), amps: new Float64Array(count) };
  const pullInAmps = PULL_IN_AMPS[crank.systemVolts] * random.between(0.85, 1.15);
  const engine = { cylinderPhase: random.uniform(), weakAt: random.integer(0, crank.cylinders - 1), pullInAmps };
  for (let index = 0; index < count; index += 1) {
    const seconds = phase + index / logger.rateHz - BEFORE_SECONDS;
    const amps = smoothed((at) => ampsAt(crank, at, engine), seconds, logger.smoothSeconds);
    const volts = voltsAt(crank, seconds, amps) + logger.noiseVolts * random.normal();
    wave.seconds[index] = seconds;
    wave.amps[index] = amps + 2 * random.normal();
    wave.volts[index] = Math.round(volts / logger.stepVolts) * logger.stepVolts;
  }
  return wave;
}

type Turning = { cylinderPhase: number; weakAt: number; pullInAmps: number };

function ampsAt(crank: Crank, seconds: number, engine: Turning): number {
  if (crank.kind === 'click') return clickAmps(crank, seconds, engine);
  if (seconds < -SOLENOID_SECONDS || seconds >= crank.seconds) return 0;
  if (seconds < 0) return engine.pullInAmps;
  if (crank.kind === 'chatter') return chatterAmps(crank, seconds);
  if (crank.kind === 'free_spin') return crank.amps + freeSpinInrush(crank, seconds);
  if (crank.dropoutAt !== null && seconds >= crank.dropoutAt && seconds < crank.dropoutAt + DROPOUT_SECONDS)
    return HOLD_IN_AMPS;
  return turningAmps(crank, seconds, engine);
}

const HOLD_IN_AMPS = 15;

function clickAmps(crank: Crank, seconds: number, engine: Turning): number {
  if (seconds < 0 || seconds >= crank.seconds) return 0;
  return seconds < SOLENOID_SECONDS ? engine.pullInAmps : crank.amps;
}

/** Contacts close, the volts break down, the hold-in lets go, and again: about eight times a second (from memory). */
function chatterAmps(crank: Crank, seconds: number): number {
  const beat = (seconds * 8) % 1;
  return beat < 0.4 ? stalledCrank(crank.circuit).amps * (1 - Math.exp(-(beat / 8) / INRUSH_SECONDS)) : HOLD_IN_AMPS;
}

function turningAmps(crank: Crank, seconds: number, engine: Turning): number {
  const inrush = inrushAmps(crank, seconds);
  const spinning = Math.max(0, seconds - STALLED_SECONDS);
  const spunUp = 1 - Math.exp(-spinning / SPIN_UP_SECONDS);
  const turns = ((crank.rpm * crank.cylinders) / 120) * (spinning - SPIN_UP_SECONDS * spunUp) + engine.cylinderPhase;
  const strength = Math.floor(turns) % crank.cylinders === engine.weakAt ? crank.weakCylinder : 1;
  const ripple = -crank.amps * RIPPLE_SHARE * spunUp * strength * Math.cos(2 * Math.PI * turns);
  const left = crank.seconds - seconds;
  const pickUp = crank.started && left < PICK_UP_SECONDS ? 0.3 + (0.7 * left) / PICK_UP_SECONDS : 1;
  return (inrush + ripple) * pickUp;
}

function voltsAt(crank: Crank, seconds: number, amps: number): number {
  const polarised = 1 + (POLARISATION - 1) * (1 - Math.exp(-Math.max(0, seconds) / 0.4));
  if (seconds < crank.seconds) return crank.restVolts - amps * crank.circuit.batteryOhms * polarised;
  const since = seconds - crank.seconds;
  const drawn = Math.min(1, crank.amps / (0.25 * stalledCrank(crank.circuit).amps));
  const sagging = crank.restVolts - drawn * (crank.systemVolts / 12) * (0.12 + 0.3 * Math.exp(-since / 0.5));
  if (!crank.started || since < 0.4) return sagging;
  return sagging + (crank.chargeVolts - sagging) * (1 - Math.exp(-(since - 0.4) / 0.7));
}
