/**
 * Aalen–Johansen estimate: the share that has failed of each cause by a time, where any cause ends the life.
 *
 * For: failed against replaced as planned. One minus Kaplan–Meier per cause would answer what would happen if the other
 * causes did not exist, and the causes would add up to more than all. Valid with right censoring and delayed entry (a
 * life is at risk at t if entry < t ≤ exit). Times in any one unit; `cause` 0 for a life cut off, else 1, 2, …
 * F_k(t) = Σ S(tᵢ−)·d_ki/nᵢ with S the Kaplan–Meier curve of all causes together (Aalen & Johansen 1978).
 * Throws StatisticsRefusal for arrays of unequal length or a life with entry ≥ exit. O(n log n).
 *
 * @example aalenJohansen({ entry, exit, cause }).incidence(1, 10_000) // 0.0263158 for the shock absorbers (O’Connor 1985)
 */
import { StatisticsRefusal } from './refusal.ts';

export type CausedLives = { entry: Float64Array; exit: Float64Array; cause: Uint8Array };
export type Incidence = {
  /** Times at which a life ended of any cause, ascending. */
  time: Float64Array;
  atRisk: Float64Array;
  /** Share that is left. */
  survival: Float64Array;
  /** Share that has ended of a cause by t. */
  incidence(cause: number, t: number): number;
};

export function aalenJohansen(lives: CausedLives): Incidence {
  check(lives);
  const entries = lives.entry.slice().sort();
  const exits = lives.exit.slice().sort();
  const ended = Array.from(lives.exit, (t, i) => ({ t, cause: lives.cause[i]! }))
    .filter(({ cause }) => cause > 0)
    .sort((a, b) => a.t - b.t);
  const time = Float64Array.from(new Set(ended.map(({ t }) => t)));
  const [atRisk, survival] = [new Float64Array(time.length), new Float64Array(time.length)];
  const steps = new Map<number, Float64Array>();
  let [entered, left, at, before] = [0, 0, 0, 1];
  time.forEach((t, i) => {
    while (entered < entries.length && entries[entered]! < t) entered++;
    while (exits[left]! < t) left++;
    const n = entered - left;
    const first = at;
    for (; at < ended.length && ended[at]!.t === t; at++) {
      const { cause } = ended[at]!;
      const own = steps.get(cause) ?? new Float64Array(time.length);
      own[i]! += before / n;
      steps.set(cause, own);
    }
    before *= 1 - (at - first) / n;
    atRisk[i] = n;
    survival[i] = before;
  });
  const incidence = (cause: number, until: number) =>
    (steps.get(cause) ?? new Float64Array(0)).reduce((sum, step, i) => (time[i]! <= until ? sum + step : sum), 0);
  return { time, atRisk, survival, incidence };
}

function check({ entry, exit, cause }: CausedLives): void {
  const what = 'aalenJohansen';
  for (const [name, column] of Object.entries({ entry, cause }))
    if (column.length !== exit.length)
      throw new StatisticsRefusal(what, `${exit.length} values, one a life`, column.length, name);
  exit.forEach((to, i) => {
    if (!(entry[i]! >= 0 && to > entry[i]!))
      throw new StatisticsRefusal(what, 'a life with 0 ≤ entry < exit', `${entry[i]} to ${to}`, `life ${i}`);
  });
}
