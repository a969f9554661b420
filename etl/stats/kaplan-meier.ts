/**
 * Kaplan–Meier estimate of survival with delayed entry.
 *
 * For: what the recorded lives say by themselves, beside the fitted curve. A life is at risk at age t if
 * entry < t ≤ exit: one that was already old when watching began counts only from then on.
 * Valid for 0 ≤ entry < exit. Times in any one unit; `event` 1 for a failure, 0 for a life cut off.
 * S(t) = Π(1 − d/n) over the ages of failure; standard error by Greenwood; interval on the log(−log S) scale, which
 * stays within 0 and 1. Where S has fallen to 0 error and interval are missing (NaN). Trap of delayed entry: where the
 * early risk set is one or two lives a single failure takes S to 0 for good; look at `atRisk`.
 * Throws StatisticsRefusal for arrays of unequal length, rows out of bounds, a confidence outside 0 to 1. O(n log n).
 *
 * @example kaplanMeier({ entry: Float64Array.of(1, 2, 4, 0, 0), exit: Float64Array.of(2, 10, 5, 4, 3),
 *   event: Uint8Array.of(1, 1, 1, 1, 1) }).survival // 2/3, 4/9, 2/9, 1/9, 0
 */
import { normalQuantile } from './normal.ts';
import { StatisticsRefusal } from './refusal.ts';

/** One entry per age at which a life failed, ascending. */
export type KaplanMeier = {
  time: Float64Array;
  atRisk: Float64Array;
  failed: Float64Array;
  survival: Float64Array;
  standardError: Float64Array;
  low: Float64Array;
  high: Float64Array;
};

export type WatchedLives = { entry: Float64Array; exit: Float64Array; event: Uint8Array };

export function kaplanMeier(lives: WatchedLives, confidence = 0.95): KaplanMeier {
  check(lives, confidence);
  const entries = lives.entry.slice().sort();
  const exits = lives.exit.slice().sort();
  const failures = lives.exit.filter((_, i) => lives.event[i] === 1).sort();
  const time = Float64Array.from(new Set(failures));
  const count = time.length;
  const [atRisk, failed] = [new Float64Array(count), new Float64Array(count)];
  let [entered, left, seen] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    while (entered < entries.length && entries[entered]! < time[i]!) entered++;
    while (exits[left]! < time[i]!) left++;
    const before = seen;
    while (seen < failures.length && failures[seen] === time[i]) seen++;
    atRisk[i] = entered - left;
    failed[i] = seen - before;
  }
  return { time, atRisk, failed, ...productLimit(atRisk, failed, normalQuantile((1 + confidence) / 2)) };
}

type Estimate = Pick<KaplanMeier, 'survival' | 'standardError' | 'low' | 'high'>;

function productLimit(atRisk: Float64Array, failed: Float64Array, z: number): Estimate {
  const count = atRisk.length;
  const survival = new Float64Array(count);
  const [standardError, low, high] = [survival.slice(), survival.slice(), survival.slice()];
  let product = 1;
  let greenwood = 0;
  for (let i = 0; i < count; i++) {
    const [n, d] = [atRisk[i]!, failed[i]!];
    product *= 1 - d / n;
    greenwood += d / (n * (n - d));
    survival[i] = product;
    standardError[i] = product > 0 ? product * Math.sqrt(greenwood) : Number.NaN;
    const reach = Math.exp((z * Math.sqrt(greenwood)) / Math.abs(Math.log(product)));
    low[i] = product > 0 ? product ** reach : Number.NaN;
    high[i] = product > 0 ? product ** (1 / reach) : Number.NaN;
  }
  return { survival, standardError, low, high };
}

function check({ entry, exit, event }: WatchedLives, confidence: number): void {
  const what = 'kaplanMeier';
  if (!(confidence > 0 && confidence < 1)) {
    throw new StatisticsRefusal(what, 'a confidence between 0 and 1', confidence, 'confidence');
  }
  for (const [name, column] of Object.entries({ entry, event })) {
    if (column.length !== exit.length) {
      throw new StatisticsRefusal(what, `${exit.length} values, one a life`, column.length, name);
    }
  }
  for (let i = 0; i < exit.length; i++) {
    if (!(entry[i]! >= 0 && exit[i]! > entry[i]!)) {
      throw new StatisticsRefusal(what, 'a life with 0 ≤ entry < exit', `${entry[i]} to ${exit[i]}`, `life ${i}`);
    }
  }
}
