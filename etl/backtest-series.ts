import { dailyOf, type DailyReader, type EngineDays } from './assess-engines.ts';
import { engineKey } from './lives/build-lives.ts';
import { fleetClock } from './model/fleet-clock.ts';
import { dateOf } from './model/time.ts';
import type { Store } from './store/store.ts';
import type { DailyMedians } from './trends/daily-medians.ts';

/**
 * The fleet's daily medians, read once for all origins. A day's medians depend on that day's cranks and those before it,
 * never on later ones, so what a day's end gives is the beginning of the whole: `at` cuts it there. An instant within a
 * day, which cuts through the day's cranks, is read out of the store anew.
 */
export type DailySeries = { at: DailyReader; firstOn: string | null };

export async function readSeries(
  store: Store,
  onProgress?: (done: number, total: number) => void,
): Promise<DailySeries> {
  const fresh = dailyOf(store);
  const { timeZone } = await store.settings();
  const whole = new Map<string, EngineDays>();
  const engines = await store.engines();
  for (const [index, engine] of engines.entries()) {
    const read = await fresh(engine, { untilUs: Infinity, timeZone });
    if (read !== null) whole.set(engineKey(engine.unit, engine.position), read);
    onProgress?.(index + 1, engines.length);
  }
  const firstDay = [...whole.values()].reduce((least, each) => Math.min(least, each.firstDay), Infinity);
  const { dayOf } = fleetClock(timeZone);
  return {
    firstOn: Number.isFinite(firstDay) ? dateOf(firstDay) : null,
    async at(engine, until) {
      const day = dayOf(until.untilUs);
      const isWhole = dayOf(until.untilUs + 1) > day;
      if (!isWhole || until.timeZone !== timeZone) return fresh(engine, until);
      const read = whole.get(engineKey(engine.unit, engine.position));
      if (read === undefined || read.firstDay > day) return null;
      return { daily: upTo(read.daily, day), firstDay: read.firstDay };
    },
  };
}

/** The rows up to and including a day; an indicator without any value in them has no column, as when freshly read. */
export function upTo(daily: DailyMedians, lastDay: number): DailyMedians {
  let to = daily.day.length;
  while (to > 0 && daily.day[to - 1]! > lastDay) to--;
  const values: DailyMedians['values'] = {};
  for (const [name, column] of Object.entries(daily.values)) {
    const cut = column.subarray(0, to);
    if (!cut.every(Number.isNaN)) values[name as keyof typeof values] = cut;
  }
  return {
    day: daily.day.subarray(0, to),
    stratum: daily.stratum.subarray(0, to),
    cranks: daily.cranks.subarray(0, to),
    dropouts: daily.dropouts.subarray(0, to),
    retries: daily.retries.subarray(0, to),
    tempC: daily.tempC.subarray(0, to),
    restAtCrank: daily.restAtCrank.subarray(0, to),
    values,
  };
}
