import { and, asc, desc, eq, ne } from 'drizzle-orm';
import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import { getTableName } from 'drizzle-orm';
import { inBatches } from './batch-queue.ts';
import { bulkInsert } from './bulk-insert.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { isAlive } from './process-identity.ts';
import { assessments, lives, outlooks, rankings, reassessedUnits, trends } from './schema/derived.ts';
import type { Assessment, AssessmentHead, Store } from './store.ts';

type AssessmentMethods = Pick<
  Store,
  'saveAssessment' | 'assessments' | 'lives' | 'trends' | 'outlooks' | 'fleet' | 'saveRanking' | 'ranking'
>;

/**
 * What `assess` found, day by day. Written in short batches under a head that no query sees until it is flipped, as
 * files are; the former assessment of the same day goes with the flip.
 */
export function assessmentMethods(connections: StoreConnections, saver: string): AssessmentMethods {
  const { reader } = connections;
  const idOf = (label: string) => liveId(reader, label);
  return {
    async saveAssessment(assessment, computedUs, inputs) {
      save(writerOf(connections), assessment, { computedUs, inputs, saver });
    },
    async assessments(): Promise<AssessmentHead[]> {
      return reader.db
        .select()
        .from(assessments)
        .where(eq(assessments.state, 'live'))
        .orderBy(desc(assessments.asOfUs), desc(assessments.assessmentId))
        .all()
        .map((row) => ({
          asOf: { us: row.asOfUs, label: row.asOfLabel, on: row.asOfOn },
          computedUs: row.computedUs,
          inputs: row.inputs,
          reassessedUs: row.reassessedUs,
          rankingBasis: row.rankingBasis,
        }));
    },
    async lives(label, unit) {
      return rowsOf(reader, lives, idOf(label), unit);
    },
    async trends(label, unit) {
      return rowsOf(reader, trends, idOf(label), unit);
    },
    async outlooks(label, unit) {
      return rowsOf(reader, outlooks, idOf(label), unit);
    },
    async fleet(label) {
      return (
        reader.db
          .select()
          .from(assessments)
          .where(eq(assessments.assessmentId, idOf(label)))
          .get()?.fleet ?? null
      );
    },
    async saveRanking(label, basis, rows) {
      const writer = writerOf(connections);
      inTransaction(writer, () => {
        const assessmentId = liveId(writer, label);
        writer.db.delete(rankings).where(eq(rankings.assessmentId, assessmentId)).run();
        bulkInsert(
          writer.sqlite,
          rankings,
          rows.map((row, seq) => ({ assessmentId, seq, ...row })),
        );
        writer.db
          .update(assessments)
          .set({ rankingBasis: basis })
          .where(eq(assessments.assessmentId, assessmentId))
          .run();
      });
    },
    async ranking(label) {
      const head = reader.db
        .select()
        .from(assessments)
        .where(eq(assessments.assessmentId, idOf(label)))
        .get();
      if (head === undefined || head.rankingBasis === null) return null;
      return { basis: head.rankingBasis, rows: rowsOf(reader, rankings, head.assessmentId) };
    },
  };
}

export function liveId({ db }: Connection, label: string): number {
  const head = db
    .select({ assessmentId: assessments.assessmentId })
    .from(assessments)
    .where(and(eq(assessments.asOfLabel, label), eq(assessments.state, 'live')))
    .get();
  if (head === undefined) throw new RangeError(`an as-of requires a date that was assessed, got ${label} (store)`);
  return head.assessmentId;
}

type ResultTable = typeof lives | typeof trends | typeof outlooks | typeof rankings;

/**
 * The rows of one assessment in the order in which they were handed over (where a unit's were put in later, those of units
 * beside it may lie among them), a ranking's by rank, without what places
 * them in the store.
 */
function rowsOf<Table extends ResultTable>(
  { db }: Connection,
  table: Table,
  assessmentId: number,
  unit?: string,
): Omit<Table['$inferSelect'], 'assessmentId' | 'seq'>[] {
  const source: ResultTable = table;
  const rows = db
    .select()
    .from(source as SQLiteTable)
    .where(and(eq(source.assessmentId, assessmentId), unit === undefined ? undefined : eq(source.unit, unit)))
    .orderBy(asc(source === rankings ? rankings.rank : source.seq), asc(source.unit))
    .all();
  return rows.map(({ assessmentId: _, seq: __, ...row }) => row as Omit<Table['$inferSelect'], 'assessmentId' | 'seq'>);
}

type Saving = { computedUs: number; inputs: string; saver: string };

function save(writer: Connection, assessment: Assessment, { computedUs, inputs, saver }: Saving): void {
  const { db } = writer;
  const { asOf, fleet } = assessment;
  const head = { asOfLabel: asOf.label, asOfUs: asOf.us, asOfOn: asOf.on, computedUs, inputs, fleet, saver };
  const { assessmentId } = db
    .insert(assessments)
    .values({ ...head, state: 'saving' })
    .returning({ assessmentId: assessments.assessmentId })
    .get();
  for (const some of placed(assessment.lives, assessmentId))
    inTransaction(writer, () => bulkInsert(writer.sqlite, lives, some));
  for (const some of placed(assessment.trends, assessmentId))
    inTransaction(writer, () => bulkInsert(writer.sqlite, trends, some));
  for (const some of placed(assessment.outlooks, assessmentId))
    inTransaction(writer, () => bulkInsert(writer.sqlite, outlooks, some));
  inTransaction(writer, () => {
    const former = and(eq(assessments.asOfLabel, asOf.label), ne(assessments.assessmentId, assessmentId));
    db.update(assessments)
      .set({ state: 'dropped', saver: '' })
      .where(and(former, eq(assessments.state, 'live')))
      .run();
    db.update(assessments).set({ state: 'live', saver: '' }).where(eq(assessments.assessmentId, assessmentId)).run();
  });
  sweepAssessments(writer);
}

/** Batches of rows with their place, each made when its turn comes: of a large fleet all at once would be as much again. */
function* placed<Row extends object>(rows: readonly Row[], assessmentId: number) {
  let seq = 0;
  for (const some of inBatches(rows)) yield some.map((row) => ({ assessmentId, seq: seq++, ...row }));
}

/** Deletes assessments that were replaced, or left unfinished by a process that is gone. */
export function sweepAssessments(writer: Connection): void {
  const heads = writer.db.select().from(assessments).where(ne(assessments.state, 'live')).all();
  for (const { assessmentId, state, saver } of heads) {
    if (state === 'saving' && isAlive(saver)) continue;
    inTransaction(writer, () => {
      for (const table of [lives, trends, outlooks, rankings, reassessedUnits])
        writer.sqlite.prepare(`delete from "${getTableName(table)}" where assessment_id = ?`).run(assessmentId);
      writer.db.delete(assessments).where(eq(assessments.assessmentId, assessmentId)).run();
    });
  }
}
