import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from './source-files.ts';

const FOLDER = join(ROOT, 'tests/reference/data');

/** The named columns of a CSV file of tests/reference/data. */
export function referenceColumns<Name extends string>(
  file: string,
  names: readonly Name[],
): Record<Name, Float64Array> {
  const rows = parse<Record<string, string>>(readFileSync(join(FOLDER, file), 'utf8'), { columns: true });
  const column = (name: Name): Float64Array =>
    Float64Array.from(rows, (row) => {
      const value = Number(row[name]);
      if (!Number.isFinite(value)) throw new Error(`${file} has no number in ${name}`);
      return value;
    });
  return Object.fromEntries(names.map((name) => [name, column(name)])) as Record<Name, Float64Array>;
}

type Values = Record<string, number | number[]>;
type ReferenceSet = { tolerance: number; published?: Values; computed: Values };

const sets = JSON.parse(readFileSync(join(FOLDER, 'statistics.json'), 'utf8')) as Record<string, ReferenceSet>;

/** Expected values of one set of statistics.json. A name that is not there is an error, never undefined. */
export function referenceSet(name: string) {
  const set = sets[name];
  if (set === undefined) throw new Error(`statistics.json has no set ${name}`);
  const read = (kind: 'published' | 'computed', key: string): number | number[] => {
    const value = set[kind]?.[key];
    if (value === undefined) throw new Error(`statistics.json has no ${kind} ${key} of ${name}`);
    return value;
  };
  return {
    tolerance: set.tolerance,
    published: (key: string) => read('published', key) as number,
    publishedList: (key: string) => read('published', key) as number[],
    computed: (key: string) => read('computed', key) as number,
    computedList: (key: string) => read('computed', key) as number[],
  };
}
