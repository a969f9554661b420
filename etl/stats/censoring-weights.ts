/**
 * Weights for what censoring has hidden: the chance of still being watched, and its inverse for a score at a horizon.
 *
 * For: scores over lives that were not all followed to the end. Those that were stand for those that were not, each with
 * the inverse of its chance of having been watched so long (IPCW; Graf, Schmoor, Sauerbrei & Schumacher 1999).
 * G is the Kaplan–Meier curve of the censoring; a failure and a censoring at one time: the failure came first.
 * Valid where censoring does not depend on what is scored. Times in any one unit, over 0; `event` 1 for a failure.
 * Throws StatisticsRefusal for arrays of unequal length or a time that is not above 0. O(n log n).
 *
 * @example // times 1, 2+, 3: G stays 1 up to 2 and is ½ after; at horizon 2.5 the weights are 1, 0, 2
 * horizonWeights({ time: Float64Array.of(1, 2, 3), event: Uint8Array.of(1, 0, 1) }, 2.5)
 */
import { StatisticsRefusal } from './refusal.ts';

/** What was watched: time to failure or to the end of watching. */
export type Watched = { time: Float64Array; event: Uint8Array };

export type StillWatched = {
  /** G just before t. */
  before(t: number): number;
  /** G at t, a censoring at t counted. */
  at(t: number): number;
};

/** Every score of one set of rows asks for the same curve: it is kept as long as the columns themselves. */
const curves = new WeakMap<Float64Array, { event: Uint8Array; curve: StillWatched }>();

/** Columns must not change once they have been handed over. */
export function stillWatched(rows: Watched): StillWatched {
  const kept = curves.get(rows.time);
  if (kept?.event === rows.event) return kept.curve;
  const curve = censoringCurve(checkedRows('stillWatched', rows));
  curves.set(rows.time, { event: rows.event, curve });
  return curve;
}

function censoringCurve({ time, event }: Watched): StillWatched {
  const all = time.slice().sort();
  const failures = time.filter((_, i) => event[i] === 1).sort();
  const ends = time.filter((_, i) => event[i] !== 1).sort();
  const [steps, values]: [number[], number[]] = [[], []];
  let [product, failed] = [1, 0];
  let below = 0;
  for (let i = 0; i < ends.length;) {
    const t = ends[i]!;
    const first = i;
    while (i < ends.length && ends[i] === t) i++;
    while (failed < failures.length && failures[failed]! <= t) failed++;
    while (below < all.length && all[below]! < t) below++;
    const failedNow = countAt(failures, failed, t);
    product *= 1 - (i - first) / (all.length - below - failedNow);
    steps.push(t);
    values.push(product);
  }
  const level = (count: number) => (count === 0 ? 1 : values[count - 1]!);
  return {
    before: (t) => level(lowerBound(steps, t)),
    at: (t) => level(lowerBound(steps, t, true)),
  };
}

/** How many failures lie at t itself, given that `to` of them lie at or before it. */
function countAt(failures: Float64Array, to: number, t: number): number {
  let count = 0;
  while (to - count > 0 && failures[to - count - 1] === t) count++;
  return count;
}

/** How many steps lie before t; with `inclusive` at or before it. */
function lowerBound(steps: readonly number[], t: number, inclusive = false): number {
  let [low, high] = [0, steps.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (steps[middle]! < t || (inclusive && steps[middle] === t)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** 1/G(T−) for a failure up to the horizon, 1/G(horizon) for one that outlived it, 0 for one lost sight of before. */
export function horizonWeights(rows: Watched, horizon: number): Float64Array {
  const watched = stillWatched(rows);
  const beyond = watched.at(horizon);
  return rows.time.map((t, i) => {
    if (t > horizon) return 1 / beyond;
    return rows.event[i] === 1 ? 1 / watched.before(t) : 0;
  });
}

/** Refuses what cannot be scored; `what` is the caller's name. */
export function checkedRows<Rows extends Watched>(what: string, rows: Rows): Rows {
  if (rows.event.length !== rows.time.length)
    throw new StatisticsRefusal(what, `${rows.time.length} values, one a row`, rows.event.length, 'event');
  rows.time.forEach((t, i) => {
    if (!(t > 0)) throw new StatisticsRefusal(what, 'a time above 0', t, `time[${i}]`);
  });
  return rows;
}
