import { describe, expect, it } from 'vitest';
import type { RankingRow } from '../../../api/contract/ranking.ts';
import { RequestFailed, type ApiClient } from '../../../web/api-client.ts';
import { keepDecision, takeBackDecision } from '../../../web/priority/decide.ts';

const row = { unit: 'T-014', position: 'left', component: 'battery', booking: { bookingId: 7 }, deferral: null };
const job = row as unknown as RankingRow;
const client = (act: () => Promise<void>) => ({ book: act, withdrawBooking: act }) as unknown as ApiClient;
const refused = (status: number | null) => async () => {
  throw new RequestFailed({ title: 'Not done', detail: 'for a reason', remedy: 'Reload the page.' }, status);
};
const booking = { kind: 'book', row: job, on: '2026-11-05', words: '' } as const;

describe('a decision', () => {
  it('that is kept makes what is shown old, and is said', async () => {
    expect(
      await keepDecision(
        client(async () => undefined),
        booking,
      ),
    ).toEqual({
      outdated: true,
      said: 'T-014 left battery booked for 5 Nov 2026',
    });
  });

  it.each([
    [409, true],
    [404, true],
    [400, false],
    [null, false],
  ])('refused with %s: what is shown was overtaken, %s', async (status, outdated) => {
    const kept = await keepDecision(client(refused(status)), booking);
    expect(kept).toEqual({ outdated, said: expect.stringContaining('for a reason') as string });
    expect(await takeBackDecision(client(refused(status)), job)).toMatchObject({ outdated });
  });
});
