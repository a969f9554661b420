import type { AssessmentHead, Store } from '../../etl/store/store.ts';
import { asOf } from '../../etl/model/time.ts';
import { ProblemError } from '../problem-error.ts';

/** The assessment that a page shows, with the versions of everything that its answer is made of. */
export type AssessedDay = {
  head: AssessmentHead;
  /** The assessment before it, for what changed since. */
  previous: AssessmentHead | null;
  isNewest: boolean;
  /** Where `isNewest` this same head: what happened since an earlier day is known up to here. */
  newest: AssessmentHead;
  inputs: string;
  settingsVersion: string;
};

/** The newest assessed day, or the one that is asked for; else why there is none. */
export async function assessedDay(store: Store, label?: string): Promise<AssessedDay | 'no_data' | 'not_assessed'> {
  const heads = await store.assessments();
  const wanted = label === undefined ? undefined : requireAsOf(label);
  const index = wanted === undefined ? 0 : heads.findIndex(({ asOf }) => asOf.label === wanted);
  const head = heads[index];
  if (head === undefined && wanted !== undefined) throw notAssessed(wanted);
  if (head === undefined) return (await store.imports()).length === 0 ? 'no_data' : 'not_assessed';
  const [inputs, settingsVersion] = await Promise.all([store.inputsVersion(), store.settingsVersion()]);
  return {
    head,
    previous: heads[index + 1] ?? null,
    isNewest: index === 0,
    newest: heads[0]!,
    inputs,
    settingsVersion,
  };
}

/** Whether data have come or gone since, or the day has other bounds in the time zone that is set now. */
export function isOutdated({ asOf: day, inputs }: AssessmentHead, inputsNow: string, timeZone: string): boolean {
  return inputs !== inputsNow || asOf(day.label, timeZone).us !== day.us;
}

/** The label that an as-of has, however its instant was written. */
function requireAsOf(text: string): string {
  try {
    return asOf(text).label;
  } catch {
    const remedy = 'Write the day as 2026-03-01; /api/assessments lists those that were assessed.';
    const detail = `as_of requires a date YYYY-MM-DD or an instant with zone, got ${text || 'nothing'}`;
    throw new ProblemError(400, detail, remedy);
  }
}

function notAssessed(label: string): ProblemError {
  const remedy = `Run: npm run -s cli -- assess --as-of ${label}`;
  return new ProblemError(404, `as_of requires a date that was assessed, got ${label}`, remedy);
}

/** As `assessedDay`, for answers that make no sense without one. */
export async function requireAssessedDay(store: Store, label?: string): Promise<AssessedDay> {
  const day = await assessedDay(store, label);
  if (typeof day !== 'string') return day;
  throw new ProblemError(
    409,
    day === 'no_data' ? 'the store holds no data' : 'the data have not been assessed',
    day === 'no_data' ? 'Run: npm run -s cli -- load FOLDER, then assess' : 'Run: npm run -s cli -- assess',
  );
}

/** Everything that an answer about this day depends on. */
export function stateParts(day: AssessedDay): (string | number)[] {
  const { head, previous, isNewest, inputs, settingsVersion } = day;
  const { asOf, computedUs, reassessedUs } = head;
  const before = [previous?.asOf.label, previous?.computedUs, previous?.reassessedUs, previous?.rankingBasis];
  const own = [asOf.label, computedUs, reassessedUs ?? '', Number(isNewest), inputs, settingsVersion];
  return [...own, ...before.map((each) => each ?? '')];
}
