import { describe, expect, it } from 'vitest';
import { knownWord } from '../../etl/lives/known-word.ts';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { workOrder } from '../support/work-orders.ts';
import { ONE_LINERS, TEMPTING_ONE_LINERS } from './invented-one-liners.ts';
import { DEPOT_OTHERS, DEPOT_RECORDS } from './invented-depots.ts';
import { TEMPTING_WORDINGS, WORDINGS } from './invented-wordings.ts';
import { OWN_WORDS, SLIPPED_OTHERS, SLIPPED_RECORDS } from './invented-slips.ts';
import { SITE_OTHERS, SITE_RECORDS } from './invented-sites.ts';
import { WORKSHOP_OTHERS, WORKSHOP_RECORDS } from './invented-workshops.ts';
import { YARD_OTHERS, YARD_RECORDS } from './invented-yards.ts';
import { LOOKED_AT, OTHER_PARTS, REPLACEMENTS, STARTS, UNRELATED } from './invented-records.ts';

/** `complaint | cause | correction`, or a complaint alone → `component event [planned] [position]`. */
function readOf(record: string): string[] {
  const [complaint = '', cause = '', correction = ''] = record.split('|').map((text) => text.trim());
  return readWorkOrder(workOrder({ complaint, cause, correction })).map(({ component, event, unplanned, position }) =>
    [component, event, unplanned || event === 'inspected' || event === 'unrelated' ? '' : 'planned', position]
      .filter((word) => word !== '')
      .join(' '),
  );
}

const isLook = (row: string) => row.includes(' inspected');

function expectRead(record: string, expected: string): void {
  const [read, wanted] = [readOf(record), expected.split('; ')];
  const done = (rows: readonly string[]) => rows.filter((row) => !isLook(row)).sort();
  expect(done(read)).toEqual(done(wanted));
  expect(read).toEqual(expect.arrayContaining(wanted.filter(isLook)));
}

describe('what was exchanged', () => it.each(REPLACEMENTS)('%s', expectRead));
describe('short records', () => it.each(ONE_LINERS)('%s', expectRead));
describe('turns of phrase', () => it.each(WORDINGS)('%s', expectRead));
describe('jump starts, no-starts and charging up', () => it.each(STARTS)('%s', expectRead));
describe('cables, control circuit and charging', () => it.each(OTHER_PARTS)('%s', expectRead));
describe('records of other trades', () =>
  it.each([...DEPOT_RECORDS, ...SITE_RECORDS, ...YARD_RECORDS, ...WORKSHOP_RECORDS])('%s', expectRead));
describe('slips of quick hands', () => it.each(SLIPPED_RECORDS)('%s', expectRead));
it('words that are a slip away from another stay what they are', () =>
  expect(OWN_WORDS.map(knownWord)).toEqual(OWN_WORDS.map((word) => (word === 'cables' ? 'cable' : word))));
describe('what was only looked at', () => it.each(LOOKED_AT)('%s', expectRead));
describe('what has nothing to do with cranking', () =>
  it.each([...UNRELATED, ...TEMPTING_ONE_LINERS, ...TEMPTING_WORDINGS, ...SLIPPED_OTHERS].map((record) => [record]))(
    '%s',
    (record) => expect(readOf(record)).toEqual(['none unrelated']),
  ));

describe('records of other trades in which no part of the start was worked on', () =>
  it.each([...DEPOT_OTHERS, ...SITE_OTHERS, ...YARD_OTHERS, ...WORKSHOP_OTHERS].map((record) => [record]))(
    '%s',
    (record) => expect(readOf(record).filter((row) => row !== 'none unrelated' && !isLook(row))).toEqual([]),
  ));
