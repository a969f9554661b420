import { Value } from 'typebox/value';
import { expect, it } from 'vitest';
import { SystemCodes } from '../../api/contract/system-codes.ts';
import { appOver } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';
import { workOrder } from '../support/work-orders.ts';

const order = (systemCode: string | null, complaint: string, correction: string) =>
  workOrder({ workOrder: complaint, systemCode, complaint, correction });

async function codesOf(workOrders: ReturnType<typeof workOrder>[], set = {}) {
  const store = memoryStore({ workOrders });
  await store.saveSettings({ systemCodes: set });
  const answer = (await (await appOver(store)).inject('/api/system-codes')).json<SystemCodes>();
  expect([...Value.Errors(SystemCodes, answer)]).toEqual([]);
  return answer;
}

it('each code with its records, what they speak of, one of them, and what it was said to mean', async () => {
  const { codes, orders } = await codesOf(
    [
      order('32', 'no crank', 'replaced batteries'),
      order('32', 'slow crank', 'replaced battery'),
      order('32', 'mirror', 'replaced mirror glass'),
      order('13', 'brakes squeal', 'front pads'),
      order(null, 'no crank', 'replaced starter'),
      order('', 'no crank', 'replaced starter'),
    ],
    { '13': 'none', '99': 'starter' },
  );
  expect(orders).toBe(6);
  expect(codes).toEqual([
    {
      code: '32',
      orders: 3,
      component: null,
      read: { component: 'battery', orders: 2, ofRead: 3 },
      example: 'no crank / replaced batteries',
    },
    { code: '13', orders: 1, component: 'none', read: null, example: 'brakes squeal / front pads' },
    // Mapped, and carried by no record any more: it stays in sight.
    { code: '99', orders: 0, component: 'starter', read: null, example: '' },
  ]);
});

it('records without a code have none', async () => {
  expect(await codesOf([order(null, 'a', 'b')])).toEqual({ codes: [], orders: 1 });
  expect(await codesOf([])).toEqual({ codes: [], orders: 0 });
});
