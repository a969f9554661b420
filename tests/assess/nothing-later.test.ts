import { mkdtemp, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assess } from '../../etl/assess.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Assessment } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';

/**
 * An assessment as of a day knows nothing later: with everything deleted that became known afterwards it comes out the
 * same to the last digit, fleet parameters included.
 */
const DAY = '2026-06-30';
const END = `${DAY}T23:59:59.999999Z`;
type Row = Record<string, string>;

let folder = '';
let whole: Assessment;
let cut: Assessment;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'nothing-later-'));
  await simulateFleet({ units: 24, days: 420, seed: 11, out: join(folder, 'whole'), waveformShare: 0.002 });
  await deleteLater(join(folder, 'whole'), join(folder, 'cut'));
  whole = await assessed('whole');
  cut = await assessed('cut');
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function assessed(name: string): Promise<Assessment> {
  const store = await openStore(join(folder, `${name}.sqlite`));
  const nowUs = asOf('2026-11-01').us;
  await loadPaths(store, [join(folder, name)], { nowUs });
  const assessment = await assess(store, asOf(DAY));
  store.close();
  return assessment;
}

async function deleteLater(from: string, to: string): Promise<void> {
  await mkdir(to);
  for (const name of await readdir(from)) {
    const bytes = await readFile(join(from, name));
    const text = (name.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8');
    const rows = parse<Row>(text, { columns: true });
    const known = rows.map(asKnown).filter((row) => row !== null);
    if (known.length > 0) await writeFile(join(to, name.replace('.gz', '')), stringify(known, { header: true }));
  }
}

const date = (text: string | undefined) => (text ?? '').slice(0, 10);
const later = (text: string | undefined) => text !== undefined && text !== '' && date(text) > DAY;

/** The row as it stood on the day; null if it did not exist. */
function asKnown(row: Row): Row | null {
  if (row['work_order'] !== undefined) return orderAsKnown(row);
  if (row['time'] !== undefined) return Date.parse(row['time']) <= Date.parse(END) ? row : null;
  if (row['fitted'] !== undefined) return later(row['fitted']) ? null : row;
  if (later(row['in_service_date'])) return null;
  return later(row['out_of_service_date']) ? { ...row, out_of_service_date: '' } : row;
}

function orderAsKnown(row: Row): Row | null {
  const known = row['entered'] || row['closed'] || row['opened'];
  if (later(known)) return null;
  if (row['closed'] !== '' && !later(row['closed'])) return row;
  return {
    ...row,
    closed: '',
    cause: '',
    correction: '',
    system_code: '',
    parts_cost: '',
    labor_hours: '',
    labor_cost: '',
    downtime_hours: '',
  };
}

describe('as of a day', () => {
  it('there was something later to forget', () => {
    expect(whole.outlooks.length).toBeGreaterThan(40);
    expect(whole.trends.some(({ standing }) => standing === 'ok')).toBe(true);
  });

  it('lives are the same', () => expect(cut.lives).toEqual(whole.lives));
  it('trends are the same', () => expect(cut.trends).toEqual(whole.trends));
  it('outlooks are the same, to the last digit', () => expect(cut.outlooks).toEqual(whole.outlooks));
  it('so is what was fitted on the fleet', () => expect(cut.fleet).toEqual(whole.fleet));

  it('another day gives another answer: the test can fail', async () => {
    const store = await openStore(join(folder, 'whole.sqlite'));
    const after = await assess(store, asOf('2026-07-31'));
    store.close();
    expect(after.outlooks).not.toEqual(whole.outlooks);
  });
});
