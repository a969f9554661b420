import { isFleetParameters, type FleetParameters } from '../etl/assess-fleet.ts';
import { finishWithJobs } from '../etl/loading/finish-with-jobs.ts';
import { asOf, dayOf, US_PER_DAY, type AsOf } from '../etl/model/time.ts';
import { newestOfUnit, reassessUnit } from '../etl/reassess.ts';
import type { AssessmentHead, ReassessedUnit, Store } from '../etl/store/store.ts';
import { standingAt } from './planning/known-decisions.ts';
import { byCostOfWaiting, rank } from './planning/rank.ts';
import { rankedDay } from './views/ranked-day.ts';
import { rankingBasis } from './views/ranking-basis.ts';

/** What was computed anew of some units, and under whose parameters. */
export type ReassessedSummary = {
  /** The assessment that they were put into. */
  asOf: string;
  /** When the fleet's parameters were found, µs. */
  parametersUs: number;
  units: { unit: string; asOf: string; outlooks: number; refused: number }[];
};

/**
 * Computes some units anew under the parameters of the newest assessment and puts them into it, ranking and all. A unit
 * with a crank or record after the assessment's day is assessed as of its own newest day; the others stay as they are.
 */
export async function reassessAndRank(
  store: Store,
  spellings: readonly string[],
  nowUs: number,
): Promise<ReassessedSummary> {
  await finishWithJobs(store, 1);
  const { head, fleet } = await keptFleet(store);
  const reassessed: ReassessedUnit[] = [];
  for (const unit of await namesOf(store, spellings)) {
    const day = await dayOfUnit(store, unit, { head, nowUs });
    reassessed.push(await reassessUnit(store, unit, { asOf: day, fleet }));
  }
  await store.saveReassessed(head.asOf.label, reassessed, nowUs);
  await rankAnew(store, head, { reassessed, nowUs });
  return {
    asOf: head.asOf.label,
    parametersUs: head.computedUs,
    units: reassessed.map(({ unit, asOf: { label }, outlooks }) => ({
      unit,
      asOf: label,
      outlooks: outlooks.length,
      refused: outlooks.filter(({ survival }) => survival === null).length,
    })),
  };
}

/** Whether the fleet has been assessed by this program. */
export async function canReassess(store: Store): Promise<boolean> {
  const head = (await store.assessments())[0];
  return head !== undefined && isFleetParameters(await store.fleet(head.asOf.label));
}

async function keptFleet(store: Store): Promise<{ head: AssessmentHead; fleet: FleetParameters }> {
  const head = (await store.assessments())[0];
  if (head === undefined)
    throw new RangeError('assess --unit requires an assessment of the fleet, got none (--unit): run assess first');
  const fleet = await store.fleet(head.asOf.label);
  if (isFleetParameters(fleet)) return { head, fleet };
  throw new RangeError(
    `assess --unit requires an assessment by this version, got the one of ${head.asOf.label} by an older (--unit): run assess`,
  );
}

/** The units that go by these spellings, each once. */
async function namesOf(store: Store, spellings: readonly string[]): Promise<Set<string>> {
  const units = new Set<string>();
  for (const spelling of spellings) {
    const unit = await store.unitName(spelling);
    const known = [...(await store.units(Infinity, unit)), ...(await store.engines(unit))];
    if (known.length === 0 && (await store.workOrders(Infinity, unit)).length === 0)
      throw new RangeError(`assess --unit requires a unit that was loaded, got ${spelling} (--unit)`);
    units.add(unit);
  }
  return units;
}

async function dayOfUnit(
  store: Store,
  unit: string,
  { head, nowUs }: { head: AssessmentHead; nowUs: number },
): Promise<AsOf> {
  const newestUs = await newestOfUnit(store, unit, nowUs + US_PER_DAY);
  if (newestUs === null || newestUs <= head.asOf.us) return head.asOf;
  const { timeZone } = await store.settings();
  return asOf(dayOf(newestUs, timeZone), timeZone);
}

type Ranking = { reassessed: readonly ReassessedUnit[]; nowUs: number };

/** The units' own rows, where the others were ranked under the settings and decisions that stand; else all of them. */
async function rankAnew(store: Store, head: AssessmentHead, { reassessed, nowUs }: Ranking): Promise<void> {
  const { label } = head.asOf;
  const basis = await rankingBasis(store);
  if (head.rankingBasis !== basis) {
    const { rows } = await rankedDay(store, head.asOf, nowUs);
    return store.saveRanking(label, basis, rows);
  }
  const units = [];
  const shopVisits = [];
  for (const { unit } of reassessed) {
    units.push(...(await store.units(head.asOf.us, unit)));
    shopVisits.push(...(await store.shopVisits(unit)));
  }
  const rows = rank({
    asOf: head.asOf,
    ownDays: new Map(reassessed.map(({ unit, asOf: { on } }) => [unit, on])),
    outlooks: reassessed.flatMap(({ outlooks }) => outlooks),
    units,
    settings: await store.settings(),
    shopVisits,
    bookings: standingAt(await store.bookings(), nowUs),
    deferrals: standingAt(await store.deferrals(), nowUs),
  });
  const named = new Set(reassessed.map(({ unit }) => unit));
  return store.mergeRanking(label, { units: named, rows }, byCostOfWaiting);
}
