import type { EngineState } from './assess-engines.ts';
import { groupBy } from './model/group-by.ts';
import type { FleetSteps } from './lives/shared-steps.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dayNumber } from './model/time.ts';
import { FORECAST_COMPONENTS, INDICATORS, type ForecastComponent, type Indicator } from './model/words.ts';
import {
  conditionPath,
  newestPoint,
  usualLevels,
  type ConditionPath,
  type EngineSeries,
  type UsualLevels,
} from './outlook/condition-index.ts';
import { fitLifeModels, type ClassedLife, type LifeModels } from './outlook/life-model.ts';
import { readingsOf } from './outlook/hazard-features.ts';
import { fitHazard, type HazardModel } from './outlook/hazard-model.ts';
import { fitLaterHazard, type LaterHazard } from './outlook/later-hazard.ts';
import { hazardRow, troublesBy, type FittedModels } from './outlook/hazard-rows.ts';
import type { Landmark } from './outlook/landmarks.ts';
import { fitWearModel, type WearModels } from './outlook/wear-model.ts';
import { alignStrata } from './trends/align-strata.ts';
import {
  correctedSeries,
  dayTemperatures,
  fitCorrections,
  type CorrectedSeries,
  type CorrectionContext,
  type Corrections,
  type DayTemperatures,
} from './trends/correction.ts';
import type { DailyMedians } from './trends/daily-medians.ts';
import { summaryOf } from './trends/indicator-summary.ts';
import { COMPONENT_INDICATORS } from './trends/indicators.ts';
import type { Look } from './trends/recent-reading.ts';
import { slopePrior, type SlopePrior } from './trends/shrink-slopes.ts';
import { NOT_RECORDED } from './trends/trend-of.ts';

/** What was fitted on the whole fleet: enough to show or assess one unit without the others. JSON-able. */
export type FleetParameters = {
  corrections: Corrections;
  temperatures: DayTemperatures;
  usual: UsualLevels;
  /** What the fleet as a whole says of how one unit's records and log are read. */
  watch: FleetWatch;
  /** By class, then indicator. */
  slopes: Record<string, Partial<Record<Indicator, SlopePrior>>>;
  lives: LifeModels;
  wear: WearModels;
  /** What the fleet's past says of its forecasts; null where nothing has failed yet. */
  hazard: Record<ForecastComponent, HazardModel | null>;
  /** The same of what comes after three months. */
  later: Record<ForecastComponent, LaterHazard | null>;
};

/** What an older program has stored lacks what this one needs. */
export function isFleetParameters(stored: unknown): stored is FleetParameters {
  const needed: (keyof FleetParameters)[] = [
    'corrections',
    'temperatures',
    'usual',
    'watch',
    'slopes',
    'lives',
    'wear',
    'hazard',
    'later',
  ];
  return typeof stored === 'object' && stored !== null && needed.every((name) => name in stored);
}

export type FleetWatch = {
  /** From when on records were kept; null where there are none. */
  recordsFromDay: number | null;
  /** All steps in the voltage. */
  steps: FleetSteps;
};

/** What takes the season out of every engine's indicators. */
export type Seasons = Pick<FleetParameters, 'temperatures' | 'corrections'>;

/** Days of the past to learn from, engine by engine in the order of the readings; days of jump starts and no-starts. */
export type Past = {
  asOfDay: number;
  landmarks: ReadonlyMap<EngineState, readonly Landmark[]>;
  troubleDays: (engine: EngineState) => readonly number[];
};

/** Fits everything that is shared: on the engines as they are once season and charge are taken out. */
export function fitFleet(
  states: readonly EngineState[],
  { corrections, temperatures }: Seasons,
  past: Past,
): Omit<FleetParameters, 'watch'> {
  const logged = states.filter((state) => state.firstSeenOn !== null);
  const usual = usualLevels(logged);
  const classed = states.flatMap((state) => state.lives.map((life) => classedLife(state, life)));
  const lives = fitLifeModels(classed);
  const outlook = { battery: fitOutlook('battery'), starter: fitOutlook('starter') };
  const wear: WearModels = {};
  for (const component of FORECAST_COMPONENTS) {
    const model = outlook[component].wear;
    if (model !== null) wear[component] = model;
  }
  const hazard = { battery: outlook.battery.hazard, starter: outlook.starter.hazard };
  const later = { battery: outlook.battery.later, starter: outlook.starter.later };
  return { corrections, temperatures, usual, slopes: classSlopes(logged), lives, wear, hazard, later };

  function fitOutlook(component: ForecastComponent) {
    const watched = watchedLives(states, component, usual);
    const seen = [...watched].flatMap(([life, path]) =>
      path === null ? [] : [{ path, failed: life.end === 'failure' }],
    );
    const model = fitWearModel(seen);
    const rows = hazardRows(watched, past, { lives: lives[component], wear: model, usual });
    const hazard = fitHazard(rows);
    return { wear: model, hazard, later: fitLaterHazard(rows, hazard) };
  }
}

