/**
 * Turning points of a voltage: where its means stopped falling and rose, or the other way round. A compression is a fall
 * and a rise.
 *
 * @example // 10.4 10.6 10.9 10.7 10.5 10.6 10.9 V, least 0.1 V: low 10.4, high 10.9, low 10.5
 */

import { windowMean } from './window-mean.ts';

/** Where the voltage turned from falling to rising (`isLow`) or back, and its mean there. */
export type Turn = { at: number; volts: number; isLow: boolean };

type Span = { from: number; to: number; span: number; least: number };

/** Turning points of the means of `span` samples, from one to the next at least `least` volts. */
export function turnsOf(volts: Float64Array, { from, to, span, least }: Span): Turn[] {
  const turns: Turn[] = [];
  const stride = Math.max(1, span >> 1);
  let [low, high, lowAt, highAt] = [Infinity, -Infinity, from, from];
  for (let i = from; i + span <= to; i += stride) {
    const mean = windowMean(volts, i, span);
    const middle = i + (span >> 1);
    if (mean < low) [low, lowAt] = [mean, middle];
    if (mean > high) [high, highAt] = [mean, middle];
    const rising = turns.at(-1)?.isLow;
    if (rising !== true && mean > low + least) {
      turns.push({ at: lowAt, volts: low, isLow: true });
      [high, highAt] = [mean, middle];
    } else if (rising !== false && mean < high - least) {
      turns.push({ at: highAt, volts: high, isLow: false });
      [low, lowAt] = [mean, middle];
    }
  }
  return turns;
}
