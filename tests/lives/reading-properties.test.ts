import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { COMPONENTS, EVENTS } from '../../etl/model/words.ts';
import { workOrder } from '../support/work-orders.ts';
import { ONE_LINERS } from './invented-one-liners.ts';
import { LOOKED_AT, OTHER_PARTS, REPLACEMENTS, STARTS, UNRELATED } from './invented-records.ts';

const records = [...REPLACEMENTS, ...STARTS, ...OTHER_PARTS, ...LOOKED_AT, ...ONE_LINERS].map(([record]) => record);
const read = (complaint: string, correction = '') => {
  const rows = readWorkOrder(workOrder({ complaint, correction }));
  return rows.map(({ component, event, position }) => [component, event, position]);
};

describe('how a record is read', () => {
  it.each([...records, ...UNRELATED])('does not depend on how the shift key was held: %s', (record) => {
    expect(read(record.toUpperCase())).toEqual(read(record.toLowerCase()));
  });

  it('does not depend on blanks around words', () => {
    for (const record of records) expect(read(`  ${record.replaceAll(' ', '   ')} `)).toEqual(read(record));
  });

  it('is a row of known words for any text whatever', () => {
    const word = fc.oneof(fc.constantFrom(...records.flatMap((record) => record.split(' '))), fc.string());
    const text = fc.array(word, { maxLength: 30 }).map((words) => words.join(' '));
    fc.assert(
      fc.property(text, text, (complaint, correction) => {
        const rows = readWorkOrder(workOrder({ complaint, correction }));
        expect(rows.length).toBeGreaterThan(0);
        for (const { component, event, position } of rows) {
          expect([...COMPONENTS, 'none']).toContain(component);
          expect(EVENTS).toContain(event);
          expect(['', 'left', 'right', 'front', 'rear']).toContain(position);
          if (event === 'unrelated') expect(rows).toHaveLength(1);
        }
      }),
      { seed: 7, numRuns: 500 },
    );
  });

  it('keeps to what was done when the rest of the record is about something else', () => {
    for (const [record, expected] of REPLACEMENTS.filter(([, wanted]) => !wanted.includes(';'))) {
      const [component, event] = expected.split(' ');
      const rows = readWorkOrder(
        workOrder({
          complaint: record.split('|')[0]!,
          correction: `${record.split('|').at(-1)!}. greased fifth wheel, topped up coolant`,
        }),
      );
      expect(rows.map((row) => `${row.component} ${row.event}`)).toContain(`${component} ${event}`);
    }
  });
});
