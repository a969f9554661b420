import { describe, expect, it } from 'vitest';
import { slips } from '../../etl/lives/known-word.ts';
import { clausesOf } from '../../etl/lives/normalise-text.ts';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { workOrder } from '../support/work-orders.ts';

type Texts = { complaint?: string; cause?: string; correction?: string };
const read = (texts: Texts) =>
  readWorkOrder(workOrder(texts)).map((row) =>
    [row.component, row.event, row.unplanned ? 1 : 0, row.position].join(' ').trim(),
  );

describe('what was done', () => {
  const records: [Texts, string[]][] = [
    [{ complaint: 'REPLACE BATTERIES' }, ['battery replaced 1']],
    [{ complaint: 'wont start', correction: 'R&R batts' }, ['battery replaced 1']],
    [{ complaint: 'no crank', correction: 'Batt ok, replaced strtr' }, ['battery inspected 1', 'starter replaced 1']],
    [
      { complaint: 'replace battery', correction: 'batteries tested good. cleaned and tightened terminals' },
      ['battery inspected 1', 'cables repaired 1'],
    ],
    [{ complaint: 'click no crank', correction: 'c/o starter solinoid' }, ['starter replaced 1']],
    [{ correction: 'replaced battery and starter' }, ['battery replaced 1', 'starter replaced 1']],
    [{ correction: 'starter motor u/s, replaced' }, ['starter replaced 1']],
    [
      { complaint: 'slow crank', cause: 'corroded earth strap', correction: 'cleaned earth strap' },
      ['cables repaired 1'],
    ],
    [{ complaint: 'no crank', correction: 'replaced starter relay' }, ['control replaced 1']],
    [{ complaint: 'batt light on', correction: 'fitted new alt' }, ['charging replaced 1']],
    [{ complaint: 'unit w/n crank', correction: 'chgd out str' }, ['starter replaced 1']],
    [{ correction: 'tested batt good, fitted reman str' }, ['battery inspected 1', 'starter replaced 1']],
    [{ complaint: 'str wheel loose' }, ['none unrelated 0']],
    [{ complaint: 'quote to replace starter' }, ['starter inspected 1']],
    [{ correction: 'tested batterys and starter, no fault found' }, ['battery inspected 1', 'starter inspected 1']],
  ];
  for (const [texts, expected] of records) it(JSON.stringify(texts), () => expect(read(texts)).toEqual(expected));
});

it('what an order asks for is not done while it is open', () => {
  const open = (complaint: string) =>
    readWorkOrder(workOrder({ complaint, closedUs: null })).map(({ component, event }) => `${component} ${event}`);
  expect(open('REPLACE STARTER')).toEqual(['starter inspected']);
  expect(open('fit new batteries')).toEqual(['battery inspected']);
  expect(open('replaced starter')).toEqual(['starter replaced']);
  expect(open('jump start, replace batteries')).toEqual(['battery jump_started']);
  expect(open('wont crank')).toEqual(['none no_start']);
});

describe('failing to start is an event of its own', () => {
  const records: [string, string][] = [
    ['JUMP START', 'battery jump_started 1'],
    ['Jumpstart machine', 'battery jump_started 1'],
    ['unit jumped off in yard', 'battery jump_started 1'],
    ["ENGINES WON'T START", 'none no_start 1'],
    ['will not crank', 'none no_start 1'],
    ['hard to start cold mornings', 'none no_start 1'],
    ['flat batts', 'battery no_start 1'],
  ];
  for (const [complaint, expected] of records) it(complaint, () => expect(read({ complaint })).toEqual([expected]));
});

describe('look-alikes are refused', () => {
  const tempting = [
    'REPLACE PRE-LUBE STARTER',
    'replace fuel solenoid',
    'run solenoid u/s',
    'recharge a/c',
    'RECHARGE FIRE SUPPRESSION SYSTEM',
    'fire suppression discharged',
    'replace turbocharger',
    'slew charge pump leaking',
    'lube hose on starter motor cracked',
    'oil leak front crank seal',
    'handheld radio battery replaced',
    'lights left on',
    'brakes grinding, started leaking oil',
    'replaced battery box lid',
    'annual service',
  ];
  for (const complaint of tempting) it(complaint, () => expect(read({ complaint })).toEqual(['none unrelated 0']));
});

