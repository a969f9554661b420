/**
 * Did the forecasts come true? Walks forward through history: at each origin the very assessment that was made, or would
 * have been made, that day, then what happened to each part within the horizon.
 *
 * An assessment uses only what was known by its date, so what it was fitted on ends where the forecast's horizon begins:
 * no horizon lies both in what was learnt and in what is tested, at any origin. What happened is read from the lives
 * that all records make, those entered later included.
 */
import { assess } from './assess.ts';
import type { FleetParameters } from './assess-fleet.ts';
import { backtestPlan, entryDelayDays, originsOf, type PlanOptions } from './backtest-plan.ts';
import { readSeries, type DailySeries } from './backtest-series.ts';
import { knownFleet } from './known-fleet.ts';
import { engineKey } from './lives/build-lives.ts';
import type { Backtest, BacktestForecast } from './model/backtest.ts';
import { groupBy } from './model/group-by.ts';
import { failureProbability, type Outlook } from './model/outlook.ts';
import type { ServiceLife } from './model/service-life.ts';
import { asOf, dateOf, dayNumber, type AsOf } from './model/time.ts';
import type { Unit } from './model/unit.ts';
import { FORECAST_COMPONENTS } from './model/words.ts';
import {
  ageSurvival,
  baseRate,
  belowThreshold,
  lastValue,
  latestReadings,
  type Readings,
} from './outlook/backtest-baselines.ts';
import { failedWithin, hindsight, outcomeOf, partPlace, type Hindsight } from './outlook/backtest-outcome.ts';
import { pullMonths } from './outlook/backtest-pulls.ts';
import { scoresOf } from './outlook/backtest-scores.ts';
import type { Store } from './store/store.ts';

export type BacktestOptions = PlanOptions & {
  /** The newest day with data: what happened is known up to here, less the time that records take. */
  newest: AsOf;
  seed?: number;
  /** Draws of the bootstrap. */
  draws?: number;
  onProgress?: (done: number, total: number) => void;
};

const SEED = 1;
const DRAWS = 200; // common practice for a percentile interval of 95 %: a few draws lie beyond each end

export async function backtest(store: Store, options: BacktestOptions): Promise<Backtest> {
  const { newest, onProgress, seed = SEED, draws = DRAWS } = options;
  const { timeZone } = await store.settings();
  const series = await readSeries(store);
  const delayDays = entryDelayDays(await store.workOrders(newest.us));
  const { lives } = await knownFleet(store, newest, { daily: series.at });
  const followedDay = dayNumber(newest.on) - delayDays;
  const plan = backtestPlan(options, { firstOn: firstDay(series, lives, newest), followedToOn: dateOf(followedDay) });
  const origins = originsOf(plan);
  const known = { after: hindsight(lives, followedDay), horizonDays: plan.horizonDays, series };
  const made: OriginForecasts[] = [];
  for (const [index, on] of origins.entries()) {
    made.push(await forecastsAt(store, asOf(on, timeZone), known));
    onProgress?.(index + 1, origins.length);
  }
  const forecasts = made.flatMap((each) => each.forecasts);
  const scoring = { horizonDays: plan.horizonDays, seed, draws };
  return {
    plan,
    origins,
    followedToOn: dateOf(followedDay),
    entryDelayDays: delayDays,
    refused: made.reduce((sum, each) => sum + each.refused, 0),
    gone: forecasts.filter(({ end }) => end === 'gone').length,
    unplaced: made.reduce((sum, each) => sum + each.unplaced, 0),
    scores: FORECAST_COMPONENTS.map((component) => scoresOf(component, forecasts, scoring)),
    months: pullMonths(forecasts, plan.horizonDays),
    forecasts,
  };
}

function firstDay({ firstOn }: DailySeries, lives: readonly ServiceLife[], newest: AsOf): string {
  return lives.reduce(
    (first, { watchedFromOn }) => (watchedFromOn < first ? watchedFromOn : first),
    firstOn ?? newest.on,
  );
}

type Known = { after: Hindsight; horizonDays: number; series: DailySeries };
type OriginForecasts = { forecasts: BacktestForecast[]; refused: number; unplaced: number };

