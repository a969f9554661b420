import { describe, expect, it } from 'vitest';
import { fileParts, importsShown, readImportsQuery, writeImportsQuery } from '../../../web/imports/imports-query.ts';
import { FIXTURE_IMPORTS } from '../../browser/fixture-imports.ts';

const shown = (search: string, setAside = false) =>
  importsShown(FIXTURE_IMPORTS.imports, { search, setAside }).map(({ importId }) => importId);

describe('imports', () => {
  it.each(['', '?search=a%26b+c', '?rows=set-aside', '?search=x&rows=set-aside'])(
    'the filters %s come back from the address as they went in',
    (address) => expect(writeImportsQuery(readImportsQuery(address))).toBe(address),
  );

  it('stand newest first, and are found by file, folder and kind, in any case', () => {
    expect(shown('')).toEqual([2, 1]);
    expect(shown('UNITS.csv')).toEqual([2]);
    expect(shown('october')).toEqual([1]);
    expect(shown(' register ')).toEqual([2]);
    expect(shown('', true)).toEqual([2]);
    expect(shown('cranks', true)).toEqual([]);
  });

  it('a file’s name is told from its folder, whichever system wrote it', () => {
    expect(fileParts('/data/oct/cranks.csv')).toEqual({ name: 'cranks.csv', folder: '/data/oct' });
    expect(fileParts('C:\\logs\\cranks.csv')).toEqual({ name: 'cranks.csv', folder: 'C:\\logs' });
    expect(fileParts('cranks.csv')).toEqual({ name: 'cranks.csv', folder: '' });
  });
});
