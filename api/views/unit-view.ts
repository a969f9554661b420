import type { StoreKind } from '../contract/scalars.ts';
import type { RankingRow } from '../contract/ranking.ts';
import type { Life, UnitOutlook, UnitView } from '../contract/unit.ts';
import { CAUTIONS } from '../planning/cautions.ts';
import { measureNext } from '../planning/measure-next.ts';
import { SURVIVAL_DAYS, type Outlook } from '../../etl/model/outlook.ts';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import { isoInstant, type AsOf } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';
import type { KnownUnit } from './known-unit.ts';
import { registerLines } from './register-lines.ts';
import { unitCranks } from './unit-cranks-view.ts';
import { unitTrends } from './unit-trends-view.ts';
import { unitWorkOrders } from './unit-work-orders-view.ts';

export type UnitQuestion = {
  known: KnownUnit;
  asOf: AsOf;
  storeKind: StoreKind;
  currency: string;
  /** The unit's rows of the fleet's ranking. */
  ranking: RankingRow[];
};

/** All that the page about one unit shows, as known at the as-of instant. */
export async function unitView(store: Store, question: UnitQuestion): Promise<UnitView> {
  const { known, asOf, storeKind, currency, ranking } = question;
  const { unit, registered, engines } = known;
  const [cranks, outlooks, trends, lives, workOrders] = await Promise.all([
    unitCranks(store, engines, asOf.us),
    store.outlooks(asOf.label, unit),
    unitTrends(store, known, asOf),
    store.lives(asOf.label, unit),
    unitWorkOrders(store, unit, asOf),
  ]);
  const positions = [...engines, ...outlooks, ...lives].map(({ position }) => position);
  return {
    unit,
    asOf: asOf.label,
    asOfOn: asOf.on,
    store: storeKind,
    currency,
    register: registered === null ? [] : registerLines(registered),
    depot: registered?.depot ?? '',
    class: registered?.class ?? '',
    positions: [...new Set(positions)].toSorted(),
    crankCount: cranks.count,
    lastCrankAt: cranks.lastUs === null ? null : isoInstant(cranks.lastUs),
    ranking,
    outlooks: outlooks.map(outlookView),
    trends,
    lives: lives.map(lifeView),
    workOrders,
    waveforms: cranks.waveforms,
    measureNext: measureNext({
      systemVolts: registered?.systemVolts ?? 12,
      ranked: ranking,
      recentPatterns: cranks.recentPatterns,
    }),
    cautions: [...CAUTIONS],
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
