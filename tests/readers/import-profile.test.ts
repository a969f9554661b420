import { describe, expect, it } from 'vitest';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { profileHash } from '../../etl/readers/profile/profile-hash.ts';
import { longestText, safeExpression } from '../../etl/readers/profile/safe-expression.ts';
import { unitOfFile } from '../../etl/readers/unit-of-file.ts';

const refusal = (profile: unknown) => {
  try {
    parseProfile(typeof profile === 'string' ? profile : JSON.stringify(profile), 'p.json');
    return 'none';
  } catch (error) {
    return error instanceof RangeError ? error.message : `not a refusal: ${String(error)}`;
  }
};
const named = (parts: object) => refusal({ name: 'yard', ...parts });
const columns = (parts: object) => named({ columns: parts });

describe('a profile that is none is refused with the path and what is required there', () => {
  it('other text than JSON', () => {
    expect(refusal('{')).toMatch(/^profile requires JSON, got other text: .+ \(p\.json\)$/);
  });
  it('a list', () => {
    expect(refusal([])).toBe('profile requires an object with name, columns, time and so on, got [] (p.json /)');
  });
  it('no name', () => {
    expect(refusal({})).toBe('profile requires name: a name, got none (p.json /)');
  });
  it('a part that is unknown', () => {
    expect(named({ colums: {} })).toBe(
      'profile requires an object with name, columns, time and so on, got colums (p.json /)',
    );
  });
  it('an unknown field', () => {
    expect(columns({ 'Ch A': 'voltz' })).toBe(
      'profile requires a field that is read, such as unit, time, volts, or ignore, got "voltz" (p.json /columns/Ch A/field)',
    );
  });
  it('an unknown part of a column', () => {
    expect(columns({ A: { field: 'volts', unit: 'mV' } })).toBe(
      'profile requires a field, or an object with field, unitOfMeasure, scale, reversed, part, format, values, got unit (p.json /columns/A)',
    );
  });
  it('a unit of measure of another kind', () => {
    expect(columns({ A: { field: 'volts', unitOfMeasure: '°F' } })).toBe(
      'profile requires V, mV, kV for volts, got °F (p.json /columns/A/unitOfMeasure)',
    );
    expect(columns({ A: { field: 'unit', unitOfMeasure: 'V' } })).toBe(
      'profile requires no unit of measure for unit, got V (p.json /columns/A/unitOfMeasure)',
    );
    expect(columns({ A: { field: 'volts', unitOfMeasure: 'parsec' } })).toContain('got "parsec"');
  });
  it('another sense than that of a current', () => {
    expect(columns({ A: { field: 'volts', reversed: true } })).toBe(
      'profile requires a current, which has two senses, got volts (p.json /columns/A/reversed)',
    );
  });
  it('two columns for one field', () => {
    expect(columns({ A: 'volts', B: 'volts' })).toBe(
      'profile requires one column for each field, got volts also for A (p.json /columns/B)',
    );
  });
  it('half of an instant alone', () => {
    expect(columns({ Day: { field: 'time', part: 'date' } })).toBe(
      'profile requires a date and a time column for time, got date (p.json /columns)',
    );
    expect(columns({ Day: { field: 'volts', part: 'date' } })).toBe(
      'profile requires a field that holds an instant, got volts (p.json /columns/Day/part)',
    );
  });
  it('a time format that tells no day, or has letters that mean nothing', () => {
    expect(named({ time: { format: 'HH:mm:ss' } })).toBe(
      'profile requires time format of year, month and day (such as dd/MM/yyyy HH:mm:ss), got HH:mm:ss (p.json /time)',
    );
    expect(named({ time: { format: 'dd/MM/yyyy hh:mm' } })).toContain('a with h, and H without it');
    expect(named({ time: { format: 'dd/MM/yyyy QQ' } })).toContain('others in single quotes, got Q in dd/MM/yyyy QQ');
    expect(named({ time: { format: 'dd/dd/MM/yyyy' } })).toContain('each part once');
    expect(columns({ A: { field: 'opened', format: 'HH' } })).toContain('/columns/A/format');
    expect(columns({ A: { field: 'volts', format: 'dd.MM.yyyy' } })).toBe(
      'profile requires a field that holds a time or a date, got volts (p.json /columns/A/format)',
    );
  });
  it('a zone that is none', () => {
    expect(named({ time: { format: 'iso', zone: 'Mars/Olympus' } })).toBe(
      'profile requires time zone of an IANA name or an offset such as +01:00, got Mars/Olympus (p.json /time)',
    );
  });
  it('times from a start without the start, or samples without their interval', () => {
    expect(named({ time: { format: 'seconds_from_start' } })).toBe(
      'profile requires start or startFrom with this format, got seconds_from_start (p.json /time)',
    );
    expect(named({ time: { format: 'samples_from_start', start: '2026-03-01T06:00:00Z' } })).toBe(
      'profile requires intervalSeconds or intervalFrom with this format, got samples_from_start (p.json /time)',
    );
    expect(named({ time: { format: 'seconds_from_start', start: '2026-03-01T06:00:00' } })).toBe(
      'profile requires an instant with zone, or time.zone, got 2026-03-01T06:00:00 (p.json /time/start)',
    );
  });
  it('constants of no field, or of one that a column fills', () => {
    expect(named({ constants: { voltage: '12' } })).toBe(
      'profile requires a field that is read, got voltage (p.json /constants/voltage)',
    );
    expect(named({ columns: { A: 'depot' }, constants: { depot: 'North' } })).toBe(
      'profile requires a field that no column fills, got column A (p.json /constants/depot)',
    );
  });
  it('two sources of the unit, or none', () => {
    expect(named({ unit: 'T-1', unitFrom: { preamble: 'Unit' } })).toBe(
      'profile requires one source of the unit, got 2 (p.json /unit)',
    );
    expect(named({ unit: 'T-1', columns: { A: 'unit' } })).toContain('one source of the unit, got 2');
    expect(named({ unitFrom: {} })).toBe('profile requires fileName or preamble, got neither (p.json /unitFrom)');
    expect(named({ unitFrom: { fileName: '^(T-\\d+)' } })).toBe(
      'profile requires a group named unit: (?<unit>…), got ^(T-\\d+) (p.json /unitFrom/fileName)',
    );
  });
  it('numbers, lists and marks out of what is allowed', () => {
    expect(named({ header: { line: 0 } })).toBe('profile requires a line from 1 to 1000, got 0 (p.json /header/line)');
    expect(named({ delimiter: ':' })).toBe(
      'profile requires a comma, a semicolon, a tab or a bar, got ":" (p.json /delimiter)',
    );
    expect(named({ decimalMark: "'" })).toContain('a point or a comma');
    expect(named({ missingMarks: [] })).toContain('1 to 20 texts');
    expect(named({ kind: 'waves' })).toContain('a kind of file (units, components, waveform');
    expect(named({ unit: 7 })).toBe('profile requires the unit that every row is of, got 7 (p.json /unit)');
  });
});

