import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { HAS_RECORDINGS, recording, SKIPPED } from '../support/recordings.ts';
import { workOrder } from '../support/work-orders.ts';
import { RECORDED_LABELS, TEMPTING, type Label } from './recorded-labels.ts';

type Row = { work_order: string; unit: string; complaint: string; parts_cost: string };
type Counts = { labelled: number; read: number; both: number };

/** 2,094 real records of three machines with two engines each, against what a person reads out of them. */
describe.skipIf(!HAS_RECORDINGS)(`recorded work orders${SKIPPED}`, () => {
  const rows = HAS_RECORDINGS ? parse<Row>(readFileSync(recording('work-orders.csv')!, 'utf8'), { columns: true }) : [];
  const readings = new Map(
    rows.map(({ work_order, unit, complaint, parts_cost }) => {
      const partsCostMinor = Math.round(100 * Number(parts_cost));
      const read = readWorkOrder(workOrder({ workOrder: work_order, unit, complaint, partsCostMinor }));
      const labels = read.filter(({ event }) => event !== 'unrelated');
      return [
        work_order,
        labels.map(({ component, event, position }) => `${component} ${event} ${position}`.trim() as Label),
      ];
    }),
  );

  /** By component and event, whatever the position: how many rows a person names, the reader names, and both do. */
  function counted(): Record<string, Counts> {
    const table: Record<string, Counts> = {};
    for (const number of readings.keys()) {
      const [labelled, read] = [RECORDED_LABELS.get(number) ?? [], readings.get(number)!];
      for (const label of new Set([...labelled, ...read])) {
        const counts = (table[label.replace(/ (?:left|right)$/, '')] ??= { labelled: 0, read: 0, both: 0 });
        counts.labelled += Number(labelled.includes(label));
        counts.read += Number(read.includes(label));
        counts.both += Number(labelled.includes(label) && read.includes(label));
      }
    }
    return table;
  }

  it('labelled by hand: 77 that touch starting, and over 200 that look so', () => {
    expect([readings.size, RECORDED_LABELS.size, TEMPTING.length]).toEqual([2094, 77, 213]);
    expect(TEMPTING.filter((number) => RECORDED_LABELS.has(number) || !readings.has(number))).toEqual([]);
  });

  it('are read as the person does: precision and recall 1 for each component and event', () => {
    const all = (count: number): Counts => ({ labelled: count, read: count, both: count });
    expect(counted()).toEqual({
      'battery jump_started': all(29),
      'battery replaced': all(5),
      'battery no_start': all(2),
      'none no_start': all(23),
      'starter replaced': all(5),
      'starter repaired': all(2),
      'cables repaired': all(6),
      'charging repaired': all(5),
      'charging inspected': all(1),
      'control repaired': all(3),
    });
  });

  it('the tempting ones are about something else', () => {
    expect(TEMPTING.filter((number) => readings.get(number)!.length > 0)).toEqual([]);
  });
});
