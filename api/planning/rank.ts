import type { Outlook } from '../../etl/model/outlook.ts';
import type { Settings } from '../../etl/model/settings.ts';
import type { ShopVisit } from '../../etl/model/shop.ts';
import { dayNumber, type AsOf } from '../../etl/model/time.ts';
import type { Unit } from '../../etl/model/unit.ts';
import type { Booking, Deferral, RankedRow, RankKey } from '../../etl/store/store.ts';
import { actByOn, dayOfAction } from './act-by.ts';
import { chooseAction } from './choose-action.ts';
import { componentKey } from './known-decisions.ts';
import { nextVisit, type NextVisit } from './next-visit.ts';
import { reason, refusalReason } from './reason.ts';
import { replacementCost } from './replacement-cost.ts';
import { survivalBetween, type SurvivalStretch } from './survival-between.ts';
import { goingOnCostMinor, waitingCostMinor } from './waiting-cost.ts';

/**
 * The fleet in the order in which it should be looked at: by the cost of waiting to the next visit, highest first;
 * ties by road-call risk, then unit, position, component. One row per outlook. What is deferred keeps its place and
 * says so; what cannot be forecast comes last, without figures.
 *
 * `bookings` and `deferrals` are those that stand (see known-decisions.ts).
 */
export type RankQuestion = {
  asOf: AsOf;
  outlooks: readonly Outlook[];
  units: readonly Unit[];
  settings: Settings;
  bookings: readonly Booking[];
  shopVisits: readonly ShopVisit[];
  deferrals: readonly Deferral[];
  /** Days of units whose outlooks were made as of another day than the rest. */
  ownDays?: ReadonlyMap<string, string>;
};

/** A cheap test on the vehicle: battery load test or voltage drops while cranking, hours. Common practice. */
const TEST_HOURS = 0.5;

type Fleet = RankQuestion & {
  unitOf: Map<string, Unit>;
  bookedOns: Map<string, string[]>;
  visitOns: Map<string, string[]>;
  deferred: Map<string, Deferral>;
  visits: Map<string, NextVisit>;
  /** From the as-of day to the next visit, by component. */
  stretches: Map<string, SurvivalStretch>;
};

export function rank(question: RankQuestion): RankedRow[] {
  const fleet = lookUps(question);
  return question.outlooks
    .map((outlook) => row(outlook, fleet))
    .sort(byCostOfWaiting)
    .map((each, index) => {
      each.rank = index + 1;
      return each;
    });
}

function lookUps(question: RankQuestion): Fleet {
  const fleet: Fleet = {
    ...question,
    unitOf: new Map(question.units.map((unit) => [unit.unit, unit])),
    bookedOns: daysByUnit(question.bookings.map(({ unit, bookedOn }) => ({ unit, on: bookedOn }))),
    visitOns: daysByUnit(question.shopVisits.map(({ unit, visitOn }) => ({ unit, on: visitOn }))),
    deferred: new Map(question.deferrals.map((each) => [componentKey(each), each])),
    visits: new Map(),
    stretches: new Map(),
  };
  for (const { unit } of question.outlooks) if (!fleet.visits.has(unit)) fleet.visits.set(unit, visitOf(unit, fleet));
  for (const outlook of question.outlooks)
    if (isForecast(outlook))
      fleet.stretches.set(componentKey(outlook), survivalBetween(outlook.survival, 0, daysToVisit(outlook, fleet)));
  return fleet;
}

function daysByUnit(days: readonly { unit: string; on: string }[]): Map<string, string[]> {
  const byUnit = new Map<string, string[]>();
  for (const { unit, on } of days) {
    const known = byUnit.get(unit);
    if (known) known.push(on);
    else byUnit.set(unit, [on]);
  }
  return byUnit;
}

function visitOf(unit: string, fleet: Fleet): NextVisit {
  const { unitOf, bookedOns, visitOns, settings } = fleet;
  const registered = unitOf.get(unit);
  return nextVisit({
    asOfOn: dayOf(unit, fleet),
    bookedOns: bookedOns.get(unit) ?? [],
    visitOns: visitOns.get(unit) ?? [],
    pmOn: registered?.nextPmOn ?? null,
    pmIntervalDays: registered?.pmIntervalDays ?? null,
    assumedDays: settings.assumedVisitDays,
  });
}

type Forecast = Outlook & { survival: Float64Array; meanLifeDays: number };
const isForecast = (outlook: Outlook): outlook is Forecast =>
  outlook.survival !== null && outlook.meanLifeDays !== null && !outlook.basis.includes('none');

/** The day that a unit's outlooks look ahead from. */
const dayOf = (unit: string, { ownDays, asOf }: Fleet) => ownDays?.get(unit) ?? asOf.on;

