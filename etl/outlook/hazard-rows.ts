/**
 * A part on a day as the hazard's fit and its forecasts take it: what life model and wear expect of it from what was
 * seen by then, and what its indicators said.
 */
import { dayNumber } from '../model/time.ts';
import type { ForecastComponent } from '../model/words.ts';
import { weibullCumulativeHazard } from '../stats/weibull.ts';
import type { Readings } from '../trends/recent-reading.ts';
import type { Weekly } from '../trends/weekly-medians.ts';
import { combinedAt } from './combine.ts';
import type { UsualLevels } from './condition-index.ts';
import { conditionTrust } from './condition-trust.ts';
import { conditionColumns } from './hazard-features.ts';
import { PIECE_ENDS, type HazardRow } from './hazard-model.ts';
import { FOLLOWED_DAYS, type Landmark } from './landmarks.ts';
import { LATER_ENDS } from './later-hazard.ts';
import type { ClassedLife, LifeModel } from './life-model.ts';
import { pathOnDay, type NewestPoint } from './path-on-day.ts';
import { agesOfLife } from './unknown-age.ts';
import { wearFailure, type WearModel } from './wear-model.ts';

export type FittedModels = { lives: Record<string, LifeModel>; wear: WearModel | null; usual: UsualLevels };

/**
 * A landmark with what was seen of the part: its condition path (to be cut at the day) and the newest point of it on that
 * day, where it has one of its own, its readings, its troubles.
 */
export type SeenLandmark = Omit<Landmark, 'life'> & {
  life: ClassedLife;
  path: Weekly | null;
  newest: NewestPoint | null;
  readings: Readings;
  troubles: number;
};

export function hazardRow(seen: SeenLandmark, models: FittedModels, asOfDay: number): HazardRow {
  const { life, day, weight, readings, troubles } = seen;
  const { best } = models.lives[life.class] ?? models.lives['']!;
  const left = dayNumber(life.watchedToOn) - day;
  const ages = agesOfLife(life, day, best);
  const component = life.component as ForecastComponent;
  const later = LATER_ENDS.filter((_, k) => left > (LATER_ENDS[k - 1] ?? FOLLOWED_DAYS));
  const expected = expectedOf(seen, models, [...PIECE_ENDS, ...later]);
  return {
    day,
    yearsAgo: (day - asOfDay) / YEAR_DAYS,
    followedDays: Math.min(FOLLOWED_DAYS, left),
    failed: life.end === 'failure' && left <= FOLLOWED_DAYS,
    watched: { days: left, failed: life.end === 'failure', expected: expected.slice(PIECE_ENDS.length) },
    weight,
    expected: expected.slice(0, PIECE_ENDS.length),
    class: life.class,
    ageDays: ages.age.reduce((sum, age, k) => sum + ages.weight[k]! * age, 0),
    condition: conditionColumns(readings, { component, class: life.class, usual: models.usual }),
    troubles,
  };
}

/** Cumulative hazard to each of the ends, as forecast from what was seen by the day. */
function expectedOf(
  { life, path, newest, day }: SeenLandmark,
  { lives, wear }: FittedModels,
  ends: readonly number[],
): number[] {
  const { best } = lives[life.class] ?? lives['']!;
  const { age, weight } = agesOfLife(life, day, best);
  const seen = path === null ? null : pathOnDay(path, day, newest);
  return ends.map((days) => {
    const alive = age.reduce((sum, at, k) => {
      const hazard = weibullCumulativeHazard(at + days, best) - weibullCumulativeHazard(at, best);
      return sum + weight[k]! * Math.exp(-hazard);
    }, 0);
    const aged = -Math.log(alive);
    if (wear === null || seen === null) return aged;
    const by = { suddenShare: wear.suddenShare, trust: conditionTrust(seen.day.length) };
    return -Math.log(combinedAt(aged, 1 - wearFailure(seen, wear, days), by));
  });
}

const YEAR_DAYS = 365.25;
/** Jump starts and no-starts that records name count as a trouble for so long. Convention of this program. */
export const TROUBLE_DAYS = 90;

/** How many of the days lie in the so many days up to a day. */
export function troublesBy(days: readonly number[], onDay: number): number {
  return days.filter((day) => day <= onDay && day > onDay - TROUBLE_DAYS).length;
}
