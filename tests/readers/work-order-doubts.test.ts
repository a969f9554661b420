import { describe, expect, it } from 'vitest';
import { dateUs } from '../../etl/model/time.ts';
import { workOrdersCsv } from '../../etl/readers/kinds/work-orders-csv.ts';
import { collect, textStream } from '../support/collected-rows.ts';

const HEADER = 'work_order,unit,opened,closed,entered,correction';

/** What is told of a file of these rows, read on 1 June 2026; every row is taken all the same. */
async function notesOf(...rows: string[]): Promise<string[]> {
  const text = textStream(`${[HEADER, ...rows].join('\n')}\n`);
  const { report } = await collect(workOrdersCsv, text, dateUs('2026-06-01'));
  expect([report.taken, report.setAside]).toEqual([rows.length, 0]);
  return report.notes;
}

describe('work orders whose days cannot be right are taken and told', () => {
  it('opened, closed or entered on a day to come', async () => {
    expect(await notesOf('W1,T-1,2031-01-01,,,')).toEqual([
      '1 work order opened on a day to come: counted from that day on (line 2: W1 of T-1, opened 2031-01-01)',
    ]);
    for (const row of ['W1,T-1,2026-01-01,2035-01-02,,', 'W1,T-1,2026-01-01,2026-01-02,2062-01-03,'])
      expect(await notesOf(row)).toEqual([expect.stringContaining('closed or entered on a day to come')]);
    expect(await notesOf('W1,T-1,2026-05-31,2026-06-01,2026-06-02,')).toEqual([]);
  });
  it('closed before it was opened, or open for over a year', async () => {
    expect(await notesOf('W1,T-1,2026-05-10,2026-05-03,,', 'W2,T-1,2026-05-09,2026-04-03,,')).toEqual([
      '2 work orders closed before being opened: the work counts on the day of opening ' +
        '(line 2: W1 of T-1, opened 2026-05-10)',
    ]);
    expect(await notesOf('W1,T-1,2020-03-01,2026-05-03,,')).toEqual([expect.stringContaining('open for over a year')]);
    expect(await notesOf('W1,T-1,2026-05-10T08:00Z,2026-05-10T07:00Z,,')).toEqual([]);
  });
});

describe('two rows of one number', () => {
  it('on one unit with other words are told: one of them counts', async () => {
    expect(await notesOf('W1,T-1,2026-05-01,,,jump started', 'W1,T-1,2026-05-01,,,replaced battery')).toEqual([
      expect.stringMatching(/^1 work order with the number and unit of an earlier row .* \(line 3: W1 of T-1/),
    ]);
  });
  it('on two units, or with the same words, are in order', async () => {
    expect(await notesOf('W1,T-1,2026-05-01,,,jump', 'W1,T-2,2026-05-01,,,pm', 'W1,T-1,2026-05-01,,,jump')).toEqual([]);
  });
});
