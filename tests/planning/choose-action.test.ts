import { describe, expect, it } from 'vitest';
import { chooseAction, type ActionQuestion } from '../../api/planning/choose-action.ts';

/** A worn battery whose condition has been seen: waiting would lose 400.00, pulling in costs 255.00. */
const worn: ActionQuestion = {
  waitingMinor: 40_000,
  goingOnMinor: 30_000,
  goingOnAfterMinor: 60_000,
  pullInMinor: 25_500,
  pFail: 0.4,
  pFailOther: 0.01,
  basis: ['lives', 'condition'],
  failureLossMinor: 117_100,
  replacedEarlyLossMinor: 41_000,
  testMinor: 6000,
};

describe('the action', () => {
  it('is to book now where waiting costs more than pulling in', () => {
    expect(chooseAction(worn)).toBe('book_now');
    expect(chooseAction({ ...worn, waitingMinor: 25_501 })).toBe('book_now');
  });

  it('is the next visit where waiting costs less than pulling in, but going on after it would cost', () => {
    expect(chooseAction({ ...worn, waitingMinor: 25_500 })).toBe('book_at_next_visit');
    expect(chooseAction({ ...worn, waitingMinor: -100, goingOnAfterMinor: 1 })).toBe('book_at_next_visit');
  });

  it('is to leave what gains by waiting through both', () => {
    expect(chooseAction({ ...worn, waitingMinor: -2000, goingOnAfterMinor: -1000 })).toBe('leave');
  });

  it('is not to book where a fresh part would be no better, however far the next visit', () => {
    expect(chooseAction({ ...worn, goingOnMinor: 0, goingOnAfterMinor: 0 })).toBe('leave');
  });

  it('is to measure first where the forecast rests on age alone', () => {
    expect(chooseAction({ ...worn, basis: ['prior', 'lives'] })).toBe('measure_first');
  });

  it('is to measure first where battery and starter are both likely', () => {
    expect(chooseAction({ ...worn, pFailOther: 0.3 })).toBe('measure_first');
    expect(chooseAction({ ...worn, pFail: 0.8, pFailOther: 0.21 })).toBe('book_now');
  });

  it('is not to measure where the test costs more than the doubt', () => {
    // Replacing is regretted by 2 % × 410.00 = 8.20 at most, the test costs 60.00.
    expect(chooseAction({ ...worn, pFail: 0.98, basis: ['prior'] })).toBe('book_now');
    expect(chooseAction({ ...worn, basis: ['prior'], testMinor: 30_000 })).toBe('book_now');
  });
});
