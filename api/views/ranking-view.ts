import type { Ranking, RankingRow } from '../contract/ranking.ts';
import { assumptions } from '../planning/assumptions.ts';
import { componentKey } from '../planning/known-decisions.ts';
import type { Outlook } from '../../etl/model/outlook.ts';
import type { Booking, Deferral, RankedRow, Store } from '../../etl/store/store.ts';
import { isOutdated, stateParts, type AssessedDay } from './assessed-day.ts';
import { rankedDay, type RankedDay } from './ranked-day.ts';
import { servedWords, type ServedStore } from './served-store.ts';

/** The ranking as pages see it. The last one is kept: a unit's page shows its rows out of the same fleet. */
export type RankingSource = { of(day: AssessedDay): Promise<Ranking> };

export function createRankingSource(store: Store, served: ServedStore, nowUs: () => number): RankingSource {
  let kept: { key: string; ranking: Promise<Ranking> } | null = null;
  return {
    of(day) {
      const key = JSON.stringify(stateParts(day));
      if (kept?.key === key) return kept.ranking;
      const ranking = rankingView(store, served, { day, decidedUs: day.isNewest ? nowUs() : day.head.asOf.us });
      kept = { key, ranking };
      // A failure is not kept: the next request asks again.
      ranking.catch(() => (kept = null));
      return ranking;
    },
  };
}

export async function rankingView(
  store: Store,
  served: ServedStore,
  { day, decidedUs }: { day: AssessedDay; decidedUs: number },
): Promise<Ranking> {
  const { head, previous, inputs } = day;
  const [ranked, before] = await Promise.all([
    rankedDay(store, head.asOf, decidedUs),
    previous === null ? null : store.ranking(previous.asOf.label),
  ]);
  const rankBefore = new Map((before?.rows ?? []).map((row) => [componentKey(row), row.rank]));
  return {
    state: 'ready',
    asOf: head.asOf.label,
    asOfOn: head.asOf.on,
    previousAsOf: previous?.asOf.label ?? null,
    ...servedWords(served),
    stale: isOutdated(head, inputs, ranked.settings.timeZone),
    currency: ranked.settings.currency,
    rows: rankingRows(ranked, rankBefore),
    assumptions: assumptions(ranked.settings),
  };
}

function rankingRows(day: RankedDay, rankBefore: Map<string, number>): RankingRow[] {
  const outlookOf = new Map(day.outlooks.map((each) => [componentKey(each), each]));
  const classOf = new Map(day.units.map((each) => [each.unit, each.class]));
  const bookingOf = new Map(day.bookings.map((each) => [componentKey(each), each]));
  const deferralOf = new Map(day.deferrals.map((each) => [componentKey(each), each]));
  return day.rows.map((row) => {
    const key = componentKey(row);
    return rankingRow(row, outlookOf.get(key)!, {
      class: classOf.get(row.unit) ?? '',
      rankBefore: rankBefore.get(key) ?? null,
      booking: bookingView(bookingOf.get(key)),
      deferral: deferralView(deferralOf.get(key)),
    });
  });
}

type Known = Pick<RankingRow, 'class' | 'rankBefore' | 'booking' | 'deferral'>;

/** Written out field by field: with spreads the rows of ten thousand take three times as long to make. */
function rankingRow(row: RankedRow, outlook: Outlook, known: Known): RankingRow {
  return {
    rank: row.rank,
    unit: row.unit,
    position: row.position,
    depot: row.depot,
    class: known.class,
    component: row.component,
    action: row.action,
    actByOn: row.actByOn,
    pFailToNextVisit: row.pFailToNextVisit,
    pFail30d: outlook.pFail30d,
    pFail60d: outlook.pFail60d,
    pFail90d: outlook.pFail90d,
    windowEarlyOn: outlook.windowEarlyOn,
    windowMidOn: outlook.windowMidOn,
    windowLateOn: outlook.windowLateOn,
    ageDays: outlook.ageDays,
    costNowMinor: row.costNowMinor,
    costOfWaitingMinor: row.costOfWaitingMinor,
    roadCallRisk: row.roadCallRisk,
    nextVisitOn: row.nextVisitOn,
    nextVisitFrom: row.nextVisitFrom,
    reason: row.reason,
    why: outlook.evidence[0] ?? row.reason,
    basis: [...outlook.basis],
    rankBefore: known.rankBefore,
    booking: known.booking,
    deferral: known.deferral,
  };
}

const bookingView = (booking: Booking | undefined): RankingRow['booking'] =>
  booking === undefined ? null : { bookingId: booking.bookingId, bookedOn: booking.bookedOn, note: booking.note };

const deferralView = (deferral: Deferral | undefined): RankingRow['deferral'] =>
  deferral === undefined
    ? null
    : { deferralId: deferral.deferralId, untilOn: deferral.untilOn, reason: deferral.reason };

/** What the ranking's page is told where there is nothing to rank. */
export async function emptyRanking(
  store: Store,
  served: ServedStore,
  state: 'no_data' | 'not_assessed',
): Promise<Ranking> {
  const settings = await store.settings();
  return {
    state,
    asOf: '',
    asOfOn: '',
    previousAsOf: null,
    ...servedWords(served),
    stale: false,
    currency: settings.currency,
    rows: [],
    assumptions: assumptions(settings),
  };
}
