import { dateFromDay } from './calendar.ts';
import { cell } from './csv-file.ts';
import type { EngineState } from './engine-state.ts';
import type { UnitPlan } from './unit-plan.ts';

export const UNIT_COLUMNS = [
  'unit',
  'depot',
  'class',
  'system_volts',
  'battery_count',
  'battery_cca',
  'cylinders',
  'fuel',
  'in_service_date',
  'out_of_service_date',
  'next_pm_date',
  'pm_interval_days',
  'starts_per_day',
  'starter_rated_kw',
  'cost_centre',
] as const;

export const COMPONENT_COLUMNS = [
  'unit',
  'component',
  'position',
  'fitted',
  'part',
  'rating',
  'warranty_until',
  'cost',
] as const;

export function unitLine(plan: UnitPlan, lastDay: number): string {
  const { depot } = plan;
  const kind = plan.class;
  const gone = plan.outOfServiceDay !== null;
  const visits = Math.floor((lastDay - plan.firstVisitDay) / depot.visitDays) + 1;
  return `${[
    plan.unit,
    cell(depot.name),
    cell(kind.name),
    kind.systemVolts,
    kind.batteryCount,
    kind.batteryCcaA,
    kind.cylinders,
    kind.fuel,
    dateFromDay(plan.inServiceDay),
    plan.outOfServiceDay === null ? '' : dateFromDay(plan.outOfServiceDay),
    gone ? '' : dateFromDay(plan.firstVisitDay + Math.max(0, visits) * depot.visitDays),
    depot.visitDays,
    plan.startsPerDay.toFixed(1),
    kind.starterRatedKw.toFixed(1),
    `CC-${depot.name.slice(0, 2).toUpperCase()}-${kind.prefix}`,
  ].join(',')}\n`;
}

/** The parts register as it was filled in when the log began: nobody has kept it up since. */
export function componentLines(plan: UnitPlan, engines: readonly EngineState[]): string[] {
  if (!plan.partsKnown) return [];
  const kind = plan.class;
  return engines.flatMap((state) => [
    row(plan, state, {
      component: 'battery',
      fittedDay: state.battery.fittedDay,
      part: `BANK-${kind.systemVolts}-${kind.batteryCcaA}`,
      rating: `${kind.batteryCcaA} CCA`,
      cost: kind.systemVolts === 12 ? 165 : 420,
    }),
    row(plan, state, {
      component: 'starter',
      fittedDay: state.starter.fittedDay,
      part: `STR-${kind.systemVolts}-${kind.prefix}`,
      rating: `${kind.starterRatedKw} kW`,
      cost: kind.systemVolts === 12 ? 310 : 640,
    }),
  ]);
}

type Part = { component: 'battery' | 'starter'; fittedDay: number; part: string; rating: string; cost: number };

const WARRANTY_DAYS = 730;

function row(plan: UnitPlan, state: EngineState, part: Part): string {
  const dates = [dateFromDay(part.fittedDay), part.part, part.rating, dateFromDay(part.fittedDay + WARRANTY_DAYS)];
  return `${[plan.unit, part.component, state.position, ...dates, part.cost.toFixed(2)].join(',')}\n`;
}
