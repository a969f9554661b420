/** Figures over many compared cranks: found, onset, volts, speed, pattern, component. Shares are 0 to 1. */
import { isCounted, type Checked, type Comparison } from './compare.ts';
import { isKnowable } from './knowable.ts';

export type Figures = Record<string, number>;

export const BANDS: readonly { name: string; from: number; to: number }[] = [
  { name: '10-25 Hz', from: 0, to: 49 },
  { name: '50-100 Hz', from: 50, to: 199 },
  { name: '200-1000 Hz', from: 200, to: 1999 },
  { name: '2-10 kHz', from: 2000, to: Infinity },
];

const share = (good: number, of: number) => (of === 0 ? Number.NaN : Math.round((1e4 * good) / of) / 1e4);

/** Found and false; a crank of which little is recorded counts neither way. Beside it, of those that could be known. */
export function finding({ checked, unfounded }: Comparison): Figures {
  const counts = checked.filter(({ crank }) => isCounted(crank.pattern) && crank.view !== 'optional');
  const isHit = ({ found }: Checked) => found !== null && isCounted(found.pattern);
  const hits = counts.filter(isHit).length;
  const knowable = counts.filter(isKnowable);
  const mistaken = checked.filter(
    ({ crank, found }) => !isCounted(crank.pattern) && found !== null && isCounted(found.pattern),
  );
  const falseRows = unfounded.filter(({ found }) => isCounted(found.pattern)).length + mistaken.length;
  return {
    cranks: counts.length,
    recall: share(hits, counts.length),
    unknowable: counts.length - knowable.length,
    recallOfKnowable: share(knowable.filter(isHit).length, knowable.length),
    precision: share(hits, hits + falseRows),
    falseRows,
  };
}

/** Cranks that a record holds from before onset to after release, without a gap: where a feature can be asked for. */
export function whole({ crank, found }: Checked): boolean {
  return (
    crank.view === 'whole' && !crank.gapped && found !== null && isCounted(found.pattern) && isCounted(crank.pattern)
  );
}

export function onset(checked: readonly Checked[]): Figures {
  const asked = checked.filter((each) => whole(each));
  const good = asked.filter(isOnsetRight);
  return { onsets: asked.length, onsetRight: share(good.length, asked.length) };
}

/** Within one sample (a jittered one lies further aside) or 5 ms. */
export function isOnsetRight({ log, crank, found }: Checked): boolean {
  const sample = (1 + log.logger.jitter) / log.logger.rateHz;
  return Math.abs(found!.timeUs - crank.onsetUs) / 1e6 <= Math.max(sample + 1e-5, 0.005);
}

/** Crank seconds, of what turned: within a sample at either end, or 20 ms. */
export function seconds(checked: readonly Checked[]): Figures {
  const turned = ['steady', 'slow', 'long', 'dropout'];
  const asked = checked.filter((each) => whole(each) && turned.includes(each.crank.pattern));
  const isRight = ({ log, crank, found }: Checked) => {
    const off = Math.abs(found!.crankSeconds - (crank.release - crank.onset));
    return off <= Math.max((2 * (1 + log.logger.jitter)) / log.logger.rateHz, 0.02);
  };
  return { crankSecondsAsked: asked.length, crankSecondsRight: share(asked.filter(isRight).length, asked.length) };
}

export function voltsLimit({ log }: Checked): number {
  return Math.max(log.logger.stepVolts, 0.02) + 1e-9;
}

/** Cranks whose volts are asked for: from 200 Hz up, not at the sensor's end stop, turned by a motor. */
export function hasVolts(each: Checked): boolean {
  const { log, crank } = each;
  const motor = !['chatter', 'solenoid_only', 'no_response'].includes(crank.pattern);
  return log.logger.rateHz >= 200 && whole(each) && !crank.clipped && motor;
}

export const restOff = ({ crank, found }: Checked) => found!.restVolts - crank.restVolts;
export const dipOff = ({ crank, found }: Checked) => found!.dipVolts - crank.sampledDip;
export const trueDipOff = ({ crank, found }: Checked) => found!.dipVolts - crank.dipVolts;
export const crankOff = ({ crank, found }: Checked) => found!.crankVolts - crank.crankVolts;
export const hasRolling = ({ crank }: Checked) => crank.rollingTo - crank.rollingFrom > 0.1;

export function volts(checked: readonly Checked[]): Figures {
  const asked = checked.filter(hasVolts);
  // A motor that never turns has no inrush that ends: its volts go on falling.
  const turned = asked.filter(({ crank }) => !(crank.rpm < 15) || crank.pattern === 'free_spin');
  const rests = asked.filter(({ crank }) => crank.restSeconds >= 0.15);
  const rolled = asked.filter(hasRolling);
  const within = (some: readonly Checked[], off: (each: Checked) => number) =>
    share(some.filter((each) => Math.abs(off(each)) <= voltsLimit(each)).length, some.length);
  return {
    restRight: within(rests, restOff),
    dipRight: within(turned, dipOff),
    dipRightByCircuit: within(turned, trueDipOff),
    crankVoltsRight: within(rolled, crankOff),
    crankVoltsAsked: rolled.length,
    crankVoltsMedianError: quantile(
      rolled.map((each) => Math.abs(crankOff(each))),
      0.5,
    ),
    crankVolts95Error: quantile(
      rolled.map((each) => Math.abs(crankOff(each))),
      0.95,
    ),
  };
}

/** Speed: of the cranks with four compressions or more, that turned, without dropouts. */
export function hasSpeed(each: Checked): boolean {
  const { crank, log } = each;
  const periods = ((crank.rollingTo - crank.rollingFrom) * crank.rpm * log.plan.vehicle.cylinders) / 120;
  const turned = ['steady', 'slow', 'long'].includes(crank.pattern) && crank.rpm >= 40;
  return whole(each) && turned && periods >= 4;
}

export const speedOff = ({ crank, found }: Checked) => Math.abs(found!.crankRpm / crank.rpm - 1);

export function speed(checked: readonly Checked[]): Figures {
  const asked = checked.filter((each) => hasSpeed(each) && each.log.logger.rateHz >= 100);
  const answered = asked.filter(({ found }) => !Number.isNaN(found!.crankRpm));
  const errors = answered.map(speedOff);
  return {
    speedsAsked: asked.length,
    speedAnswered: share(answered.length, asked.length),
    speedMedianError: quantile(errors, 0.5),
    speedWithin3: share(errors.filter((error) => error <= 0.03).length, errors.length),
    speedOver10: errors.filter((error) => error > 0.1).length,
    speedWorstError: quantile(errors, 1),
  };
}

export function quantile(values: readonly number[], q: number): number {
  const sorted = values.filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
  if (sorted.length === 0) return Number.NaN;
  return Math.round(1e4 * sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))]!) / 1e4;
}
