import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clausesOf } from '../../etl/lives/normalise-text.ts';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { COMPONENT_WORDS, FLAT_BATTERY, JUMP_FAILED, JUMP_START, NO_START, STEMS } from '../../etl/lives/vocabulary.ts';
import { COMPONENTS, EVENTS } from '../../etl/model/words.ts';
import { workOrder } from '../support/work-orders.ts';
import { DEPOT_OTHERS, DEPOT_RECORDS } from './invented-depots.ts';
import { ONE_LINERS } from './invented-one-liners.ts';
import { LOOKED_AT, OTHER_PARTS, REPLACEMENTS, STARTS, UNRELATED } from './invented-records.ts';
import { YARD_OTHERS, YARD_RECORDS } from './invented-yards.ts';

const records = [REPLACEMENTS, STARTS, OTHER_PARTS, LOOKED_AT, ONE_LINERS, DEPOT_RECORDS, YARD_RECORDS]
  .flat()
  .map(([record]) => record);
const read = (complaint: string, correction = '') => {
  const rows = readWorkOrder(workOrder({ complaint, correction }));
  return rows.map(({ component, event, position }) => [component, event, position]);
};

it('a clause without a stem of the trade names nothing of starting', () => {
  const clauses = [...records, ...UNRELATED, ...DEPOT_OTHERS, ...YARD_OTHERS].flatMap((record) =>
    clausesOf(record.replaceAll('|', '.')),
  );
  const plain = clauses.filter((clause) => !STEMS.test(clause));
  const finds = (clause: string) =>
    [NO_START, JUMP_START, JUMP_FAILED, FLAT_BATTERY].some((pattern) => clause.search(pattern) >= 0) ||
    COMPONENT_WORDS.some(({ pattern }) => clause.search(pattern) >= 0);
  expect(plain.length).toBeGreaterThan(clauses.length / 10);
  expect(plain.filter(finds)).toEqual([]);
});

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
