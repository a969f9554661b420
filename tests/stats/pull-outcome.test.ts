import { describe, expect, it } from 'vitest';
import { pullOutcome } from '../../etl/stats/pull-outcome.ts';

const part = (called: number[], failedDay: number | null, followedToDay = 400) => ({
  forecastDay: Float64Array.from(called, (_, k) => 30 * k),
  called: Uint8Array.from(called),
  failedDay,
  followedToDay: failedDay ?? followedToDay,
});

describe('a part that is pulled the first time it is called', () => {
  it.each([
    ['hit with the days that the call left', part([0, 1, 1], 100), { kind: 'hit', day: 30, leadDays: 70 }],
    ['hit on the last day of the horizon', part([1], 90), { kind: 'hit', day: 0, leadDays: 90 }],
    ['needless where it would have lasted longer', part([1, 0], 91), { kind: 'needless', day: 0 }],
    ['needless where it was followed to the horizon', part([0, 1], null, 120), { kind: 'needless', day: 30 }],
    ['open where it was not followed so far', part([0, 1], null, 119), { kind: 'open', day: 30 }],
    ['missed on the day it failed', part([0, 0, 0], 100), { kind: 'miss', day: 100 }],
    ['neither where it failed beyond every horizon', part([0, 0], 200), { kind: 'none' }],
    ['neither where nothing happened', part([0, 0], null), { kind: 'none' }],
  ])('is a %s', (_, forecasts, outcome) => expect(pullOutcome(forecasts, 90)).toEqual(outcome));

  it('refuses a horizon of nothing', () =>
    expect(() => pullOutcome(part([1], null), 0)).toThrow('pullOutcome requires a horizon above 0, got 0 (horizon)'));
});
