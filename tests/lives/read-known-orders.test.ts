import { expect, it } from 'vitest';
import { readKnownOrders } from '../../etl/lives/read-known-orders.ts';
import type { ReadingCorrection } from '../../etl/model/reading-correction.ts';
import { workOrder } from '../support/work-orders.ts';

const orders = [
  workOrder({ workOrder: 'W1', complaint: 'replace batteries', position: 'left' }),
  workOrder({ workOrder: 'W2', complaint: 'jump start' }),
];
const correction = (more: Partial<ReadingCorrection> = {}): ReadingCorrection => ({
  correctionId: 1,
  unit: 'U1',
  workOrder: 'W1',
  readings: [{ component: 'starter', event: 'replaced', unplanned: false, position: '' }],
  createdUs: 1,
  withdrawnUs: null,
  ...more,
});
const read = (...corrections: ReadingCorrection[]) =>
  readKnownOrders(orders, { systemCodes: {}, timeZone: 'UTC', corrections }).map(
    ({ workOrder: number, component, event, words }) => [number, component, event, words].join(' '),
  );
const AS_WRITTEN = 'W1 battery replaced battery; replace';

it("a person's correction wins over the words, for that record of that unit alone", () => {
  expect(read()).toEqual([AS_WRITTEN, 'W2 battery jump_started jump start']);
  expect(read(correction())).toEqual(['W1 starter replaced corrected by hand', 'W2 battery jump_started jump start']);
  expect(read(correction({ unit: 'U2' }))[0]).toBe(AS_WRITTEN);
});

it('one that was taken back decides nothing', () => {
  expect(read(correction({ withdrawnUs: 2 }))[0]).toBe(AS_WRITTEN);
});

it('one record may be read as several things; the position of the record stands unless the person names one', () => {
  const readings = [
    { component: 'starter' as const, event: 'replaced' as const, unplanned: true, position: 'right' },
    { component: 'battery' as const, event: 'inspected' as const, unplanned: true, position: '' },
  ];
  const rows = readKnownOrders([orders[0]!], {
    systemCodes: {},
    timeZone: 'UTC',
    corrections: [correction({ readings })],
  });
  expect(rows.map(({ component, position }) => [component, position])).toEqual([
    ['starter', 'right'],
    ['battery', 'left'],
  ]);
});
