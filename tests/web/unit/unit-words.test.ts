import { describe, expect, it } from 'vitest';
import type { EvidenceRung, PartSince, UnitOutlook } from '../../../api/contract/unit.ts';
import { earlierDay, laterDay } from '../../../web/unit/assessed-days.ts';
import { restsOn } from '../../../web/unit/rung-words.ts';
import { sinceWords } from '../../../web/unit/since-words.ts';

const outlook = (basis: string[]) => ({ basis, component: 'battery' }) as Partial<UnitOutlook> as UnitOutlook;
const rung = (known: Partial<EvidenceRung>): EvidenceRung => ({
  component: 'battery',
  rung: 'own_both',
  failures: 31,
  lives: 60,
  fleetFailures: 50,
  fleetLives: 140,
  corrected: false,
  ...known,
});

describe('what a forecast rests on', () => {
  it.each([
    [
      { rung: 'elsewhere', fleetFailures: 0 } as const,
      'Rests on what is known of such parts elsewhere: of 140 batteries on record here none has failed yet.',
    ],
    [
      { rung: 'fleet', failures: 0 } as const,
      'Rests on this fleet’s own replacements: 50 of 140 batteries on record failed, none of this class yet.',
    ],
    [
      { rung: 'pooled_shape', failures: 4 } as const,
      'Rests on this fleet’s own replacements: 50 of 140 batteries on record failed; 4 of 60 batteries of this class failed, too few to go by alone.',
    ],
    [
      { rung: 'own_scale', failures: 12 } as const,
      'Rests on this fleet’s own replacements: 12 of 60 batteries of this class failed, enough for how long they last; how far they scatter is taken from the whole fleet.',
    ],
    [{}, 'Rests on this fleet’s own replacements: 31 of 60 batteries of this class failed.'],
  ])('%o', (known, words) => {
    expect(restsOn(outlook(['lives']), rung(known))).toBe(words);
  });

  it('names the unit’s own readings, the correction, and what lies too far ahead', () => {
    expect(restsOn(outlook(['lives', 'condition', 'beyond_horizon']), rung({ corrected: true }))).toBe(
      'Rests on this unit’s own readings, and on this fleet’s own replacements: 31 of 60 batteries of this class failed. ' +
        'How this fleet’s battery forecasts of the past came out has corrected it. ' +
        'Part of the window lies more than five years ahead and is left open.',
    );
  });

  it('without a rung says what the basis alone says', () => {
    expect(restsOn(outlook(['lives', 'condition']), undefined)).toBe(
      'Rests on this fleet’s own replacements; this unit’s own readings.',
    );
    expect(restsOn(outlook(['none']), rung({}))).toBe('');
  });
});

describe('what happened since', () => {
  const since = (known: Partial<PartSince>): string =>
    sinceWords({
      position: '',
      component: 'battery',
      end: 'failure',
      on: '2026-02-19',
      days: 40,
      workOrder: 'W/9',
      window: 'inside',
      pFailByThen: 0.33,
      ...known,
    });

  it.each<[Partial<PartSince>, string]>([
    [
      {},
      'Failed on 19 Feb 2026 (work order W/9), 40 days later, inside the window. The chance of failing by then had been put at 33\u00a0%.',
    ],
    [
      { window: 'before' },
      'Failed on 19 Feb 2026 (work order W/9), 40 days later, before the window began. The chance of failing by then had been put at 33\u00a0%.',
    ],
    [
      { end: 'planned', days: 1, workOrder: '', window: null },
      'Replaced as planned on 19 Feb 2026, 1 day later, before it failed. The chance of failing by then had been put at 33\u00a0%.',
    ],
    [{ end: 'in_service', pFailByThen: null }, 'Still in service on 19 Feb 2026, 40 days later.'],
    [{ end: 'gone' }, 'It had already been replaced by then; the record of it was entered later.'],
    [{ end: 'lost' }, 'No record tells what became of it.'],
  ])('%o', (known, words) => {
    expect(since(known)).toBe(words);
  });
});

describe('the assessed days', () => {
  const days = ['2026-03-10', '2026-02-10', '2026-01-10T12:00:00Z'].map((asOf) => ({
    asOf,
    asOfOn: asOf.slice(0, 10),
    computedAt: '2026-03-11T00:00:00Z',
  }));

  it('are stepped through, and end at both ends', () => {
    expect([earlierDay(days, '2026-03-10'), laterDay(days, '2026-03-10')]).toEqual(['2026-02-10', null]);
    expect([earlierDay(days, '2026-01-10T12:00:00Z'), laterDay(days, '2026-01-10T12:00:00Z')]).toEqual([
      null,
      '2026-02-10',
    ]);
  });

  it('from a day that was not assessed the neighbours are found', () => {
    expect([earlierDay(days, '2026-02-20'), laterDay(days, '2026-02-20')]).toEqual(['2026-02-10', '2026-03-10']);
    expect([earlierDay(days, '2025-01-01'), laterDay(days, '2027-01-01')]).toEqual([null, null]);
    expect([earlierDay([], ''), laterDay([], '')]).toEqual([null, null]);
  });
});
