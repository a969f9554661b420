import { describe, expect, it } from 'vitest';
import { emptyTable, FINISHED_COLUMNS } from '../../etl/model/crank.ts';
import { dateUs, US_PER_DAY } from '../../etl/model/time.ts';
import { PATTERNS, type Pattern } from '../../etl/model/words.ts';
import { keptOnsets } from '../../etl/signal/retention.ts';

/** One crank a day from Thursday 2026-01-01 (1970-01-01 was a Thursday: weeks begin there). */
function daily(patterns: readonly Pattern[]) {
  const table = emptyTable(FINISHED_COLUMNS, patterns.length);
  patterns.forEach((pattern, day) => {
    table.columns.timeUs[day] = dateUs('2026-01-01') + day * US_PER_DAY;
    table.columns.pattern[day] = PATTERNS.indexOf(pattern);
  });
  return table;
}
const days = (onsets: Float64Array) => [...onsets].map((us) => (us - dateUs('2026-01-01')) / US_PER_DAY);

describe('which waveforms are kept', () => {
  it('the newest, before them the last of each week, and whatever is not steady', () => {
    const patterns = Array<Pattern>(21).fill('steady');
    patterns[2] = 'slow';
    patterns[9] = 'dropout';
    expect(days(keptOnsets(daily(patterns), 3))).toEqual([2, 6, 9, 13, 18, 19, 20]);
  });

  it('all of a short history, none of an empty one', () => {
    expect(days(keptOnsets(daily(['steady', 'steady']), 20))).toEqual([0, 1]);
    expect(keptOnsets(daily([]), 20)).toHaveLength(0);
  });

  it('one a week where no newest are asked for', () => {
    expect(days(keptOnsets(daily(Array<Pattern>(14).fill('steady')), 0))).toEqual([6, 13]);
  });
});
