import type { Recording } from '../model/samples.ts';
import { windowMedian } from './sorted-window.ts';
import type { Phases } from './phases.ts';

export type InrushResistance = { ampsPeak: number; batteryOhms: number; loopOhms: number };

const NONE: InrushResistance = { ampsPeak: Number.NaN, batteryOhms: Number.NaN, loopOhms: Number.NaN };

/**
 * Resistances by Ohm's law at the inrush, while the motor stands still, where current is logged (discharge positive):
 * R_battery = (rest − V) / (I − I_rest) and R_loop = V / I at the sample of the greatest current.
 *
 * @example // 12.6 V at rest, 5 mΩ battery, 1 mΩ cables, 4.5 mΩ motor: 1200 A, 6.6 V at the terminals
 *          // batteryOhms 0.005, loopOhms 0.0055
 */
export function inrushResistance(recording: Recording, phases: Phases, restVolts: number): InrushResistance {
  const { amps, volts } = recording;
  if (amps === null) return NONE;
  const from = Math.max(0, phases.onset - 1);
  const to = Math.max(phases.dip + 2, phases.onset + 2);
  let peak = -1;
  let least = 0;
  for (let i = from; i < Math.min(to, recording.count); i++) {
    if (Number.isNaN(amps[i]!)) continue;
    if (peak < 0 || amps[i]! > amps[peak]!) peak = i;
    least = Math.min(least, amps[i]!);
  }
  // No starter charges the bank: the channel is reversed, which the import has told.
  if (peak < 0 || amps[peak]! <= -least) return NONE;
  const restAmps = phases.onset > 2 ? windowMedian(amps, Math.max(0, phases.onset - 50), phases.onset - 1) : 0;
  const drawn = amps[peak]! - (Number.isNaN(restAmps) ? 0 : restAmps);
  const fall = restVolts - volts[peak]!;
  const solid = drawn > 50 && fall > 0;
  return {
    ampsPeak: amps[peak]!,
    batteryOhms: solid ? fall / drawn : Number.NaN,
    loopOhms: solid ? volts[peak]! / amps[peak]! : Number.NaN,
  };
}
