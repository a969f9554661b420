import { createHash } from 'node:crypto';
import { chmod, mkdir, symlink, writeFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { FileReport } from '../../etl/load.ts';
import { loadPaths } from '../../etl/load.ts';
import { findFiles } from '../../etl/loading/files.ts';
import { freshStore } from '../support/open-stores.ts';
import { load, NOW_US, storeFolder } from '../support/store-folder.ts';

/** Each bad thing of a folder is told in words, and costs nothing but itself. */
const fresh = freshStore();
let folder: Awaited<ReturnType<typeof storeFolder>>;
beforeEach(async () => {
  folder = await storeFolder();
});
afterEach(async () => folder.remove());

const CRANK_HEADER = 'unit,time,rest_volts,dip_volts,crank_seconds\n';
const GOOD_CRANK = 'U1,2026-01-02T06:00:00Z,12.6,8,0.9\n';
const WAVE_HEADER = 'unit,time,volts\n';
const BEGIN_MS = Date.UTC(2026, 0, 1);

/** Loads one file beside a good one; the good one must have come through. Returns the bad one's report. */
async function besideGood(name: string, content: string | Uint8Array): Promise<FileReport> {
  await writeFile(folder.path('good.csv'), CRANK_HEADER + GOOD_CRANK);
  await writeFile(folder.path(name), content);
  const report = await loadPaths(fresh.store(), [folder.path('.')], { nowUs: NOW_US });
  expect(report.files.find(({ file }) => file.endsWith('good.csv'))).toMatchObject({ result: 'loaded', taken: 1 });
  return report.files.find(({ file }) => file.endsWith(name))!;
}

/** Samples of 1 kHz: rest, one crank with its ripple, charging. */
function crankSamples(unit: string, fromMs: number): string[] {
  return Array.from({ length: 5000 }, (_, index) => {
    const seconds = index / 1000 - 1.5;
    const rolling = 10.4 + 0.25 * Math.sin(2 * Math.PI * 7 * seconds) - 2.4 * Math.exp(-seconds / 0.06);
    const volts = seconds < 0 ? 12.6 : seconds < 1 ? rolling : 14.1 - 1.2 * Math.exp(1 - seconds);
    return `${unit},${fromMs + index},${(volts + 0.006 * Math.sin(index * 1.7)).toFixed(3)}\n`;
  });
}

describe('a file that cannot be read at all', () => {
  const binary = Uint8Array.from({ length: 4096 }, (_, index) => (index * 37) % 256);
  it.each<[string, string | Uint8Array, string]>([
    ['an empty file', '', 'file requires a header row, got an empty file'],
    [
      'semicolons',
      'unit;time;volts\nU1;2026-01-01T00:00:00Z;12,5\n',
      'file requires commas between columns, got semicolons',
    ],
    ['binary rubbish', binary, 'file requires a table as text, got binary data'],
    ['a table of something else', 'date,town\n1,2\n', 'file requires the columns of a known kind, got date, town'],
    [
      'a gzip cut off in its head',
      gzipSync(CRANK_HEADER).subarray(0, 12),
      'gzip file requires a whole archive, got a file that ends early',
    ],
  ])('%s is named with its reason, and the others load', async (_, content, reason) => {
    const report = await besideGood('bad', content);
    expect(report).toMatchObject({ result: 'unreadable', kind: null, importId: null, taken: 0, setAside: 1 });
    expect(report.reasons[0]!.reason).toContain(reason);
    expect(await fresh.store().imports()).toHaveLength(1);
  });
});

describe('a file of which something can be used', () => {
  it('a header alone is a file of no rows', async () => {
    expect(await besideGood('bad.csv', CRANK_HEADER)).toMatchObject({
      result: 'loaded',
      kind: 'cranks',
      taken: 0,
      setAside: 0,
    });
  });

  it('a truncated gzip gives the rows before the break, and is known again', async () => {
    const text = WAVE_HEADER + [...crankSamples('U2', BEGIN_MS), ...crankSamples('U2', BEGIN_MS + 3_600_000)].join('');
    const cut = gzipSync(text).subarray(0, -9000);
    const report = await besideGood('cut.csv.gz', cut);
    expect(report).toMatchObject({ result: 'loaded', kind: 'waveform', setAside: 1, cranks: expect.any(Number) });
    expect(report.cranks).toBeGreaterThanOrEqual(1);
    expect(report.examples).toEqual([
      { line: report.taken + 2, field: '', value: '', reason: expect.stringContaining('got a file that ends early') },
    ]);
    const live = (await fresh.store().imports()).find(({ file }) => file.endsWith('cut.csv.gz'));
    expect(live!.sha256).toBe(createHash('sha256').update(cut).digest('hex'));
    const again = await loadPaths(fresh.store(), [folder.path('cut.csv.gz')], { nowUs: NOW_US });
    expect(again.files[0]!.result).toBe('already');
  });

  it('bad cells set their row aside with line, field, value and reason; the others load', async () => {
    const bad = [
      'U2,2026-01-02T06:00:00Z,NaN,8,0.9',
      'U2,2026-01-02T07:00:00Z,1e9,8,0.9',
      'U2,yesterday,12.6,8,0.9',
      ',2026-01-02T08:00:00Z,12.6,8,0.9',
      'U2,2026-01-02T09:00:00Z',
    ];
    const report = await besideGood('bad.csv', `${CRANK_HEADER}${bad.join('\n')}\n${GOOD_CRANK.replace('U1', 'U2')}`);
    expect(report).toMatchObject({ result: 'loaded', taken: 1, setAside: 5 });
    expect(report.examples.map(({ line, field, value }) => [line, field, value])).toEqual([
      [2, 'rest_volts', 'NaN'],
      [3, 'rest_volts', '1e9'],
      [4, 'time', 'yesterday'],
      [5, 'unit', ''],
      [6, expect.any(String), expect.any(String)],
    ]);
    const stored = [];
    for await (const { file: _, ...row } of fresh.store().setAside(report.importId!)) stored.push(row);
    expect(stored).toEqual(report.examples);
  });

  it('unknown columns are kept aside and named, in the report and in the list of imports', async () => {
    const text =
      'unit,gps,time,rest_volts,dip_volts,crank_seconds,Mood\nU2,60.1;24.9,2026-01-01T00:00:00Z,12.6,8,1,good\n';
    const report = await besideGood('more.csv', text);
    expect(report).toMatchObject({ taken: 1, unknownColumns: ['gps', 'mood'] });
    const listed = (await fresh.store().imports()).find(({ importId }) => importId === report.importId);
    expect(listed!.unknownColumns).toEqual(['gps', 'mood']);
  });

  it('samples whose time runs back, or that come twice, are set aside; the crank is found as without them', async () => {
    const samples = crankSamples('U2', BEGIN_MS);
    const [back, twice] = [samples.slice(500, 510), samples.slice(2999, 3000)];
    const troubled = [
      ...samples.slice(0, 1000),
      ...back,
      ...samples.slice(1000, 3000),
      ...twice,
      ...samples.slice(3000),
    ];
    const report = await besideGood('wave.csv', WAVE_HEADER + troubled.join(''));
    expect(report).toMatchObject({ taken: 5000, setAside: 11, cranks: 1 });
    expect(report.reasons).toEqual([
      { reason: 'time requires samples in order: the clock ran back', rows: 10 },
      { reason: 'time requires one sample an instant', rows: 1 },
    ]);
    const finished = async () => fresh.store().finished((await fresh.store().engine('U2', ''))!);
    const { columns } = (await finished())!;
    await fresh.store().unload(report.importId!);
    await writeFile(folder.path('clean.csv'), WAVE_HEADER + samples.join(''));
    await loadPaths(fresh.store(), [folder.path('clean.csv')], { nowUs: NOW_US });
    const clean = (await finished())!.columns;
    for (const name of ['timeUs', 'restVolts', 'dipVolts', 'crankVolts', 'crankSeconds', 'rippleHz'] as const)
      expect(columns[name]).toEqual(clean[name]);
  });

  it('a log that holds a capture twice keeps its crank and its waveform once', async () => {
    const samples = crankSamples('U2', BEGIN_MS).join('');
    const report = await besideGood('copies.csv', WAVE_HEADER + samples + samples);
    expect(report).toMatchObject({ result: 'loaded', taken: 10_000, setAside: 0, cranks: 2 });
    const engine = (await fresh.store().engine('U2', ''))!;
    const { count, columns } = (await fresh.store().finished(engine))!;
    expect(count).toBe(1);
    expect(await fresh.store().waveformTimes(engine)).toEqual(columns.timeUs);
  });

  it('the same crank twice in one file counts once', async () => {
    const report = await besideGood('twice.csv', CRANK_HEADER + GOOD_CRANK.replace('U1', 'U2').repeat(3));
    expect(report).toMatchObject({ taken: 3, setAside: 0 });
    expect((await fresh.store().finished((await fresh.store().engine('U2', ''))!))!.count).toBe(1);
  });
});

describe('units that are not in the register', () => {
  it('are stored and named as waiting, never set aside; likely spellings are offered', async () => {
    await writeFile(
      folder.path('units.csv'),
      'unit,depot,class,system_volts,battery_count,battery_cca,cylinders\nT-014,North,van,12,1,700,4\n',
    );
    await writeFile(
      folder.path('cranks.csv'),
      CRANK_HEADER + ['T-014', 't 014', 'U9', 'U9'].map((unit) => GOOD_CRANK.replace('U1', unit)).join(''),
    );
    const report = await loadPaths(fresh.store(), [folder.path('.')], { nowUs: NOW_US });
    expect(report).toMatchObject({ taken: 5, setAside: 0, alike: [['T-014', 't 014']] });
    expect(report.waiting).toEqual([
      { unit: 'U9', rows: 2 },
      { unit: 't 014', rows: 1 },
    ]);
  });
});

/** Root may read everything: its rights are laid down for a moment. */
async function asNobody<Result>(work: () => Promise<Result>): Promise<Result> {
  const isRoot = process.geteuid?.() === 0;
  if (isRoot) process.seteuid?.(65_534);
  try {
    return await work();
  } finally {
    if (isRoot) process.seteuid?.(0);
  }
}

describe('paths', () => {
  it('one that does not exist is refused before anything is loaded', async () => {
    await writeFile(folder.path('good.csv'), CRANK_HEADER + GOOD_CRANK);
    const paths = [folder.path('good.csv'), folder.path('gone')];
    await expect(load(folder.path('store.sqlite'), paths)).rejects.toThrow(
      `load requires a path that exists, got nothing there (${folder.path('gone')})`,
    );
    expect((await load(folder.path('store.sqlite'), [folder.path('good.csv')])).files[0]!.result).toBe('loaded');
  });

  it('something that is neither file nor folder is refused', async () => {
    await expect(load(folder.path('store.sqlite'), ['/dev/null'])).rejects.toThrow(
      'load requires files and folders, got something else (/dev/null)',
    );
  });

  it('folders are read to the bottom in the order of their names, each file once; hidden ones are passed over', async () => {
    await mkdir(folder.path('fleet/b/deep'), { recursive: true });
    await mkdir(folder.path('fleet/.git'));
    const names = ['fleet/z.csv', 'fleet/b/deep/1.csv', 'fleet/a.csv', 'fleet/.hidden.csv', 'fleet/.git/x.csv'];
    for (const [index, name] of names.entries())
      await writeFile(folder.path(name), CRANK_HEADER + GOOD_CRANK.replace('U1', `U${index}`));
    await symlink(folder.path('fleet'), folder.path('fleet/b/circle'));
    await symlink(folder.path('fleet/nowhere'), folder.path('fleet/broken'));
    const paths = [folder.path('fleet'), folder.path('fleet/a.csv')];
    const { files } = await loadPaths(fresh.store(), paths, { nowUs: NOW_US });
    expect(files.map(({ file, result }) => [file.slice(folder.path('fleet/').length), result])).toEqual([
      ['broken', 'unreadable'],
      ['a.csv', 'loaded'],
      ['b/deep/1.csv', 'loaded'],
      ['z.csv', 'loaded'],
    ]);
    expect(files[0]!.reasons[0]!.reason).toBe('path requires something that the system can read, got ENOENT');
  });

  it('a folder without permission is told, and the rest is found', async () => {
    await writeFile(folder.path('good.csv'), CRANK_HEADER + GOOD_CRANK);
    await mkdir(folder.path('shut'));
    await chmod(folder.path('shut'), 0);
    await chmod(folder.path('.'), 0o755);
    const found = await asNobody(async () => findFiles([folder.path('.')]));
    expect(found.files.map(({ path }) => path)).toEqual([folder.path('good.csv')]);
    const reason = 'folder requires permission to read it, got none: ask its owner to allow reading';
    expect(found.unreadable).toEqual([{ path: folder.path('shut'), reason }]);
  });

  it('progress runs to the last byte of all files, already loaded ones and gzip included', async () => {
    await writeFile(folder.path('a.csv'), CRANK_HEADER + GOOD_CRANK);
    await writeFile(folder.path('b.csv.gz'), gzipSync(CRANK_HEADER + GOOD_CRANK.repeat(500)));
    const seen: number[] = [];
    let total = 0;
    const finished: [number, number][] = [];
    await loadPaths(fresh.store(), [folder.path('.')], {
      nowUs: NOW_US,
      onProgress: ({ bytes, totalBytes }) => {
        seen.push(bytes);
        total = totalBytes;
      },
      onFinish: (done, all) => finished.push([done, all]),
    });
    expect(seen).toEqual(seen.toSorted((a, b) => a - b));
    expect(seen.at(-1)).toBe(total);
    expect(finished).toEqual([[1, 1]]);
  });
});
