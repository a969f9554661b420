/**
 * What a competent person would put together in a notebook: weekly medians, a logistic hazard on age, level and slope,
 * the level carried on as it stands. The repair records are read without a mistake, but nothing else is known of the
 * truth: an unrecorded change goes unnoticed, and a wrong part counts as a failure.
 */
import type { DailySeries } from '../../../etl/backtest-series.ts';
import { dayNumber, US_PER_DAY } from '../../../etl/model/time.ts';
import type { Engine } from '../../../etl/model/unit.ts';
import { median } from '../../../etl/stats/quantile.ts';
import type { Store } from '../../../etl/store/store.ts';
import { chanceOf, logistic, type LogisticRow } from './logistic.ts';
import { placeKey, type Place, type TrueLife } from './truth.ts';
import { WEEK, weeklyLevels, type Component, type WeeklyLevels } from './weekly-levels.ts';

const LEVEL_WEEKS = 4;
const SLOPE_WEEKS = 13;
const LEAST_SLOPE_WEEKS = 4;
const HORIZON_WEEKS = 90 / WEEK;
/** A stray value must not decide alone. */
const MOST = 8;

export type Notebook = { chance(place: Place, originDay: number): number | null };
export type NotebookOptions = { lives: readonly TrueLife[]; firstDay: number; origins: readonly number[] };

type Known = { life: TrueLife; knownDay: number };
type At = {
  component: Component;
  weekly: WeeklyLevels;
  firstDay: number;
  origin: number;
  fitted: ReadonlyMap<string, number>;
  known: readonly Known[];
};

export async function openNotebook(
  store: Store,
  series: DailySeries,
  { lives, firstDay, origins }: NotebookOptions,
): Promise<Notebook> {
  const [engines, units] = [await store.engines(), await store.units(Infinity)];
  const [known, fitted] = [await knownEnds(store, lives), await fittings(store)];
  const answers = new Map<string, number>();
  for (const component of ['battery', 'starter'] as const) {
    const weekly = await weeklyLevels(series, { component, engines, units, firstDay });
    for (const origin of origins) {
      const at = {
        component,
        weekly,
        firstDay,
        origin,
        fitted,
        known: known.filter((each) => each.knownDay <= origin),
      };
      for (const [key, chance] of chancesAt(engines, at)) answers.set(`${key}/${origin}`, chance);
    }
  }
  return { chance: (place, originDay) => answers.get(`${placeKey(place)}/${originDay}`) ?? null };
}

/** Recorded ends, each known from the day on which an order of its day was entered. */
async function knownEnds(store: Store, lives: readonly TrueLife[]): Promise<Known[]> {
  const entered = new Map(
    (await store.workOrders(Infinity)).map(({ unit, openedUs, closedUs, enteredUs }) => [
      `${unit}/${Math.floor(openedUs / US_PER_DAY)}`,
      Math.floor((enteredUs ?? closedUs ?? openedUs) / US_PER_DAY),
    ]),
  );
  return lives
    .filter(({ recorded, removedDay }) => recorded && removedDay < Infinity)
    .map((life) => ({ life, knownDay: entered.get(`${life.unit}/${life.removedDay}`) ?? life.removedDay }));
}

async function fittings(store: Store): Promise<Map<string, number>> {
  const fitted = new Map<string, number>();
  for (const { unit, inServiceOn } of await store.units(Infinity))
    for (const component of ['battery', 'starter'])
      if (inServiceOn !== null) fitted.set(`${unit}/${component}`, dayNumber(inServiceOn));
  for (const { unit, component, fittedOn } of await store.fittedParts(Infinity))
    fitted.set(`${unit}/${component}`, dayNumber(fittedOn));
  return fitted;
}

type Span = { from: number; to: number; failed: boolean };

/** The lives of one engine's part as the notebook has them; `to` is excluded. */
function spansOf(engine: Engine, { component, fitted, known, firstDay, origin }: At): Span[] {
  const ends = known
    .map(({ life }) => life)
    .filter((life) => placeKey(life) === placeKey({ ...engine, component }))
    .sort((a, b) => a.removedDay - b.removedDay);
  let from = fitted.get(`${engine.unit}/${component}`) ?? firstDay;
  const spans = ends.map(({ removedDay, end }) => {
    const span = { from, to: removedDay, failed: end !== 'planned' };
    from = removedDay;
    return span;
  });
  return [...spans, { from, to: origin + 1, failed: false }];
}

function chancesAt(engines: readonly Engine[], at: At): [string, number][] {
  const { firstDay, origin, component } = at;
  const rows: LogisticRow[] = [];
  const asked: { key: string; x: number[] }[] = [];
  for (const engine of engines) {
    const levels = at.weekly.get(`${engine.unit}/${engine.position}`);
    const spans = spansOf(engine, at);
    for (const span of spans) rows.push(...weeksOf(span, { levels, firstDay, origin }));
    const week = Math.floor((origin + 1 - firstDay) / WEEK);
    const key = placeKey({ ...engine, component });
    asked.push({ key, x: features(levels, week, origin - spans.at(-1)!.from) });
  }
  const b = logistic(rows, rows[0]!.x.length);
  return asked.map(({ key, x }) => [key, 1 - (1 - chanceOf(x, b)) ** HORIZON_WEEKS]);
}

type Seen = { levels: Float64Array | undefined; firstDay: number; origin: number };

/** The weeks of a life that were over by the origin, or in which it ended. */
function weeksOf(span: Span, { levels, firstDay, origin }: Seen): LogisticRow[] {
  const rows: LogisticRow[] = [];
  for (let week = LEVEL_WEEKS; ; week++) {
    const day = firstDay + week * WEEK;
    if (day >= span.to || day > origin) return rows;
    if (day < span.from || (day + WEEK > origin && span.to > origin)) continue;
    rows.push({ x: features(levels, week, day - span.from), failed: Number(span.failed && span.to <= day + WEEK) });
  }
}

/** One, log age, level of the last weeks, slope a month over a quarter; what is not known is 0, the middle of the class. */
function features(levels: Float64Array | undefined, week: number, ageDays: number): number[] {
  const logAge = Math.log((Math.max(0, ageDays) + 30) / 365);
  if (levels === undefined) return [1, logAge, 0, 0];
  const last = levels.subarray(Math.max(0, week - LEVEL_WEEKS), week).filter((value) => !Number.isNaN(value));
  const level = last.length === 0 ? 0 : median(last);
  return [1, logAge, ...[level, slopeBefore(levels, week)].map((value) => Math.max(-MOST, Math.min(MOST, value)))];
}

/** Least squares over the last quarter, a month. */
function slopeBefore(levels: Float64Array, week: number): number {
  let [n, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  for (let back = 1; back <= SLOPE_WEEKS; back++) {
    const y = levels[week - back] ?? Number.NaN;
    if (Number.isNaN(y)) continue;
    n++;
    sx -= back;
    sy += y;
    sxx += back * back;
    sxy -= back * y;
  }
  return n < LEAST_SLOPE_WEEKS ? 0 : ((30 / WEEK) * (n * sxy - sx * sy)) / (n * sxx - sx * sx);
}
