import { describe, expect, it } from 'vitest';
import { readingsOf } from '../support/readings-of.ts';
import { assess } from '../../etl/assess.ts';
import type { Store } from '../../etl/store/store.ts';
import { AS_OF, appOver, assessedStore, awkwardFleet } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';
import { workOrder } from '../support/work-orders.ts';

const ODD = '../../x';
const payload = { readings: [{ component: 'starter', event: 'replaced', unplanned: true, position: '' }] };
const address = (unit: string, number: string) =>
  `/api/work-orders/${encodeURIComponent(unit)}/${encodeURIComponent(number)}/reading`;

/** What the program finds of an empty fleet: enough for a unit to be computed anew by. */
async function fleetParameters() {
  return (await assess(memoryStore(), AS_OF)).fleet;
}

async function fleet() {
  const orders = [workOrder({ complaint: 'replace batteries' }), workOrder({ unit: ODD, workOrder: 'W/2 <b>' })];
  const store = await assessedStore({ ...awkwardFleet(), workOrders: orders });
  return { store, app: await appOver(store) };
}

describe('a correction of how a record was read', () => {
  it('is kept, shown and exported, and taken back', async () => {
    const { store, app } = await fleet();
    expect(await readingsOf(store)).toContainEqual(['W1', 'battery', 'replaced', 'battery; replace']);
    const made = await app.inject({ method: 'POST', url: address('U1', 'W1'), payload });
    expect([made.statusCode, made.json()]).toMatchObject([201, { unit: 'U1', workOrder: 'W1', ...payload }]);
    expect(await readingsOf(store)).toContainEqual(['W1', 'starter', 'replaced', 'corrected by hand']);
    const page = (await app.inject('/api/units/U1')).json<{
      workOrders: { component: string; corrected: boolean }[];
    }>();
    expect(page.workOrders).toMatchObject([{ component: 'starter', corrected: true }]);
    expect((await app.inject({ method: 'DELETE', url: address('U1', 'W1') })).statusCode).toBe(204);
    expect(await readingsOf(store)).toContainEqual(['W1', 'battery', 'replaced', 'battery; replace']);
    const again = await app.inject({ method: 'DELETE', url: address('U1', 'W1') });
    expect([again.statusCode, again.json()]).toMatchObject([
      404,
      { detail: 'correction requires one that stands, got U1 W1' },
    ]);
  });

  it('takes numbers as people write them', async () => {
    const { store, app } = await fleet();
    const made = await app.inject({ method: 'POST', url: address(ODD, 'W/2 <b>'), payload });
    expect(made.statusCode).toBe(201);
    expect((await store.readingCorrections(ODD)).map((each) => each.workOrder)).toEqual(['W/2 <b>']);
  });

  it.each([
    ['U1', 'W9', payload, 404, /reading requires a work order of U1, got W9/],
    ['nobody', 'W1', payload, 404, /nobody/],
    ['U1', 'W1', { readings: [] }, 400, /readings requires at least 1 entry, got \[\]/],
    [
      'U1',
      'W1',
      { readings: [{ ...payload.readings[0], component: 'gearbox' }] },
      400,
      /readings\.0\.component requires one of/,
    ],
    [
      'U1',
      'W1',
      { readings: [{ ...payload.readings[0], component: 'none' }] },
      400,
      /event replaced requires a component/,
    ],
    ['U1', 'W1', { readings: [{ ...payload.readings[0], event: 'unrelated' }] }, 400, /requires component none/],
    ['U1', 'W1', { ...payload, price: 1 }, 400, /body requires only fields that it knows, got price/],
  ])('of %s %s as %o is refused', async (unit, number, body, status, words) => {
    const { store, app } = await fleet();
    const response = await app.inject({ method: 'POST', url: address(unit, number), payload: body });
    expect(response.statusCode).toBe(status);
    expect(response.json<{ detail: string }>().detail).toMatch(words);
    expect(await store.readingCorrections()).toEqual([]);
  });

  it('that the program then fails over is not told as one that waits for the next assessment', async () => {
    const { store } = await fleet();
    const parameters = await fleetParameters();
    const broken: Store = {
      ...store,
      fleet: async () => parameters,
      fittedParts: async () => Promise.reject(new RangeError('Invalid time value')),
    };
    const response = await (await appOver(broken)).inject({ method: 'POST', url: address('U1', 'W1'), payload });
    expect(response.statusCode).toBe(500);
  });

  it('comes from a page of this server alone', async () => {
    const { app } = await fleet();
    const headers = { origin: 'http://elsewhere.example' };
    const foreign = await app.inject({ method: 'POST', url: address('U1', 'W1'), payload, headers });
    expect(foreign.statusCode).toBe(403);
  });
});
