import { expect, it } from 'vitest';
import { csvOfRows } from '../../../web/priority/ranking-csv.ts';

const HEAD = 'as_of,rank,unit,reason';
const FIRST = '2026-10-31,1,A,"one,\r\ntwo ""lines"""';
const SECOND = '2026-10-31,2,B,x';
const TWELFTH = '2026-10-31,12,C,y';
const CSV = [HEAD, FIRST, SECOND, TWELFTH, ''].join('\r\n');

it('keeps the head and the records of the rows, in their order, whatever their fields hold', () => {
  expect(csvOfRows(CSV, [{ rank: 12 }, { rank: 1 }])).toBe([HEAD, TWELFTH, FIRST, ''].join('\r\n'));
});

it('of all rows in rank order is the file as it came; of none its head', () => {
  expect(csvOfRows(CSV, [{ rank: 1 }, { rank: 2 }, { rank: 12 }])).toBe(CSV);
  expect(csvOfRows(CSV, [])).toBe(`${HEAD}\r\n`);
});
