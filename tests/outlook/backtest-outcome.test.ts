import { describe, expect, it } from 'vitest';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import { dayNumber } from '../../etl/model/time.ts';
import { failedWithin, hindsight, outcomeOf } from '../../etl/outlook/backtest-outcome.ts';
import { batteryLife } from '../support/service-lives.ts';

const ORIGIN = dayNumber('2025-06-01');
const FOLLOWED = dayNumber('2026-01-01');
const known = batteryLife({ fittedOn: '2022-01-01', watchedToOn: '2025-06-01' });
const ended = (on: string, end: ServiceLife['end'] = 'failure') => batteryLife({ end, removedOn: on, watchedToOn: on });
const after = (...lives: ServiceLife[]) => outcomeOf(known, ORIGIN, hindsight(lives, FOLLOWED));

describe('what happened after a forecast', () => {
  it('a failure has its day, within the horizon or after it', () => {
    expect(after(ended('2025-08-30'))).toEqual({
      partSinceOn: '2024-01-01',
      failedOn: '2025-08-30',
      end: 'failure',
      followedToOn: '2025-08-30',
    });
    const within = (on: string) => failedWithin(after(ended(on))!, ORIGIN, 90);
    expect([within('2025-06-02'), within('2025-08-30'), within('2025-08-31')]).toEqual([true, true, false]);
  });

  it('a planned replacement before the horizon leaves it open, one after it does not', () => {
    const within = (on: string) => failedWithin(after(ended(on, 'planned'))!, ORIGIN, 90);
    expect([within('2025-08-29'), within('2025-08-30')]).toEqual([null, false]);
  });

  it('beyond the day up to which records are entered nothing is concluded', () => {
    const cut = { partSinceOn: '2024-01-01', failedOn: null, end: 'in_service', followedToOn: '2026-01-01' };
    expect(after(ended('2026-01-05'))).toEqual(cut);
    expect(after(batteryLife({ watchedToOn: '2026-01-20' }))).toEqual(cut);
  });

  it('a part that had failed by the origin, entered later, is gone; so is one replaced by another since', () => {
    const next = batteryLife({ fittedOn: '2025-05-20', watchedFromOn: '2025-05-20', watchedToOn: '2026-01-20' });
    const gone = { partSinceOn: '2024-01-01', failedOn: null, end: 'gone', followedToOn: '2025-06-01' };
    expect(after(ended('2025-05-20'), next)).toEqual(gone);
    expect(after(ended('2025-06-01'))).toEqual(gone);
    expect(failedWithin(after(ended('2025-06-01'))!, ORIGIN, 90)).toBeNull();
  });

  it('a fitting that moved by a day is still the same part', () => {
    const moved = batteryLife({ fittedOn: '2022-01-03', watchedToOn: '2026-01-20' });
    expect(after(moved)?.end).toBe('in_service');
  });

  it('a part that no record knows any more has no outcome', () => {
    expect(after(batteryLife({ unit: 'U2' }))).toBeNull();
  });
});
