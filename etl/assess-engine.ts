import type { EngineState } from './assess-engines.ts';
import type { FleetParameters } from './assess-fleet.ts';
import type { Outlook } from './model/outlook.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dayNumber, US_PER_DAY, type AsOf } from './model/time.ts';
import type { Trend } from './model/trend.ts';
import { FORECAST_COMPONENTS, type ForecastComponent, type Indicator } from './model/words.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import { conditionPath, ENDS_IN_NEWEST_WEEKS, newestPoint, type ConditionPath } from './outlook/condition-index.ts';
import { readingsOf } from './outlook/hazard-features.ts';
import { TROUBLE_DAYS } from './outlook/hazard-rows.ts';
import { pathOnDay } from './outlook/path-on-day.ts';
import { outlookOf } from './outlook/outlook-of.ts';
import { COMPONENT_INDICATORS } from './trends/indicators.ts';
import { readingOn } from './trends/recent-reading.ts';
import { shrunk, type SlopePrior } from './trends/shrink-slopes.ts';
import { NOT_RECORDED, whereSilent, type Drift } from './trends/trend-of.ts';
import type { Weekly } from './trends/weekly-medians.ts';

/** What one engine's trends and outlooks are made from, besides the fleet's parameters. */
export type EngineCase = Pick<EngineState, 'unit' | 'position' | 'class' | 'series' | 'lives' | 'silent'> & {
  troubles: Troubles;
};
export type AssessedEngine = { trends: Trend[]; outlooks: Outlook[] };

type Troubles = { jumpStarts: number; noStarts: number };

/** A record without a position speaks of every engine of its unit. */
export function ofPosition(orders: readonly ReadWorkOrder[], own: string): ReadWorkOrder[] {
  return orders.filter(({ position }) => position === own || position === '');
}

export function troublesOf(orders: readonly ReadWorkOrder[], position: string, asOf: AsOf): Troubles {
  const recent = ofPosition(orders, position).filter(({ openedUs }) => openedUs > asOf.us - TROUBLE_DAYS * US_PER_DAY);
  const count = (event: ReadWorkOrder['event']) => recent.filter((order) => order.event === event).length;
  return { jumpStarts: count('jump_started'), noStarts: count('no_start') };
}

/** Trends and outlooks of one engine's parts in service, under the fleet's parameters. */
export function assessEngine(engine: EngineCase, fleet: FleetParameters, asOf: AsOf): AssessedEngine {
  const assessed: AssessedEngine = { trends: [], outlooks: [] };
  for (const component of FORECAST_COMPONENTS) {
    const life = engine.lives.findLast((each) => each.component === component);
    if (life === undefined || life.end !== 'in_service') continue;
    const drifts = driftsOf(engine, component, fleet);
    for (const [indicator, { slopeError: _, ...shown }] of drifts)
      assessed.trends.push({ unit: engine.unit.unit, position: engine.position, component, indicator, ...shown });
    assessed.outlooks.push(outlookOfLife(engine, { component, life, drifts: Object.fromEntries(drifts), fleet, asOf }));
  }
  return assessed;
}

/** In the order of the component's indicators. */
function driftsOf(
  { series, silent, class: name }: EngineCase,
  component: ForecastComponent,
  fleet: FleetParameters,
): [Indicator, Drift][] {
  return COMPONENT_INDICATORS[component].map((indicator) => {
    const own = whereSilent(series[indicator]?.drift ?? NOT_RECORDED, silent);
    return [indicator, pooled(own, fleet.slopes[name]?.[indicator] ?? null)];
  });
}

function pooled(drift: Drift, prior: SlopePrior): Drift {
  if (drift.slopePerYear === null || drift.slopeError === null) return drift;
  const { slope, error } = shrunk({ slope: drift.slopePerYear, error: drift.slopeError }, prior);
  return { ...drift, slopePerYear: slope, slopeLow: slope - 1.96 * error, slopeHigh: slope + 1.96 * error };
}

type Forecasting = {
  component: ForecastComponent;
  life: ServiceLife;
  drifts: Partial<Record<Indicator, Drift>>;
  fleet: FleetParameters;
  asOf: AsOf;
};

function outlookOfLife(engine: EngineCase, { component, life, drifts, fleet, asOf }: Forecasting): Outlook {
  const { unit, position, class: name, series, silent, troubles } = engine;
  const [fromDay, asOfDay] = [dayNumber(life.watchedFromOn), dayNumber(asOf.on)];
  return outlookOf({
    unit: unit.unit,
    position,
    component,
    class: name,
    life,
    unitInServiceOn: unit.inServiceOn,
    model: fleet.lives[component][name] ?? fleet.lives[component]['']!,
    wear: fleet.wear[component] ?? null,
    hazard: fleet.hazard[component],
    later: fleet.later[component],
    usual: fleet.usual,
    readings: silent === null ? readingsOf(engine, ({ recent }) => readingOn(recent, { fromDay, onDay: asOfDay })) : {},
    path: silent === null ? pathNow(engine, component, { fleet, fromDay, asOfDay }) : null,
    drifts,
    troubles,
    hasTemperature: Object.values(series).some((own) => own.hasTemperature),
    asOfOn: asOf.on,
    systemVolts: unit.systemVolts,
    batteryCcaA: unit.batteryCcaA,
  });
}

const NO_POINTS: Weekly = { day: new Float64Array(0), value: new Float64Array(0) };

function pathNow(
  engine: EngineCase,
  component: ForecastComponent,
  { fleet, fromDay, asOfDay }: { fleet: FleetParameters; fromDay: number; asOfDay: number },
): ConditionPath | null {
  const path = conditionPath(engine, component, fleet.usual, fromDay);
  if (path === null || !ENDS_IN_NEWEST_WEEKS[component]) return path;
  const newest = newestPoint(path, component, (indicator) => engine.series[indicator]?.newest ?? null);
  return { ...path, ...(pathOnDay(path, asOfDay, newest) ?? NO_POINTS) };
}
