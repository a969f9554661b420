import type { StoreKind } from '../contract/scalars.ts';
import type { RankingRow } from '../contract/ranking.ts';
import type { Life, UnitOutlook, UnitView } from '../contract/unit.ts';
import { CAUTIONS } from '../planning/cautions.ts';
import { measureNext } from '../planning/measure-next.ts';
import { SURVIVAL_DAYS, type Outlook } from '../../etl/model/outlook.ts';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import type { FleetParameters } from '../../etl/assess-fleet.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';
import type { AssessedDay } from './assessed-day.ts';
import type { KnownUnit } from './known-unit.ts';
import { registerLines } from './register-lines.ts';
import { evidenceRungs } from './rung-view.ts';
import { partsSince } from './since-view.ts';
import { trackedForecast } from './track-record-view.ts';
import { unitCranks } from './unit-cranks-view.ts';
import { unitTrends } from './unit-trends-view.ts';
import { unitWorkOrders } from './unit-work-orders-view.ts';

export type UnitQuestion = {
  known: KnownUnit;
  day: AssessedDay;
  storeKind: StoreKind;
  currency: string;
  /** The unit's rows of the fleet's ranking. */
  ranking: RankingRow[];
};

/** All that the page about one unit shows, as known at the as-of instant. */
export async function unitView(store: Store, question: UnitQuestion): Promise<UnitView> {
  const { known, day, storeKind, currency, ranking } = question;
  const { unit, registered, engines } = known;
  const { label } = day.head.asOf;
  const anew = (await store.reassessed(label)).find((each) => each.unit === unit) ?? null;
  const asOf = anew?.asOf ?? day.head.asOf;
  const newest = day.newest.asOf;
  // Written by `assess` itself under the same label, hence of its shape.
  const fleet = (await store.fleet(label)) as FleetParameters | null;
  const [cranks, outlooks, trends, lives, workOrders, past, livesNow] = await Promise.all([
    unitCranks(store, engines, asOf.us),
    store.outlooks(label, unit),
    unitTrends(store, known, { label, asOf, fleet }),
    store.lives(label, unit),
    unitWorkOrders(store, unit, asOf),
    pastForecasts(store, known),
    day.isNewest ? [] : store.lives(newest.label, unit),
  ]);
  const positions = [...new Set([...engines, ...outlooks, ...lives].map(({ position }) => position))].toSorted();
  return {
    unit,
    asOf: label,
    asOfOn: asOf.on,
    newestAsOf: newest.label,
    newestOn: newest.on,
    reassessed:
      anew === null ? null : { at: isoInstant(anew.computedUs), parametersAt: isoInstant(day.head.computedUs) },
    store: storeKind,
    currency,
    register: registered === null ? [] : registerLines(registered),
    depot: registered?.depot ?? '',
    class: registered?.class ?? '',
    positions,
    crankCount: cranks.count,
    lastCrankAt: cranks.lastUs === null ? null : isoInstant(cranks.lastUs),
    ranking,
    outlooks: outlooks.map(outlookView),
    rungs: evidenceRungs(fleet, registered?.class ?? ''),
    since: day.isNewest ? [] : partsSince({ outlooks, lives }, livesNow, { said: asOf, known: newest }),
    ...past,
    trends,
    lives: lives.map(lifeView),
    workOrders,
    waveforms: cranks.waveforms,
    measureNext: positions.flatMap((position) =>
      measureNext({
        systemVolts: registered?.systemVolts ?? 12,
        ranked: ranking.filter((row) => row.position === position),
        recentPatterns: cranks.recentPatterns.get(position) ?? {},
      }).map((each) => ({ position, ...each })),
    ),
    cautions: [...CAUTIONS],
  };
}

/** The backtest's forecasts of the unit, the newest day first. */
async function pastForecasts(
  store: Store,
  { unit, registered }: KnownUnit,
): Promise<Pick<UnitView, 'pastForecasts' | 'pastHorizonDays'>> {
  const head = await store.backtest();
  const forecasts = head === null ? [] : await store.backtestForecasts(unit);
  return {
    pastForecasts: forecasts
      .toSorted((a, b) => Number(a.asOfOn < b.asOfOn) - Number(a.asOfOn > b.asOfOn))
      .map((each) => trackedForecast(each, registered)),
    pastHorizonDays: head?.summary.plan.horizonDays ?? 0,
  };
}

function lifeView(life: ServiceLife): Life {
  const { position, component, fittedOn, fittedFrom, removedOn, end, watchedFromOn, watchedToOn, workOrder } = life;
  return { position, component, fittedOn, fittedFrom, removedOn, end, watchedFromOn, watchedToOn, workOrder };
}

export function outlookView({ survival, ...known }: Outlook): UnitOutlook {
  return {
    position: known.position,
    component: known.component,
    ageDays: known.ageDays,
    pFail30d: known.pFail30d,
    pFail60d: known.pFail60d,
    pFail90d: known.pFail90d,
    windowEarlyOn: known.windowEarlyOn,
    windowMidOn: known.windowMidOn,
    windowLateOn: known.windowLateOn,
    basis: [...known.basis],
    evidence: [...known.evidence],
    survivalDays: survival === null ? [] : [...SURVIVAL_DAYS],
    survival: survival === null ? [] : [...survival],
  };
}
