/**
 * How often failure came inside its window, where many lives were not followed to their failure.
 *
 * For: whether a window that should hold 80 % does. A life's end is put on its forecast's own scale, u = F(end): the
 * window from the 10 to the 90 % point is u from 0.1 to 0.9 for every life, and failures should be uniform over u. Lives
 * cut off are cut off in u as well, so Kaplan–Meier over u says how many fall before, inside and after the window.
 * The same as counting where every life was followed. `after` and `inside` are null where fewer than LEAST_AT_RISK lives
 * were followed as far as the window's end: then nothing is known of it.
 * Valid where censoring does not depend on the forecast's error. Throws StatisticsRefusal for no lives or u outside 0 to 1.
 *
 * @example windowCoverage(Float64Array.of(0.05, 0.3, 0.6, 0.95), Uint8Array.of(1, 1, 1, 1), { leastAtRisk: 1 }).inside // 0.5
 */
import { kaplanMeier } from './kaplan-meier.ts';
import { StatisticsRefusal } from './refusal.ts';

export type WindowCoverage = {
  before: number;
  inside: number | null;
  after: number | null;
  /** Lives still followed at the window's beginning and at its end. */
  atBeginning: number;
  atEnd: number;
};

export type WindowOptions = { early?: number; late?: number; leastAtRisk?: number };

/** A curve over fewer lives falls in steps of a fifth or more. Common practice. */
const LEAST_AT_RISK = 5;

export function windowCoverage(u: Float64Array, event: Uint8Array, options: WindowOptions = {}): WindowCoverage {
  const { early = 0.1, late = 0.9, leastAtRisk = LEAST_AT_RISK } = options;
  check(u, event);
  // Kaplan–Meier wants ends above 0; an end at u = 0 lies before every window.
  const exit = u.map((value) => Math.max(value, Number.MIN_VALUE));
  const curve = kaplanMeier({ entry: new Float64Array(u.length), exit, event });
  const left = (at: number) => {
    const last = curve.time.findLastIndex((t) => t < at);
    return last < 0 ? 1 : curve.survival[last]!;
  };
  const following = (at: number) => u.filter((value) => value >= at).length;
  const [atBeginning, atEnd] = [following(early), following(late)];
  // All failed before the end: nothing is at risk there because nothing is left, which is an answer.
  const told = atEnd >= leastAtRisk || left(late) === 0;
  return {
    before: 1 - left(early),
    inside: told ? left(early) - left(late) : null,
    after: told ? left(late) : null,
    atBeginning,
    atEnd,
  };
}

function check(u: Float64Array, event: Uint8Array): void {
  if (u.length === 0) throw new StatisticsRefusal('windowCoverage', 'at least one life', 0, 'u');
  if (event.length !== u.length)
    throw new StatisticsRefusal('windowCoverage', `${u.length} values, one a life`, event.length, 'event');
  u.forEach((value, i) => {
    if (!(value >= 0 && value <= 1))
      throw new StatisticsRefusal('windowCoverage', 'a probability from 0 to 1', value, `u[${i}]`);
  });
}
