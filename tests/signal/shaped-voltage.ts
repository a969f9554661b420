/** Hand-made falls of the voltage and what the program says of them. The key is turned at second 3. */
import type { Recording } from '../../etl/model/samples.ts';
import { PATTERNS } from '../../etl/model/words.ts';
import { searchCranks } from '../../etl/signal/crank-search.ts';
import { uniforms } from './electrical-start.ts';

const BEGIN = 3;

type Shape = { rateHz: number; seconds?: number; rest?: number; noise?: number; step?: number };

/** A rest level, with `fall(t)` volts below it, t seconds from the key being turned. */
export function volts(
  fall: (t: number) => number,
  { rateHz, seconds = 8, rest = 12.6, noise = 0.01, step = 0.01 }: Shape,
) {
  const next = uniforms(rateHz + 3);
  return Array.from({ length: Math.round(seconds * rateHz) }, (_, i) => {
    const exact = rest - fall(i / rateHz - BEGIN) + 2 * noise * (next() - 0.5);
    return Number((Math.round(exact / step) * step).toFixed(4));
  });
}
export const during = (from: number, to: number) => (t: number) => t >= from && t < to;
export const channel = (count: number, rateHz: number, value: (t: number) => number) =>
  Float64Array.from({ length: count }, (_, i) => value(i / rateHz - BEGIN));
/** The start asked for in [0, seconds). */
export const asked = (samples: readonly number[], rateHz: number, seconds = 1.2) => ({
  startRequest: channel(samples.length, rateHz, (t) => (during(0, seconds)(t) ? 1 : 0)),
});
export const rowsOf = (recording: Recording) => searchCranks(recording, false).cranks.map(({ row }) => row);
export const formsOf = (recording: Recording) => rowsOf(recording).map(({ form }) => PATTERNS[form] ?? 'turned');
export const onsetOf = (recording: Recording) => (rowsOf(recording)[0]!.timeUs - recording.timeUs[0]!) / 1e6 - BEGIN;
