import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { HAS_RECORDINGS, recording, SKIPPED } from '../support/recordings.ts';
import { workOrder } from '../support/work-orders.ts';

type Row = { work_order: string; unit: string; complaint: string; parts_cost: string };

/**
 * 2,094 real records of three machines with two engines each. Expected: counted by hand over the records, of which 78
 * touch starting, batteries, cables, charging or the start circuit.
 */
describe.skipIf(!HAS_RECORDINGS)(`recorded work orders${SKIPPED}`, () => {
  const rows = HAS_RECORDINGS ? parse<Row>(readFileSync(recording('work-orders.csv')!, 'utf8'), { columns: true }) : [];
  const read = rows.map(({ work_order, unit, complaint, parts_cost }) =>
    readWorkOrder(
      workOrder({ workOrder: work_order, unit, complaint, partsCostMinor: Math.round(100 * Number(parts_cost)) }),
    ),
  );
  const count = (component: string, event: string) =>
    read.filter((order) => order.some((row) => row.component === component && row.event === event)).length;

  it('are all read, most of them as having nothing to do with cranking', () => {
    expect(read).toHaveLength(2094);
    expect(count('none', 'unrelated')).toBe(2094 - 78);
  });

  it('hold the jump starts, no-starts and exchanges that a person counts', () => {
    expect(count('battery', 'jump_started')).toBe(28);
    expect(count('none', 'no_start')).toBe(22);
    expect(count('battery', 'no_start')).toBe(2);
    expect(count('battery', 'replaced')).toBe(5);
    expect(count('starter', 'replaced')).toBe(5);
  });

  it('name no engine but the left and the right one', () => {
    expect(new Set(read.flat().map(({ position }) => position))).toEqual(new Set(['', 'left', 'right']));
  });
});