describe('planned or not', () => {
  it('says planned where the record does', () => {
    expect(read({ complaint: 'PM service', correction: 'replaced batteries, life expired' })).toEqual([
      'battery replaced 0',
    ]);
  });
  it('believes a no-start over the word service', () => {
    expect(
      read({ complaint: 'no start due to flat battery at service depot', correction: 'replaced battery' }),
    ).toEqual(['battery replaced 1']);
  });
  it('believes a road call', () => {
    const rows = readWorkOrder(workOrder({ complaint: 'scheduled pm', correction: 'new starter', roadCall: true }));
    expect(rows.map((row) => row.unplanned)).toEqual([true]);
  });
});

describe('position', () => {
  it('is read from the words', () => {
    expect(read({ complaint: 'L/H ENG STARTER MOTOR U/S', correction: 'replaced' })).toEqual([
      'starter replaced 1 left',
    ]);
    expect(read({ complaint: 'REPLACE RH ENGINE STARTER' })).toEqual(['starter replaced 1 right']);
    expect(read({ complaint: 'jump start L&R eng' })).toEqual([
      'battery jump_started 1 left',
      'battery jump_started 1 right',
    ]);
  });
  it('is not what was left on', () => {
    expect(read({ cause: 'LIGHTS LEFT ON', correction: 'jump start' })).toEqual(['battery jump_started 1']);
    expect(read({ cause: 'key left in', correction: 'jump start' })).toEqual(['battery jump_started 1']);
  });
  it('that the record gives wins over the words', () => {
    const rows = readWorkOrder(workOrder({ complaint: 'LH starter replaced', position: 'right' }));
    expect(rows.map((row) => row.position)).toEqual(['right']);
  });
});

it('shows the words that decided', () => {
  expect(readWorkOrder(workOrder({ correction: 'c/o starter motor' }))[0]!.words).toBe('starter motor; changeout');
});

it("believes the fleet's own code over the words", () => {
  const order = workOrder({ systemCode: '33', complaint: 'battery ok', correction: 'replaced unit' });
  expect(readWorkOrder(order, { '33': 'starter' }).map((row) => [row.component, row.event])).toEqual([
    ['starter', 'replaced'],
  ]);
  expect(readWorkOrder(order, { '33': 'none' }).map((row) => row.event)).toEqual(['unrelated']);
});

describe("the fleet's own code", () => {
  const coded = (texts: Texts & { partsCostMinor?: number }, component: 'battery' | 'starter' | 'cables' = 'battery') =>
    readWorkOrder(workOrder({ ...texts, systemCode: '32' }), { '32': component })
      .map((row) => `${row.component} ${row.event}`)
      .join('; ');

  it('says which part a record means that names none', () => {
    expect(coded({ complaint: 'no crank', correction: 'repaired' }, 'cables')).toBe('cables repaired');
    expect(coded({ complaint: 'no crank', correction: 'see notes' })).toBe('battery repaired');
  });
  it('and that it was exchanged, where parts were paid', () => {
    expect(coded({ complaint: 'no crank', correction: 'see notes', partsCostMinor: 16_000 })).toBe('battery replaced');
    expect(coded({ complaint: 'no crank', correction: 'ok now', partsCostMinor: 100 }, 'starter')).toBe(
      'starter replaced',
    );
    expect(coded({ correction: 'repaired', partsCostMinor: 900 }, 'cables')).toBe('cables repaired');
  });
  it('takes nothing for its part that is something else', () => {
    expect(coded({ correction: 'replaced latch', partsCostMinor: 900 })).toBe('none unrelated');
  });
  it('does not hide what the words say was done', () => {
    expect(coded({ correction: 'replaced alternator and batteries' })).toBe('charging replaced; battery replaced');
  });
});

describe('clauses', () => {
  it('undo shorthand and misspellings', () => {
    expect(clausesOf("R/H ENG WON'T START. BATT OK, R&R SOLINOID")).toEqual([
      'right engine wont start',
      'battery ok',
      'replaced solenoid',
    ]);
  });
  it('leave ordinary words alone', () => {
    expect(clausesOf('started charter, alternate quarter')).toEqual(['started charter', 'alternate quarter']);
  });
});

it('counts slips as optimal string alignment does (worked by hand)', () => {
  expect(slips('kitten', 'sitting')).toBe(3); // the textbook pair of Levenshtein's distance
  expect(slips('strater', 'starter')).toBe(1); // one swap
  expect(slips('abc', 'abc')).toBe(0);
});
