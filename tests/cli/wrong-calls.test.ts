import { describe, expect, it } from 'vitest';
import { calledProgram } from '../support/called-program.ts';

/** Called wrongly: every answer is one line of the same grammar, on stderr, with exit code 2. */
const { run } = calledProgram();

it.each([
  ['bogus', 'crankledger requires a command that it has, got bogus (crankledger --help)'],
  ['laod x', 'crankledger requires a command that it has, got laod (crankledger --help) (Did you mean load?)'],
  ['--bogus', 'crankledger requires an option that it has, got --bogus (crankledger --help)'],
  [
    'assess --jsno',
    'assess requires an option that it has, got --jsno (crankledger assess --help) (Did you mean --json?)',
  ],
  ['load', 'load requires <path>, got none (crankledger load --help)'],
  ['alias add A', 'alias add requires <spelling>, got none (crankledger alias add --help)'],
  ['unload 1 2', 'unload requires at most 1 argument, got 2 (crankledger unload --help)'],
  ['imports x', 'imports requires no arguments, got 1 (crankledger imports --help)'],
  ['imports --store', '--store requires a value, got none (crankledger imports --help)'],
  ['imports --store=', 'store requires the path of a file, got nothing (--store)'],
  ['simulate --units 2 --days 90 --out x', 'simulate requires --seed <n>, got none (crankledger simulate --help)'],
  ['export cranks --format xml', '--format requires one of csv, ndjson, arrow, parquet, got xml (--format)'],
  [
    'export everything',
    'export requires one of cranks, work-orders, lives, trends, outlook, ranking, set-aside, backtest, got everything (<what>)',
  ],
  ['export cranks --out no/such/c.csv', '--out requires a folder that exists, got none (no/such)'],
  ['export cranks --out .', '--out requires a file, got a folder (.)'],
  ['assess --jobs 1e1', '--jobs requires a whole number from 1 to 64, got 1e1 (--jobs)'],
  ['restore no-such.sqlite', 'restore requires a file that exists, got nothing there (no-such.sqlite)'],
])('%s', (words, line) => {
  expect(run(...words.split(' '))).toEqual({ code: 2, out: '', err: `${line}\n` });
});

describe('backtest names the option that was typed wrong', () => {
  it.each([
    ['--from 2026-99-01', 'backtest requires a date YYYY-MM-DD, got 2026-99-01 (--from)'],
    ['--to never', 'backtest requires a date YYYY-MM-DD, got never (--to)'],
    ['--step abc', 'backtest requires a whole number from 1 to 3653, got abc (--step)'],
    ['--horizon 1e3', 'backtest requires a whole number from 1 to 3653, got 1e3 (--horizon)'],
    [
      '--from 2026-10-01 --to 2026-09-01',
      'backtest requires a first day not after the last, got 2026-10-01 and 2026-09-01 (--from, --to)',
    ],
  ])('%s', (words, line) => {
    expect(run('backtest', ...words.split(' '))).toEqual({ code: 2, out: '', err: `${line}\n` });
  });
});

describe('what is promised and not there yet', () => {
  it.each([
    [
      'plan --from 2026-01-01 --weeks 4 --budget 100',
      /^plan requires a version that books replacements into bays, got/,
    ],
    ['export plan', /^export plan requires a version that books replacements into bays, got .* export ranking says/],
    ['watch incoming', /^watch requires a version that loads what arrives in a folder, got .* run load on the folder/],
  ])('%s says so, and what to do until then', (words, line) => {
    const { code, out, err } = run(...words.split(' '));
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(line);
  });

  it('its help is its own and it is not in the list', () => {
    expect(run('plan', '--help').out).toContain('books replacements into bays: not in this version');
    expect(run('--help').out).not.toMatch(/^ {2}(plan|watch)/m);
  });
});
