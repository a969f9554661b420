/** Keeps a planner's decision about a job, or takes it back, and says what came of it. */
import type { RankingRow } from '../../api/contract/ranking.ts';
import { problemWords, RequestFailed, type ApiClient } from '../api-client.ts';
import type { Decided } from '../elements/decision-dialog.ts';
import { date } from '../format.ts';
import { COMPONENT_WORDS } from '../words.ts';

/** `said` is for the page's status line, whether or not it could be done. `outdated`: what is shown no longer stands. */
export type Outcome = { outdated: boolean; said: string };

/** What was decided about was decided elsewhere meanwhile: in another window, by somebody else. */
const OVERTAKEN: readonly (number | null)[] = [404, 409];

export function keepDecision(client: ApiClient, { kind, row, on, words }: Decided): Promise<Outcome> {
  const job = { unit: row.unit, position: row.position, component: row.component };
  return outcome(`${jobName(row)} ${kind === 'book' ? 'booked for' : 'deferred to'} ${date(on)}`, () =>
    kind === 'book'
      ? client.book({ ...job, bookedOn: on, note: words })
      : client.defer({ ...job, untilOn: on, reason: words }),
  );
}

export function takeBackDecision(client: ApiClient, row: RankingRow): Promise<Outcome> {
  return outcome(`${jobName(row)}: decision taken back`, async () => {
    if (row.booking !== null) await client.withdrawBooking(row.booking.bookingId);
    if (row.deferral !== null) await client.withdrawDeferral(row.deferral.deferralId);
  });
}

async function outcome(said: string, act: () => Promise<void>): Promise<Outcome> {
  try {
    await act();
    return { outdated: true, said };
  } catch (error) {
    const overtaken = error instanceof RequestFailed && OVERTAKEN.includes(error.status);
    return { outdated: overtaken, said: problemWords(error) };
  }
}

function jobName(row: RankingRow): string {
  return [row.unit, row.position, COMPONENT_WORDS[row.component].toLowerCase()].filter((word) => word !== '').join(' ');
}