/** Every landmark of a component as the hazard takes it. */
function hazardRows(watched: ReadonlyMap<ServiceLife, ConditionPath | null>, past: Past, models: FittedModels) {
  return [...past.landmarks].flatMap(([state, landmarks]) => {
    const troubleDays = past.troubleDays(state);
    return landmarks.flatMap((landmark, at) => {
      const path = watched.get(landmark.life);
      if (path === undefined) return [];
      const readings = readingsOf(state, ({ readings: own }) => own[at] ?? null);
      const troubles = troublesBy(troubleDays, landmark.day);
      const life = classedLife(state, landmark.life);
      const newest = newestPoint(
        path,
        landmark.life.component as ForecastComponent,
        (indicator) => state.series[indicator]?.newestOn[at] ?? null,
      );
      return [hazardRow({ ...landmark, life, path, newest, readings, troubles }, models, past.asOfDay)];
    });
  });
}

function classedLife({ class: name, unit }: EngineState, life: ServiceLife): ClassedLife {
  return { ...life, class: name, unitInServiceOn: unit.inServiceOn };
}

export function fitSeasons(states: readonly EngineState[]): Seasons {
  const dailies = states.flatMap(({ class: name, daily, lives }) => {
    const breaks = lives.map((life) => dayNumber(life.watchedFromOn)).sort((a, b) => a - b);
    return daily === null ? [] : [{ class: name, daily, breaks }];
  });
  const temperatures = dayTemperatures(dailies);
  return { temperatures, corrections: fitCorrections(dailies, temperatures) };
}

export type SeriesOfEngine = Partial<Record<Indicator, CorrectedSeries>>;

export function seriesOf(daily: DailyMedians, context: CorrectionContext): SeriesOfEngine {
  const series: SeriesOfEngine = {};
  for (const indicator of INDICATORS) {
    const corrected = correctedSeries(daily, indicator, context);
    if (corrected !== null && corrected.day.length > 0) series[indicator] = alignStrata(corrected);
  }
  return series;
}

/** From when on each indicator speaks of the parts that are fitted now. */
export type SinceDays = Record<Indicator, number>;

export function sinceDays(lives: readonly ServiceLife[]): SinceDays {
  return Object.fromEntries(INDICATORS.map((indicator) => [indicator, sinceDay(lives, indicator)])) as SinceDays;
}

export function summariesOf(series: SeriesOfEngine, since: SinceDays, looks: readonly Look[]): EngineSeries['series'] {
  const summaries: EngineSeries['series'] = {};
  for (const [name, corrected] of Object.entries(series)) {
    const indicator = name as Indicator;
    summaries[indicator] = summaryOf(corrected, since[indicator], looks);
  }
  return summaries;
}

/** Every life with its condition path, cut at its end: what drift, limit and hazard are learnt from. */
function watchedLives(states: readonly EngineState[], component: ForecastComponent, usual: UsualLevels) {
  const watched = new Map<ServiceLife, ConditionPath | null>();
  for (const state of states)
    for (const life of state.lives) {
      if (life.component !== component) continue;
      const path = conditionPath(state, component, usual, dayNumber(life.watchedFromOn));
      watched.set(life, path === null ? null : upTo(path, dayNumber(life.watchedToOn)));
    }
  return watched;
}

function upTo(path: ConditionPath, day: number): ConditionPath | null {
  let to = 0;
  while (to < path.day.length && path.day[to]! <= day) to++;
  return to === 0 ? null : { ...path, day: path.day.subarray(0, to), value: path.value.subarray(0, to) };
}

/** The newest of the parts that an indicator speaks of. */
export function sinceDay(lives: readonly ServiceLife[], indicator: Indicator): number {
  const current = FORECAST_COMPONENTS.filter((component) => COMPONENT_INDICATORS[component].includes(indicator)).map(
    (component) => lives.findLast((life) => life.component === component && life.end === 'in_service'),
  );
  return current.reduce(
    (latest, life) => (life === undefined ? latest : Math.max(latest, dayNumber(life.watchedFromOn))),
    -Infinity,
  );
}

function classSlopes(states: readonly EngineState[]): FleetParameters['slopes'] {
  const classes = groupBy(states, (state) => state.class);
  return Object.fromEntries(
    [...classes]
      .sort(([a], [b]) => Number(a > b) - Number(a < b))
      .map(([name, own]) => {
        const priors: Partial<Record<Indicator, SlopePrior>> = {};
        for (const indicator of INDICATORS) {
          const slopes = own.flatMap(({ series }) => {
            const { slopePerYear, slopeError } = series[indicator]?.drift ?? NOT_RECORDED;
            return slopePerYear === null || slopeError === null ? [] : [{ slope: slopePerYear, error: slopeError }];
          });
          priors[indicator] = slopePrior(slopes);
        }
        return [name, priors];
      }),
  );
}
