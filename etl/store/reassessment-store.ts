import { and, asc, eq, getTableName } from 'drizzle-orm';
import { liveId } from './assessment-store.ts';
import { bulkInsert } from './bulk-insert.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { assessments, lives, outlooks, rankings, reassessedUnits, trends } from './schema/derived.ts';
import type { RankKey, RankedUnits, RankOrder, ReassessedUnit, Store } from './store.ts';

type ReassessmentMethods = Pick<Store, 'saveReassessed' | 'reassessed' | 'mergeRanking'>;

/** Single units that are put into a standing assessment: each in one short transaction, the rest of the fleet untouched. */
export function reassessmentMethods(connections: StoreConnections): ReassessmentMethods {
  return {
    async saveReassessed(label, units, computedUs) {
      const writer = writerOf(connections);
      inTransaction(writer, () => {
        const assessmentId = liveId(writer, label);
        for (const unit of units) replaceUnit(writer, unit, { assessmentId, computedUs });
        const head = writer.db.update(assessments).set({ reassessedUs: computedUs });
        head.where(eq(assessments.assessmentId, assessmentId)).run();
      });
    },
    async reassessed(label) {
      const { reader } = connections;
      return reader.db
        .select()
        .from(reassessedUnits)
        .where(eq(reassessedUnits.assessmentId, liveId(reader, label)))
        .orderBy(asc(reassessedUnits.unit))
        .all()
        .map(({ unit, asOfUs, asOfLabel, asOfOn, computedUs }) => ({
          unit,
          asOf: { us: asOfUs, label: asOfLabel, on: asOfOn },
          computedUs,
        }));
    },
    async mergeRanking(label, ranked, order) {
      const writer = writerOf(connections);
      inTransaction(writer, () => mergeRows(writer, liveId(writer, label), { ...ranked, order }));
    },
  };
}

type Place = { assessmentId: number; computedUs: number };

function replaceUnit(writer: Connection, { unit, asOf, ...found }: ReassessedUnit, place: Place): void {
  const { assessmentId, computedUs } = place;
  const where = { assessmentId, unit };
  replaceRows(writer, where, [lives, found.lives]);
  replaceRows(writer, where, [trends, found.trends]);
  replaceRows(writer, where, [outlooks, found.outlooks]);
  const day = { asOfUs: asOf.us, asOfLabel: asOf.label, asOfOn: asOf.on, computedUs };
  const noted = writer.db.insert(reassessedUnits).values({ ...where, ...day });
  noted.onConflictDoUpdate({ target: [reassessedUnits.assessmentId, reassessedUnits.unit], set: day }).run();
}

type UnitPlace = { assessmentId: number; unit: string };
type UnitTable = typeof lives | typeof trends | typeof outlooks;

/** The new rows stand where the former ones began. */
function replaceRows(writer: Connection, place: UnitPlace, [table, rows]: [UnitTable, readonly object[]]): void {
  const { sqlite } = writer;
  const name = getTableName(table);
  const where = 'where assessment_id = ? and unit = ?';
  const first = sqlite.prepare(`select min(seq) from "${name}" ${where}`).pluck();
  const end = sqlite.prepare(`select coalesce(max(seq) + 1, 0) from "${name}" where assessment_id = ?`).pluck();
  const from = (first.get(place.assessmentId, place.unit) ?? end.get(place.assessmentId)) as number;
  sqlite.prepare(`delete from "${name}" ${where}`).run(place.assessmentId, place.unit);
  const placed = rows.map((row, at) => ({ ...row, ...place, seq: from + at }));
  bulkInsert(sqlite, table, placed as never[]);
}

type Merging = RankedUnits & { order: RankOrder };
type Standing = RankKey & { seq: number; rank: number };

function mergeRows(writer: Connection, assessmentId: number, { units, rows, order }: Merging): void {
  const standing = standingRows(writer, assessmentId);
  const staying = standing.filter(({ unit }) => !units.has(unit));
  for (const unit of units)
    writer.db
      .delete(rankings)
      .where(and(eq(rankings.assessmentId, assessmentId), eq(rankings.unit, unit)))
      .run();
  const nextSeq = standing.reduce((most, { seq }) => Math.max(most, seq + 1), 0);
  const move = writer.sqlite.prepare('update rankings set rank = ? where assessment_id = ? and unit = ? and seq = ?');
  const added = rows.toSorted(order).map((row, at) => ({ ...row, assessmentId, seq: nextSeq + at }));
  let at = 0;
  let rank = 0;
  for (const row of staying) {
    for (; at < added.length && order(added[at]!, row) < 0; at++) added[at]!.rank = ++rank;
    if (row.rank !== ++rank) move.run(rank, assessmentId, row.unit, row.seq);
  }
  for (; at < added.length; at++) added[at]!.rank = ++rank;
  bulkInsert(writer.sqlite, rankings, added);
}

function standingRows({ sqlite }: Connection, assessmentId: number): Standing[] {
  const text = `select seq, unit, position, component, rank, cost_of_waiting_minor as costOfWaitingMinor,
    road_call_risk as roadCallRisk from rankings where assessment_id = ? order by rank`;
  return sqlite.prepare(text).all(assessmentId) as Standing[];
}
