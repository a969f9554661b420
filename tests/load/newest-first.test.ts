import { readdir, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NEWEST_FIRST } from '../../etl/loading/newest-first.ts';
import { FINISHED_COLUMNS } from '../../etl/model/crank.ts';
import { groupBy } from '../../etl/model/group-by.ts';
import type { Store } from '../../etl/store/store.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { writeLog } from '../support/invented-logs.ts';
import { load, storeFolder, withStore } from '../support/store-folder.ts';

/** Databases like to export the newest row first: it is the same log. */
let folder: Awaited<ReturnType<typeof storeFolder>>;
let header = '';
let rows: string[] = [];
let oldestFirst: Record<string, unknown>;

const shape = { restSeconds: 2, seconds: 9 };

beforeAll(async () => {
  folder = await storeFolder();
  await writeLog(folder.path('log.csv'), { megabytes: 6, units: 3, shape, betweenSeconds: 40, order: 'in_turn' });
  [header = '', ...rows] = (await readFile(folder.path('log.csv'), 'utf8')).trimEnd().split('\n');
  const { content, report } = await loaded('oldest', folder.path('log.csv'));
  expect([report.setAside, report.notes, report.cranks > 10]).toEqual([0, [], true]);
  oldestFirst = content;
});
afterAll(async () => folder.remove());

/** All that is known of the cranks but the file and the line that each stood on. */
async function cranksOf(store: Store): Promise<Record<string, unknown>> {
  const columns = FINISHED_COLUMNS.filter((name) => name !== 'importId' && name !== 'line');
  const engines: Record<string, unknown> = {};
  for (const engine of await store.engines()) {
    const table = (await store.finished(engine))!;
    const waveforms = await store.waveformTimes(engine);
    engines[engine.unit] = { waveforms, ...Object.fromEntries(columns.map((name) => [name, table.columns[name]])) };
  }
  return engines;
}

async function loaded(name: string, path: string) {
  const report = (await load(folder.path(`${name}.sqlite`), [path])).files[0]!;
  return { report, content: await withStore(folder.path(`${name}.sqlite`), cranksOf) };
}

async function written(name: string, lines: readonly string[]): Promise<string> {
  const path = folder.path(`${name}.csv`);
  await writeFile(path, `${[header, ...lines].join('\n')}\n`);
  return path;
}

const byUnit = () => [...groupBy(rows, (row) => row.slice(0, row.indexOf(','))).values()];
const timeOf = (row: string) => row.slice(row.indexOf(',') + 1, row.indexOf(',') + 25);

describe('a log whose rows stand newest first', () => {
  it('gives what the same log the other way round gives, and the report says how it was read', async () => {
    const { report, content } = await loaded('newest', await written('newest', rows.toReversed()));
    expect([report.setAside, report.notes, report.taken]).toEqual([0, [NEWEST_FIRST], rows.length]);
    expect(content).toEqual(oldestFirst);
  });

  it('so too unit by unit, and units by turns', async () => {
    const blocks = byUnit();
    const inBlocks = await written(
      'in-blocks',
      blocks.flatMap((each) => each.toReversed()),
    );
    const byTurns = await written(
      'by-turns',
      rows.toSorted((a, b) => (timeOf(a) < timeOf(b) ? 1 : -1)),
    );
    for (const path of [inBlocks, byTurns]) {
      const { report, content } = await loaded(path.slice(-10, -4), path);
      expect([report.setAside, report.notes]).toEqual([0, [NEWEST_FIRST]]);
      expect(content).toEqual(oldestFirst);
    }
  });

  it.each(['parquet', 'ndjson'])('so too as %s', async (kind) => {
    const csv = await written(`for-${kind}`, rows.toReversed());
    const format = kind === 'parquet' ? 'FORMAT parquet' : 'FORMAT json';
    await withDuckDb(`COPY (FROM '${csv}') TO '${folder.path(`newest.${kind}`)}' (${format})`);
    const { report, content } = await loaded(kind, folder.path(`newest.${kind}`));
    expect([report.setAside, report.notes]).toEqual([0, [NEWEST_FIRST]]);
    expect(content).toEqual(oldestFirst);
  });

  it('names the lines of the file in what is set aside', async () => {
    const lines = rows.toReversed();
    lines[20_000] = `${lines[20_100]!.slice(0, lines[20_100]!.lastIndexOf(','))},1`;
    const { report } = await loaded('one-late', await written('one-late', lines));
    expect(report.examples.map(({ line, field }) => [line, field])).toEqual([[20_002, 'time']]);
  });

  it('leaves nothing in the temporary folder', async () => {
    expect((await readdir(tmpdir())).filter((name) => name.startsWith('crankledger-spill-'))).toEqual([]);
  });
});

describe('a log that is none of the kind', () => {
  it('out of order in places: those rows are set aside, as ever', async () => {
    const lines = [...rows];
    for (let at = 500; at < lines.length; at += 1000) [lines[at], lines[at + 1]] = [lines[at + 1]!, lines[at]!];
    const { report } = await loaded('places', await written('places', lines));
    expect(report.notes).toEqual([]);
    expect(report.setAside).toBe(Math.floor((lines.length - 500) / 1000) + 1);
  });

  it('captures newest first whose own rows run forward: nothing is turned', async () => {
    const captures = byUnit().flatMap((each) =>
      Array.from({ length: each.length / 9000 }, (_, index) =>
        each.slice(index * 9000, (index + 1) * 9000),
      ).toReversed(),
    );
    const { report, content } = await loaded('captures', await written('captures', captures.flat()));
    expect([report.setAside, report.notes]).toEqual([0, []]);
    // Whether an engine ran before a capture is seen only where the capture before it has come before it.
    const withoutQuality = (engines: object) =>
      Object.values(engines).map((each: Record<string, unknown>) => ({ ...each, quality: null }));
    expect(withoutQuality(content)).toEqual(withoutQuality(oldestFirst));
  });
});
