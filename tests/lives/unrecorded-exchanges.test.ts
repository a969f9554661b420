import { describe, expect, it } from 'vitest';
import { buildLives, engineKey, type LivesInput } from '../../etl/lives/build-lives.ts';
import { ownSteps } from '../../etl/lives/shared-steps.ts';
import { dayNumber } from '../../etl/model/time.ts';
import { unit } from '../support/units.ts';
import { replaced } from '../support/work-orders.ts';

const WORN = -0.5;
const input = (more: Partial<LivesInput>): LivesInput => ({
  units: [unit({ inServiceOn: '2020-01-01' })],
  engines: [{ unit: 'U1', position: '' }],
  parts: [],
  orders: [],
  firstSeenOn: new Map([[engineKey('U1', ''), '2024-01-01']]),
  asOfOn: '2025-12-31',
  ...more,
});
const stepOn = (on: string, size = WORN, position = '') =>
  new Map([[engineKey('U1', position), [{ day: dayNumber(on), size }]]]);
const lives = (more: Partial<LivesInput>) =>
  buildLives(input(more))
    .filter(({ component }) => component === 'battery')
    .map((life) => [life.fittedOn, life.fittedFrom, life.removedOn, life.end, life.workOrder].join(' '));
const ends = (more: Partial<LivesInput>) => buildLives(input(more)).filter(({ end }) => end !== 'in_service');

describe('a step in the voltage that no record explains', () => {
  it('ends a life and begins one that is marked assumed', () => {
    expect(lives({ batterySteps: stepOn('2024-05-10') })).toEqual([
      ' assumed 2024-05-10 failure ',
      '2024-05-10 assumed  in_service ',
    ]);
  });

  it('is a failure where the old one was worn out or had to be helped, else nobody can say so', () => {
    expect(ends({ batterySteps: stepOn('2024-05-10', -0.3) }).map(({ end }) => end)).toEqual(['planned']);
    const jump = replaced('battery', '2024-04-20', { event: 'jump_started' });
    expect(ends({ batterySteps: stepOn('2024-05-10', -0.3), orders: [jump] }).map(({ end }) => end)).toEqual([
      'failure',
    ]);
    const visit = replaced('battery', '2024-05-09', { component: 'none', event: 'unrelated', unplanned: false });
    expect(ends({ batterySteps: stepOn('2024-05-10'), orders: [visit] }).map(({ end }) => end)).toEqual(['planned']);
  });

  it('is explained by a recorded exchange, by work on cables or by a new alternator', () => {
    const order = replaced('battery', '2024-05-03');
    const recorded = ends({ batterySteps: stepOn('2024-05-10'), orders: [order] });
    expect(recorded.map(({ removedOn }) => removedOn)).toEqual(['2024-05-03']);
    for (const component of ['cables', 'charging'] as const) {
      const work = replaced('battery', '2024-05-08', { component, event: 'repaired' });
      expect(ends({ batterySteps: stepOn('2024-05-10'), orders: [work] }).map((life) => life.component)).not.toContain(
        'battery',
      );
    }
  });

  it('says on which of two engines a battery of an unknown position was exchanged', () => {
    const engines = ['left', 'right'].map((position) => ({ unit: 'U1', position }));
    const orders = [replaced('battery', '2024-05-10')];
    const both = ends({ engines, orders, firstSeenOn: new Map() });
    expect(both.map(({ position }) => position)).toEqual(['left', 'right']);
    const one = ends({ engines, orders, firstSeenOn: new Map(), batterySteps: stepOn('2024-05-11', WORN, 'right') });
    expect(one.map(({ position }) => position)).toEqual(['right']);
  });
});

it('a battery that the voltage shows to have been worn out had failed, whatever was repaired after it', () => {
  const orders = [replaced('battery', '2024-05-10'), replaced('starter', '2024-05-18')];
  const endsOf = (size: number) =>
    ends({ orders, batterySteps: stepOn('2024-05-11', size) }).map(({ component, end }) => `${component} ${end}`);
  expect(endsOf(WORN)).toEqual(['battery failure', 'starter failure']);
  expect(endsOf(-0.3)).toEqual(['battery planned', 'starter failure']);
});

describe('a bank that was sound', () => {
  it('had not failed, whatever was fitted', () => {
    const orders = [replaced('battery', '2024-05-10'), replaced('starter', '2025-05-10')];
    const asked: unknown[] = [];
    const wasSound = (...question: unknown[]) => asked.push(question) > 0;
    expect(ends({ orders, wasSound }).map(({ component, end }) => [component, end])).toEqual([
      ['battery', 'planned'],
      ['starter', 'failure'],
    ]);
    expect(asked).toEqual([['U1', '', dayNumber('2024-05-10')]]);
  });
});

describe('steps that many engines show together', () => {
  const engine = (index: number, day: number) => ({
    unit: `U${index}`,
    position: '',
    batterySteps: [{ day, size: WORN }],
  });
  it('are no exchanges', () => {
    const together = Array.from({ length: 5 }, (_, index) => engine(index, 100 + (index % 3)));
    expect(ownSteps([...together, engine(9, 200)]).size).toBe(1);
  });
  it('are, where they are few', () => {
    const four = Array.from({ length: 4 }, (_, index) => engine(index, 100));
    expect(ownSteps(four).size).toBe(4);
  });
});