describe('a pattern whose matching time could explode is refused', () => {
  for (const [pattern, why] of [
    ['(a+)+$', 'repeats of single characters'],
    ['(?<unit>a*)*b', 'repeats of single characters'],
    ['(a|a)*$', 'repeats of single characters'],
    ['(?=a)b', 'plain groups'],
    ['(?<!a)b', 'plain groups'],
    ['(?<unit>a)\\k<unit>', 'plain groups'],
    ['(a)\\1', 'plain groups'],
    ['^a*b*c*d*', 'at most two repeats'],
    ['a*b*c*', 'at most two repeats'],
    ['^a|b*c*d*', 'at most two repeats'],
    ['a?'.repeat(30), 'two choices'],
    ['(?:a|a)'.repeat(27), 'two choices'],
    ['a'.repeat(201), 'at most 200 characters, got 201'],
    ['(?<unit>', 'a regular expression'],
  ] as const)
    it(pattern.slice(0, 30), () => {
      expect(() => safeExpression(pattern)).toThrow(why);
    });
  for (const [pattern, longest] of [
    ['a*a*a?a?x', 116],
    ['^a*a*a*a?a?x', 116],
    ['^a*a*a*x', 184],
    [`a*${'(?:a|a)'.repeat(9)}x`, 64],
    ['^a{1,255}a{1,255}a?(?<unit>x)', 1024],
    ['^T-(?<unit>1|2|3|4|5|6|7|8|9)', 116_508],
    [`^${'(?:a|a)'.repeat(18)}x`, 16],
  ] as const)
    it(`what remains is quick on the longest name that it goes over: ${pattern}`, () => {
      expect(longestText(pattern)).toBe(longest);
      const name = `${'a'.repeat(Math.min(255, longest) - 1)}!`;
      // The processor's time, not the clock's: other programs may run beside.
      const from = process.cpuUsage();
      expect(safeExpression(pattern).exec(name)).toBeNull();
      expect(process.cpuUsage(from).user / 1e6).toBeLessThan(0.5);
    });
});

describe('the unit of a file', () => {
  const profile = (parts: object) => parseProfile(JSON.stringify({ name: 'yard', ...parts }), 'p.json');
  it('is fixed, or read from the file name, folders left aside', () => {
    expect(unitOfFile('/x/log.csv', profile({ unit: 'T-1' }))).toBe('T-1');
    const byName = profile({ unitFrom: { fileName: '^(?<unit>[A-Z]-\\d+)_' } });
    expect(unitOfFile('/B-9_x/T-014_2026.csv', byName)).toBe('T-014');
    expect(unitOfFile('/x/log.csv', null)).toBeNull();
    const slow = profile({ unitFrom: { fileName: '[^_]*_[^_]*(?<unit>x)?y?' } });
    expect(() => unitOfFile(`/x/${'_'.repeat(200)}`, slow)).toThrow(
      /^file name requires at most 116 characters for a pattern of so many repeats and choices, got 200 \(_+\)$/,
    );
    expect(() => unitOfFile('/T-014_x/log.csv', byName)).toThrow(
      "file name requires a unit as the profile's pattern ^(?<unit>[A-Z]-\\d+)_ finds it, got log.csv (/unitFrom/fileName)",
    );
  });
});

describe('the hash of a profile', () => {
  const hash = (text: string) => profileHash(parseProfile(text, 'p.json'));
  it('does not depend on order, name or the short form of a column', () => {
    expect(hash('{"name":"a","delimiter":";","columns":{"A":"volts","B":{"field":"time"}}}')).toBe(
      hash('{"columns":{"B":"time","A":{"field":"volts"}},"delimiter":";","name":"b"}'),
    );
  });
  it('changes with whatever is read differently', () => {
    expect(hash('{"name":"a","delimiter":";"}')).not.toBe(hash('{"name":"a","delimiter":"|"}'));
  });
});
