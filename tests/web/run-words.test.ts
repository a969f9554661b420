import { expect, it } from 'vitest';
import { runWords } from '../../web/run-words.ts';

it('what runs beside the server is said while it runs, and where it failed', () => {
  expect(runWords(null)).toBe('');
  expect(runWords({ what: 'backtest', asOf: null, state: 'done', says: '3 days' })).toBe('');
  expect(runWords({ what: 'backtest', asOf: null, state: 'running', says: '' })).toBe(
    'The backtest is being worked out …',
  );
  expect(runWords({ what: 'assess', asOf: '2026-03-01', state: 'running', says: '40 %' })).toBe(
    'The assessment of 1 Mar 2026 is being worked out: 40 % …',
  );
  expect(runWords({ what: 'unload', asOf: null, state: 'failed', says: 'the disk is full' })).toBe(
    'A file could not be taken back: the disk is full',
  );
});
