import { describe, expect, it } from 'vitest';
import { buildLives, engineKey, type LivesInput } from '../../etl/lives/build-lives.ts';
import { dateUs } from '../../etl/model/time.ts';
import type { ReadWorkOrder } from '../../etl/model/work-order.ts';
import { unit } from '../support/units.ts';
import { replaced } from '../support/work-orders.ts';

const input = (more: Partial<LivesInput>): LivesInput => ({
  units: [unit({ inServiceOn: '2020-01-01' })],
  engines: [{ unit: 'U1', position: '' }],
  parts: [],
  orders: [],
  firstSeenOn: new Map([[engineKey('U1', ''), '2024-01-01']]),
  asOfOn: '2025-12-31',
  ...more,
});
const batteryLives = (more: Partial<LivesInput>) =>
  buildLives(input(more))
    .filter((life) => life.component === 'battery')
    .map((life) =>
      [life.position, life.fittedOn, life.fittedFrom, life.removedOn, life.end, life.watchedFromOn].join(' '),
    );

describe('service lives', () => {
  it('of a component that was there before the records are left-truncated, not new', () => {
    expect(batteryLives({})).toEqual([`  assumed  in_service 2024-01-01`]);
  });

  it('of a unit that entered service within the records begin with it', () => {
    expect(batteryLives({ units: [unit({ inServiceOn: '2024-06-01' })] })).toEqual([
      ' 2024-06-01 assumed  in_service 2024-06-01',
    ]);
  });

  it('end in failure or planned, and the next begins', () => {
    const orders = [replaced('battery', '2024-05-10'), replaced('battery', '2025-05-10', { unplanned: false })];
    expect(batteryLives({ orders })).toEqual([
      '  assumed 2024-05-10 failure 2024-01-01',
      ' 2024-05-10 record 2025-05-10 planned 2024-05-10',
      ' 2025-05-10 record  in_service 2025-05-10',
    ]);
  });

  it('know nothing later than the as-of day', () => {
    const orders = [replaced('battery', '2024-05-10')];
    expect(batteryLives({ orders, asOfOn: '2024-05-09' })).toEqual(['  assumed  in_service 2024-01-01']);
  });

  it('take two records of one exchange within three days as one', () => {
    const twice = [replaced('battery', '2024-05-10'), replaced('battery', '2024-05-13', { workOrder: 'W2' })];
    expect(batteryLives({ orders: twice })).toHaveLength(2);
    const apart = [replaced('battery', '2024-05-10'), replaced('battery', '2024-05-14', { workOrder: 'W2' })];
    expect(batteryLives({ orders: apart })).toHaveLength(3);
  });

  it('do not call a battery failed that was not the cure', () => {
    const orders = [replaced('battery', '2024-05-10'), replaced('starter', '2024-05-18')];
    expect(batteryLives({ orders })[0]).toBe('  assumed 2024-05-10 planned 2024-01-01');
    const late = [replaced('battery', '2024-05-10'), replaced('starter', '2024-05-25')];
    expect(batteryLives({ orders: late })[0]).toBe('  assumed 2024-05-10 failure 2024-01-01');
  });

  it('do not call a battery failed that was stolen', () => {
    const stolen = replaced('battery', '2024-05-01', { words: 'battery; fitted; stolen' });
    expect(batteryLives({ orders: [stolen] })[0]).toBe('  assumed 2024-05-01 planned 2024-01-01');
  });

  it('take their fitting from the parts list', () => {
    const part = { unit: 'U1', component: 'battery' as const, position: '', fittedOn: '2022-03-01' };
    const parts = [{ ...part, part: null, rating: null, warrantyUntilOn: null, costMinor: null, enteredUs: null }];
    expect(batteryLives({ parts })).toEqual([' 2022-03-01 record  in_service 2024-01-01']);
  });

  it('end with the unit, unfailed', () => {
    const units = [unit({ inServiceOn: '2020-01-01', outOfServiceOn: '2025-02-01' })];
    expect(batteryLives({ units })).toEqual(['  assumed 2025-02-01 planned 2024-01-01']);
    expect(batteryLives({ units, asOfOn: '2025-01-31' })).toEqual(['  assumed  in_service 2024-01-01']);
  });

  it('belong to a position where the unit has several engines', () => {
    const engines = [
      { unit: 'U1', position: 'left' },
      { unit: 'U1', position: 'right' },
      { unit: 'U1', position: '' },
    ];
    const orders = [replaced('battery', '2024-05-10', { position: 'left' }), replaced('starter', '2024-07-01')];
    const firstSeenOn = new Map([
      [engineKey('U1', 'left'), '2024-01-01'],
      [engineKey('U1', 'right'), '2024-01-01'],
    ]);
    const lives = buildLives(input({ engines, orders, firstSeenOn }));
    expect(lives.filter((life) => life.end === 'failure').map((life) => [life.position, life.component])).toEqual([
      ['left', 'battery'],
      ['left', 'starter'],
    ]);
  });

  it('are not begun for a unit that is not in service yet', () => {
    expect(buildLives(input({ units: [unit({ inServiceOn: '2026-06-01' })] }))).toEqual([]);
  });

  it('are watched from when records were kept, whatever one mistyped year says', () => {
    const many = Array.from({ length: 200 }, (_, index) =>
      replaced('battery', '2024-02-01', { unit: 'U2', workOrder: `W${index}`, event: 'unrelated', component: 'none' }),
    );
    const typo = replaced('battery', '1924-02-01', { unit: 'U2', openedUs: dateUs('1924-02-01'), event: 'unrelated' });
    expect(batteryLives({ orders: [typo, ...many], firstSeenOn: new Map() })[0]).toContain('in_service 2024-02-01');
  });
});