async function forecastsAt(store: Store, day: AsOf, known: Known): Promise<OriginForecasts> {
  const { outlooks, lives, fleet } = await assess(store, day, { daily: known.series.at });
  const units = new Map((await store.units(day.us)).map((unit) => [unit.unit, unit]));
  const readings = await readingsAt(store, day, { series: known.series, units });
  const classOf = (outlook: Outlook) => units.get(outlook.unit)?.class ?? '';
  const ofClass = groupBy([...readings], ([key]) => units.get(key.split('\u0000')[0]!)?.class ?? '');
  const rates = FORECAST_COMPONENTS.map((component) =>
    baseRate(
      lives.filter((life) => life.component === component),
      dayNumber(day.on),
      known.horizonDays,
    ),
  );
  const inService = new Map(lives.filter(({ end }) => end === 'in_service').map((life) => [partPlace(life), life]));
  const result: OriginForecasts = { forecasts: [], refused: 0, unplaced: 0 };
  for (const outlook of outlooks) {
    const life = inService.get(partPlace(outlook));
    if (outlook.survival === null) result.refused++;
    if (outlook.survival === null || life === undefined) continue;
    const own = readings.get(engineKey(outlook.unit, outlook.position)) ?? latestReadings(null, 12);
    const forecast = forecastOf(outlook, {
      life,
      day,
      known,
      fleet,
      unit: units.get(outlook.unit)!,
      baseRate: rates[FORECAST_COMPONENTS.indexOf(outlook.component)]!,
      belowThreshold: belowThreshold(own),
      lastValue: lastValue(
        outlook.component,
        own,
        (ofClass.get(classOf(outlook)) ?? []).map(([, each]) => each),
      ),
    });
    if (forecast === null) result.unplaced++;
    else result.forecasts.push(forecast);
  }
  return result;
}

async function readingsAt(
  store: Store,
  day: AsOf,
  { series, units }: { series: DailySeries; units: ReadonlyMap<string, Unit> },
): Promise<Map<string, Readings>> {
  const readings = new Map<string, Readings>();
  const until = { untilUs: day.us, timeZone: (await store.settings()).timeZone };
  for (const engine of await store.engines()) {
    const unit = units.get(engine.unit);
    const read = unit === undefined ? null : await series.at(engine, until);
    if (unit !== undefined && read !== null)
      readings.set(engineKey(engine.unit, engine.position), latestReadings(read.daily, unit.systemVolts));
  }
  return readings;
}

type Beside = Pick<BacktestForecast, 'baseRate' | 'belowThreshold' | 'lastValue'> & {
  life: ServiceLife;
  day: AsOf;
  known: Known;
  fleet: FleetParameters;
  unit: Unit;
};

/** One outlook beside what happened and what the baselines said; null where the records have lost the part. */
function forecastOf(outlook: Outlook, beside: Beside): BacktestForecast | null {
  const { life, day, known, fleet, unit } = beside;
  const { horizonDays, after } = known;
  const originDay = dayNumber(day.on);
  const outcome = outcomeOf(life, originDay, after);
  if (outcome === null) return null;
  const model = fleet.lives[outlook.component][unit.class] ?? fleet.lives[outlook.component]['']!;
  const aged = ageSurvival(life, model, { originDay, unitInServiceOn: unit.inServiceOn });
  const days = dayNumber(outcome.followedToOn) - originDay;
  return {
    asOfOn: day.on,
    unit: outlook.unit,
    position: outlook.position,
    component: outlook.component,
    ...outcome,
    pFail: failureProbability(outlook.survival!, horizonDays),
    windowEarlyOn: outlook.windowEarlyOn,
    windowMidOn: outlook.windowMidOn,
    windowLateOn: outlook.windowLateOn,
    failedWithin: failedWithin(outcome, originDay, horizonDays),
    pFailByEnd: failureProbability(outlook.survival!, days),
    pFailByEndOfAge: failureProbability(aged, days),
    ageOnly: failureProbability(aged, horizonDays),
    baseRate: beside.baseRate,
    belowThreshold: beside.belowThreshold,
    lastValue: beside.lastValue,
  };
}
