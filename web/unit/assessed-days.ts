/** Stepping through the days that were assessed, the newest first. */
import type { AssessedDay } from '../../api/contract/assessments.ts';

/** The assessed day before the one on the page, which itself need not be assessed. */
export function earlierDay(days: readonly AssessedDay[], asOf: string): string | null {
  const index = days.findIndex((day) => day.asOf === asOf);
  const before = index === -1 ? days.find((day) => day.asOfOn < asOf) : days[index + 1];
  return before?.asOf ?? null;
}

export function laterDay(days: readonly AssessedDay[], asOf: string): string | null {
  const index = days.findIndex((day) => day.asOf === asOf);
  const after = index === -1 ? days.findLast((day) => day.asOfOn > asOf) : days[index - 1];
  return after?.asOf ?? null;
}