const daysToVisit = ({ unit }: Outlook, fleet: Fleet) =>
  dayNumber(fleet.visits.get(unit)!.on) - dayNumber(dayOf(unit, fleet));

/** A ranked row but for its rank, which the sort gives. */
function row(outlook: Outlook, fleet: Fleet): RankedRow {
  const { unit, position, component } = outlook;
  const visit = fleet.visits.get(unit)!;
  const answer = isForecast(outlook) ? forecastAnswer(outlook, fleet) : refusedAnswer(outlook);
  return {
    rank: 0,
    unit,
    position,
    depot: fleet.unitOf.get(unit)?.depot ?? '',
    component,
    action: answer.action,
    actByOn: answer.actByOn,
    pFailToNextVisit: answer.pFailToNextVisit,
    costNowMinor: answer.costNowMinor,
    costOfWaitingMinor: answer.costOfWaitingMinor,
    roadCallRisk: answer.roadCallRisk,
    reason: answer.reason + deferredWords(fleet.deferred.get(componentKey(outlook))),
    nextVisitOn: visit.on,
    nextVisitFrom: visit.from,
  };
}

type Answer = Pick<
  RankedRow,
  'action' | 'actByOn' | 'pFailToNextVisit' | 'costNowMinor' | 'costOfWaitingMinor' | 'roadCallRisk' | 'reason'
>;

function forecastAnswer(outlook: Forecast, fleet: Fleet): Answer {
  const { settings } = fleet;
  const { survival, meanLifeDays, basis } = outlook;
  const visit = fleet.visits.get(outlook.unit)!;
  const cost = replacementCost(settings, outlook.component);
  const days = daysToVisit(outlook, fleet);
  const between = days + (fleet.unitOf.get(outlook.unit)?.pmIntervalDays ?? settings.assumedVisitDays);
  const stretch = fleet.stretches.get(componentKey(outlook))!;
  const waitingMinor = waitingCostMinor(stretch, cost, meanLifeDays);
  const pullInMinor = cost.pulledInMinor - cost.atVisitMinor;
  const action = chooseAction({
    waitingMinor,
    goingOnMinor: goingOnCostMinor(stretch, cost, meanLifeDays),
    goingOnAfterMinor: goingOnCostMinor(survivalBetween(survival, days, between), cost, meanLifeDays),
    pullInMinor,
    pFail: stretch.pFail,
    pFailOther: otherComponent(outlook, fleet),
    basis,
    failureLossMinor: cost.unplannedMinor - cost.atVisitMinor,
    replacedEarlyLossMinor: cost.atVisitMinor,
    testMinor: TEST_HOURS * settings.laborRateMinorPerHour,
  });
  const dueOn = actByOn(survival, cost, { asOfOn: dayOf(outlook.unit, fleet), meanLifeDays });
  return {
    action,
    actByOn: dayOfAction(action, dueOn, visit.on),
    pFailToNextVisit: stretch.pFail,
    costNowMinor: cost.pulledInMinor,
    costOfWaitingMinor: waitingMinor,
    roadCallRisk: engineRisk(outlook, fleet),
    reason: reason({ outlook, action, pFail: stretch.pFail, waitingMinor, cost, visit, currency: settings.currency }),
  };
}

function refusedAnswer(outlook: Outlook): Answer {
  return {
    action: 'measure_first',
    actByOn: null,
    pFailToNextVisit: null,
    costNowMinor: null,
    costOfWaitingMinor: null,
    roadCallRisk: null,
    reason: refusalReason(outlook),
  };
}

function otherComponent({ unit, position, component }: Outlook, { stretches }: Fleet): number | null {
  const other = component === 'battery' ? 'starter' : 'battery';
  return stretches.get(componentKey({ unit, position, component: other }))?.pFail ?? null;
}

/** That the engine fails to crank before the next visit for either reason: 1 − (1 − p)(1 − q). */
function engineRisk(outlook: Outlook, fleet: Fleet): number {
  const own = fleet.stretches.get(componentKey(outlook))?.pFail ?? 0;
  return 1 - (1 - own) * (1 - (otherComponent(outlook, fleet) ?? 0));
}

const deferredWords = (deferral: Deferral | undefined) =>
  deferral === undefined ? '' : ` Deferred to ${deferral.untilOn}.`;

export function byCostOfWaiting(a: RankKey, b: RankKey): number {
  const last = Number.NEGATIVE_INFINITY;
  return (
    compare(b.costOfWaitingMinor ?? last, a.costOfWaitingMinor ?? last) ||
    compare(b.roadCallRisk ?? last, a.roadCallRisk ?? last) ||
    compare(a.unit, b.unit) ||
    compare(a.position, b.position) ||
    compare(a.component, b.component)
  );
}

/** By code unit, not by locale: the same order on every machine. */
function compare<Value extends string | number>(a: Value, b: Value): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