describe('a battery that was not the cure had not failed', () => {
  const battery = replaced('battery', '2024-05-10');
  const order = (on: string, more: Partial<ReadWorkOrder>) =>
    replaced('battery', on, { workOrder: `other-${on}`, ...more });
  const endAfter = (...others: ReadWorkOrder[]) => {
    const first = batteryLives({ orders: [battery, ...others] })[0] ?? '';
    return first.includes('failure') ? 'failure' : 'planned';
  };
  const jump: Partial<ReadWorkOrder> = { event: 'jump_started', words: 'jump start' };
  const alternator: Partial<ReadWorkOrder> = { component: 'charging', event: 'replaced' };

  it('where it has to be jumped again within a fortnight', () => {
    expect(endAfter(order('2024-05-12', jump))).toBe('planned');
    expect(endAfter(order('2024-05-25', jump))).toBe('failure');
  });
  it('where it does not start or is charged up again', () => {
    expect(endAfter(order('2024-05-20', { component: 'none', event: 'no_start' }))).toBe('planned');
    expect(endAfter(order('2024-05-20', { event: 'repaired' }))).toBe('planned');
  });
  it('where the same jump start was only keyed twice, it stays a failure', () => {
    expect(endAfter(order('2024-05-09', jump), order('2024-05-11', jump))).toBe('failure');
  });
  it('where the charging system was put right with it', () => {
    expect(endAfter(order('2024-05-10', alternator))).toBe('planned');
    expect(endAfter(order('2024-05-08', alternator))).toBe('planned');
    expect(endAfter(order('2024-05-01', alternator))).toBe('failure');
    expect(endAfter(order('2024-05-10', { ...alternator, event: 'inspected' }))).toBe('failure');
  });
  it('but trouble on the other engine says nothing', () => {
    const engines = ['left', 'right'].map((position) => ({ unit: 'U1', position }));
    const orders = [
      replaced('battery', '2024-05-10', { position: 'left' }),
      order('2024-05-12', { ...jump, position: 'right' }),
    ];
    const ends = buildLives(input({ engines, orders, firstSeenOn: new Map() })).filter(({ end }) => end === 'failure');
    expect(ends.map(({ position }) => position)).toEqual(['left']);
  });
});
