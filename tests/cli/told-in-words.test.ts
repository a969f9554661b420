import { writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { counted } from '../../etl/model/counted.ts';
import { terminalWords } from '../../api/commands/terminal-words.ts';
import { calledProgram } from '../support/called-program.ts';

const { path, run } = calledProgram();
const file = (name: string, text: string) => {
  writeFileSync(path(name), text);
  return path(name);
};
const UNITS = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders';

it('counts in words: one is one', () => {
  expect([counted(1, 'row'), counted(0, 'row'), counted(2, 'miss', 'misses')]).toEqual(['1 row', '0 rows', '2 misses']);
});

describe('what a file wrote cannot steer the terminal', () => {
  it('a control character is shown as its code, line ends and tabs stay', () => {
    expect(terminalWords('a\u001B[2J\u0007\u009B\u007F\r\tb\n')).toBe('a\\x1b[2J\\x07\\x9b\\x7f\\x0d\tb\n');
    expect(terminalWords('ü 🚛 –')).toBe('ü 🚛 –');
  });

  it('a header with an escape sequence, told in the refusal', () => {
    const { out, code } = run('load', file('escape.csv', '\u001B[2Jcolour,b\n1,2\n'));
    expect(code).toBe(2);
    expect(out).toContain('got \\x1b[2jcolour, b');
  });
});

it('load counts files that could not be read as files, not among the rows', () => {
  const units = file('units.csv', `${UNITS}\nU1,North,van,12,1,700,4\nU2,North,van,13,1,700,4\n`);
  const { out, code } = run('load', units, file('foreign.csv', 'a,b\n1,2\n'));
  expect(code).toBe(1);
  expect(out.trimEnd().split('\n').at(-1)).toBe('1 row taken, 1 set aside, 2 files, 1 of which could not be read');
});

it('a file that a profile could read says how much is open', () => {
  const { out } = run('load', file('partial.csv', 'unit,time,rest_volts\nU1,2026-03-01T00:00:00Z,12.5\n'));
  expect(out).toContain('1 question open: load --dry-run shows how a profile would read it');
});

it('unload speaks of the ranking only where there is one', () => {
  run('load', file('more.csv', `${UNITS}\nU3,North,van,12,1,700,4\n`));
  const { imports } = JSON.parse(run('imports', '--json').out) as { imports: { importId: number; file: string }[] };
  const { importId } = imports.find((each) => each.file.endsWith('more.csv'))!;
  const { out, err } = run('unload', String(importId));
  expect(out).toMatch(/^import \d+ taken back: .*more\.csv, 1 row of kind units\n$/);
  expect(err).toBe('');
});
