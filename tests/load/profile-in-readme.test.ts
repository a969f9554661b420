import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { guessProfile } from '../../etl/readers/guess/guess-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { collectFile } from '../support/foreign-file.ts';
import { ROOT } from '../support/source-files.ts';

/** The worked example of the README is the test. */
const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
const block = (language: string) => new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(readme)![1]!;
const [file, json] = [block('csv'), block('json')];

describe('the worked example of the README', () => {
  it('loads as it says', async () => {
    const { samples, setAside, report } = await collectFile('yard.csv', file, parseProfile(json, 'yard.json'));
    const us = Date.UTC(2026, 2, 1, 5, 58, 59, 750) * 1000;
    expect(samples).toEqual([
      { unit: 'T-014', timeUs: us, volts: 12.6345, tempC: 5, line: 4 },
      { unit: 'T-014', timeUs: us + 20_000, volts: 12.63, tempC: 5, line: 6 },
    ]);
    expect(setAside.map(({ line, reason }) => [line, reason])).toEqual([[5, 'volts requires a number']]);
    expect(report.notes).toEqual([]);
  });

  it('is guessed but for what it says the values cannot tell', () => {
    const guess = guessProfile(Buffer.from(file), 'yard logger')!;
    const { name, columns, delimiter, decimalMark, missingMarks } = parseProfile(json, 'yard.json');
    expect(guess.profile).toMatchObject({ name, columns, delimiter, decimalMark, missingMarks });
    expect(guess.questions).toEqual([
      'time.format: is it dd.MM.yyyy or MM.dd.yyyy? No value tells',
      'time.zone: in which time zone was it logged? (such as Europe/Berlin)',
    ]);
  });

  it('names only parts that a profile has', () => {
    const table = readme.slice(
      readme.indexOf('| part | what it says |'),
      readme.indexOf('A profile given for a folder'),
    );
    for (const [, parts] of table.matchAll(/^\| (`.*?`) \|/gm))
      for (const [, part] of parts!.matchAll(/`(\w+)`/g))
        expect(() => parseProfile(JSON.stringify({ name: 'x', [part!]: 0 }), 'p')).toThrow(`p /${part})`);
  });
});
