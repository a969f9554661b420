/** The unit on the day asked for; where that was not assessed, on the newest, of which only what helps is shown. */
import type { AssessedDay } from '../../api/contract/assessments.ts';
import type { UnitView } from '../../api/contract/unit.ts';
import type { ApiClient } from '../api-client.ts';

export type ShownUnit = { unit: UnitView; days: AssessedDay[]; storeOption: string; unassessed: string | null };

/** `asOf` '' is the newest assessed day. */
export async function shownUnit(client: ApiClient, unit: string, asOf: string): Promise<ShownUnit> {
  const { days, storeOption } = await client.assessments();
  const unassessed = asOf === '' || days.some((day) => day.asOf === asOf) ? null : asOf;
  return { unit: await client.unit(unit, unassessed === null ? asOf : ''), days, storeOption, unassessed };
}
