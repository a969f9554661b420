import { expect, it } from 'vitest';
import { listAct } from '../../../web/priority/list-keys.ts';

const place = { rows: 5, active: 2, onRow: true };

it('moves by one and to either end, and no further', () => {
  expect(listAct('j', place)).toEqual({ kind: 'move', to: 3 });
  expect(listAct('ArrowUp', place)).toEqual({ kind: 'move', to: 1 });
  expect(listAct('j', { ...place, active: 4 })).toEqual({ kind: 'move', to: 4 });
  expect(listAct('k', { ...place, active: 0 })).toEqual({ kind: 'move', to: 0 });
  expect(listAct('End', place)).toEqual({ kind: 'move', to: 4 });
});

it('asks something of the chosen row only, and leaves Enter to a link under the focus', () => {
  expect(listAct('b', place)).toEqual({ kind: 'request', request: 'book' });
  expect(listAct('b', { ...place, active: -1 })).toBeNull();
  expect(listAct('Enter', place)).toEqual({ kind: 'request', request: 'open' });
  expect(listAct('Enter', { ...place, onRow: false })).toBeNull();
  expect(listAct('x', place)).toBeNull();
});
