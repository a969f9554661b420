/**
 * What is usual for an engine: medians of its own earlier cranks that turned well, of one logger and rate band (what a
 * dip reads depends on the rate). Earlier ones only: a later crank never changes what was said of this one.
 */
import { stratumOf } from '../model/logger-stratum.ts';
import type { FinishedTable } from '../model/crank.ts';
import { medianOf } from './sorted-window.ts';
import type { CrankReadings } from './crank-readings.ts';
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';

/** Missing (NaN) where fewer than three cranks stand behind it. */
export type Usual = { count: number; sagRatio: number; fallTimes: number };

export const NOTHING_USUAL: Usual = { count: 0, sagRatio: Number.NaN, fallTimes: Number.NaN };

type Kept = Record<'sagRatio' | 'fallTimes', number[]>;

export class OwnBaseline {
  readonly #strata = new Map<number, Kept>();

  /** What was usual up to now in the stratum of row `index`. */
  usual({ columns }: FinishedTable, index: number): Usual {
    const kept = this.#strata.get(stratumOf(columns.source[index]!, columns.rateHz[index]!));
    if (kept === undefined) return NOTHING_USUAL;
    const count = Math.max(kept.sagRatio.length, kept.fallTimes.length);
    return { count, sagRatio: middle(kept.sagRatio), fallTimes: middle(kept.fallTimes) };
  }

  /** Takes a crank that turned well and points to nothing. */
  add({ columns }: FinishedTable, index: number, readings: CrankReadings): void {
    const stratum = stratumOf(columns.source[index]!, columns.rateHz[index]!);
    let kept = this.#strata.get(stratum);
    if (kept === undefined) this.#strata.set(stratum, (kept = { sagRatio: [], fallTimes: [] }));
    for (const name of ['sagRatio', 'fallTimes'] as const) {
      if (!(readings[name] > 0)) continue;
      kept[name].push(readings[name]);
      if (kept[name].length > S.ownMost) kept[name].shift();
    }
  }
}

function middle(values: readonly number[]): number {
  return values.length < S.ownLeast ? Number.NaN : medianOf(values);
}
