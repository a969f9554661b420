import type { DailySeries } from '../../../etl/backtest-series.ts';
import { groupBy } from '../../../etl/model/group-by.ts';
import { US_PER_DAY } from '../../../etl/model/time.ts';
import type { Engine, Unit } from '../../../etl/model/unit.ts';
import { median } from '../../../etl/stats/quantile.ts';
import type { DailyMedians } from '../../../etl/trends/daily-medians.ts';

export type Component = 'battery' | 'starter';
/** Weeks from the log's first day on: by engine, how far each stands from the class. */
export type WeeklyLevels = ReadonlyMap<string, Float64Array>;
export type WeeklyOptions = {
  component: Component;
  engines: readonly Engine[];
  units: readonly Unit[];
  firstDay: number;
};

export const WEEK = 7;
const WEEKS = 105;
const SD_PER_MAD = 1.4826;

type Own = { key: string; group: string; values: Float64Array };

/** Distance from the week's median of the class, in robust spreads; NaN where nothing was logged. */
export async function weeklyLevels(
  series: DailySeries,
  { component, engines, units, firstDay }: WeeklyOptions,
): Promise<WeeklyLevels> {
  const unitOf = new Map(units.map((unit) => [unit.unit, unit]));
  const raw: Own[] = [];
  for (const engine of engines) {
    const unit = unitOf.get(engine.unit);
    const untilUs = (firstDay + WEEKS * WEEK + 1) * US_PER_DAY - 1;
    const read = await series.at(engine, { untilUs, timeZone: 'UTC' });
    if (unit === undefined || read === null) continue;
    const { values, sign } = weeksOf(read.daily, component, firstDay);
    raw.push({ key: `${engine.unit}/${engine.position}`, group: `${unit.class} ${sign}`, values });
  }
  const levels = new Map<string, Float64Array>();
  for (const group of groupBy(raw, (each) => each.group).values())
    for (const { key, values } of againstEachOther(group)) levels.set(key, values);
  return levels;
}

/** Cranking voltage for a battery; speed for a starter, and where a gateway gives none, how short the cranks were. */
function weeksOf({ values, day }: DailyMedians, component: Component, firstDay: number) {
  const column = component === 'battery' ? values.crank_volts : (values.crank_rpm ?? values.crank_seconds);
  const sign = component === 'starter' && values.crank_rpm === undefined ? -1 : 1;
  const weeks: number[][] = Array.from({ length: WEEKS }, () => []);
  day.forEach((each, row) => {
    const value = column?.[row] ?? Number.NaN;
    if (!Number.isNaN(value)) weeks[Math.floor((each - firstDay) / WEEK)]?.push(sign * value);
  });
  return { sign, values: Float64Array.from(weeks, (week) => (week.length === 0 ? Number.NaN : median(week))) };
}

function againstEachOther(group: readonly Own[]): Own[] {
  const levels = group.map((own) => ({ ...own, values: new Float64Array(WEEKS).fill(Number.NaN) }));
  for (let week = 0; week < WEEKS; week++) {
    const present = group.map(({ values }) => values[week]!).filter((value) => !Number.isNaN(value));
    if (present.length === 0) continue;
    const middle = median(present);
    const spread = SD_PER_MAD * median(present.map((value) => Math.abs(value - middle))) || 1;
    levels.forEach((own, row) => {
      own.values[week] = (group[row]!.values[week]! - middle) / spread;
    });
  }
  return levels;
}
