import { mkdtempSync, readFileSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { simulateFleet } from '../../sample-data/simulate.ts';
import type { SimulationReport } from '../../sample-data/simulate.ts';
import { crankFiles, hashes, rowsOf } from './simulated-folder.ts';
import type { Row } from './simulated-folder.ts';

/** The sample in the repository, made again from the command in its README; what the README says, asserted. */
const SAMPLE = 'sample-data/fleet';
const README = readFileSync('sample-data/README.md', 'utf8');
const again = mkdtempSync(join(tmpdir(), 'sample-'));
const truth = mkdtempSync(join(tmpdir(), 'truth-'));
let report: SimulationReport;
let cranks: Map<string, Row[]>;
let lives: Row[];
let orders: Row[];

beforeAll(async () => {
  const command = /simulate --units (\d+) --days (\d+) --seed (\d+) --out sample-data\/fleet/.exec(README);
  const [units, days, seed] = [Number(command?.[1]), Number(command?.[2]), Number(command?.[3])];
  report = await simulateFleet({ units, days, seed, out: again, truth });
  lives = rowsOf(truth, 'true-lives.csv');
  orders = rowsOf(SAMPLE, 'work_orders.csv');
  cranks = new Map();
  for (const row of crankFiles(SAMPLE).flatMap((name) => rowsOf(SAMPLE, name))) {
    const rows = cranks.get(row['unit']!) ?? [];
    if (rows.length === 0) cranks.set(row['unit']!, rows);
    rows.push(row);
  }
}, 120_000);

afterAll(() => {
  for (const folder of [again, truth]) rmSync(folder, { recursive: true, force: true });
});

function sag(rows: readonly Row[]): number {
  return median(rows.map((row) => Number(row['rest_volts']) / Number(row['dip_volts']) - 1));
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function between(unit: string, from: string, to: string, position = ''): Row[] {
  return cranks.get(unit)!.filter((row) => row['time']! >= from && row['time']! < to && row['position'] === position);
}

function failedShare(rows: readonly Row[]): number {
  return rows.filter((row) => row['outcome'] === 'failed').length / rows.length;
}

function life(unit: string, component: string, end: string, position = ''): Row {
  const found = lives.filter(
    (row) =>
      row['unit'] === unit && row['component'] === component && row['end'] === end && row['position'] === position,
  );
  expect(found).toHaveLength(1);
  return found[0]!;
}

function ordersOf(unit: string, words: RegExp, from = '', to = '9'): Row[] {
  return orders.filter(
    (row) =>
      row['unit'] === unit &&
      row['opened']! >= from &&
      row['opened']! < to &&
      words.test(`${row['cause']} ${row['correction']}`),
  );
}

function days(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 86_400_000;
}

test('the recorded command writes the sample again, row for row', () => {
  expect(hashes(again)).toEqual(hashes(SAMPLE));
});

test('the sample is under 8 MB and holds no truth', () => {
  const names = readdirSync(SAMPLE);
  expect(names.reduce((bytes, name) => bytes + statSync(join(SAMPLE, name)).size, 0)).toBeLessThan(8e6);
  expect(names.filter((name) => name.startsWith('true'))).toEqual([]);
  const columns = rowsOf(SAMPLE, 'units.csv').flatMap((row) => Object.keys(row));
  expect(columns.filter((name) => /story|truth|cause/.test(name))).toEqual([]);
});

test('as many failures as two years of 90 units have, some of them without warning', () => {
  expect(report.batteryFailures).toBeGreaterThanOrEqual(25);
  expect(report.batteryFailures).toBeLessThanOrEqual(45);
  expect(report.starterFailures).toBeGreaterThanOrEqual(10);
  expect(report.starterFailures).toBeLessThanOrEqual(20);
  const failures = lives.filter((row) => row['end'] === 'failure');
  const sudden = failures.filter((row) =>
    /cell_short|open_link|winding|drive_clutch|solenoid_coil/.test(row['cause']!),
  );
  expect(sudden.length / failures.length).toBeGreaterThan(0.08);
  expect(sudden.length / failures.length).toBeLessThan(0.3);
  const ages = lives
    .filter((row) => row['component'] === 'battery' && row['failed'] !== '')
    .map((row) => days(row['fitted']!, row['failed']!) / 365.25);
  expect(median(ages)).toBeGreaterThan(3);
  expect(median(ages)).toBeLessThan(5);
});

test('the report counts what the files hold', () => {
  expect(report.cranks).toBe([...cranks.values()].reduce((sum, rows) => sum + rows.length, 0));
  expect(report.workOrders).toBe(orders.length);
  expect(report.batteryFailures).toBe(
    lives.filter((row) => row['component'] === 'battery' && row['end'] === 'failure').length,
  );
  expect(README).toContain(`${report.cranks.toLocaleString('en')} cranks`);
  expect(README).toContain(`${report.waveforms} of them as waveforms`);
  expect(README).toContain(`${report.workOrders.toLocaleString('en')} work orders`);
  expect(README).toContain(`${report.batteryFailures} batteries and ${report.starterFailures} starters`);
});

test('most work orders are about something else; some are late, twice, or vague', () => {
  const kinds = rowsOf(truth, 'true-work-orders.csv');
  const unrelated = kinds.filter((row) => row['repair'] === 'unrelated').length / kinds.length;
  expect(unrelated).toBeGreaterThan(0.8);
  expect(unrelated).toBeLessThan(0.92);
  expect(kinds.some((row) => row['legible'] === '0')).toBe(true);
  expect(kinds.some((row) => row['duplicate_of'] !== '')).toBe(true);
  expect(orders.some((row) => row['entered'] !== '' && days(row['closed']!, row['entered']!) > 14)).toBe(true);
  expect(new Set(orders.map((row) => row['work_order'])).size).toBe(orders.length);
});

test('late on purpose: nothing is in the sample that was entered after its last day', () => {
  expect(orders.filter((row) => (row['entered'] || row['closed']!) >= '2026-11-01')).toEqual([]);
});

describe('the stories of the README', () => {
  test('T-107: the battery fades through 2026 and fails in November, after the log', () => {
    const now = sag(between('T-107', '2026-10-01', '2026-11-01'));
    expect(now / sag(between('T-107', '2025-10-01', '2025-11-01'))).toBeGreaterThan(1.3);
    const battery = life('T-107', 'battery', 'in_service');
    expect([battery['fitted'], battery['failed'], battery['cause']]).toEqual([
      '2023-02-19',
      '2026-11-17',
      'grid_corrosion',
    ]);
  });

  test('V-112: more and more cranks are clicks; the brushes fail in February 2027', () => {
    expect(failedShare(between('V-112', '2025-09-01', '2025-11-01'))).toBeLessThan(0.01);
    expect(failedShare(between('V-112', '2026-09-01', '2026-11-01'))).toBeGreaterThan(0.05);
    const starter = life('V-112', 'starter', 'in_service');
    expect([starter['failed'], starter['cause']]).toEqual(['2027-02-05', 'brushes']);
  });

  test('V-118: a new battery on 16 May, back after six days, cured by a starter', () => {
    expect(life('V-118', 'battery', 'wrong_part')['removed']).toBe('2026-05-16');
    const starter = life('V-118', 'starter', 'failure');
    expect([starter['failed'], starter['removed'], starter['cause']]).toEqual(['2026-05-16', '2026-05-22', 'brushes']);
    expect(ordersOf('V-118', /batt/i, '2026-05-16', '2026-05-17').length).toBeGreaterThan(0);
    expect(ordersOf('V-118', /st[a]?rt/i, '2026-05-22', '2026-05-23').length).toBeGreaterThan(0);
    expect(failedShare(between('V-118', '2026-04-14', '2026-05-22'))).toBeGreaterThan(0.1);
    expect(failedShare(between('V-118', '2026-05-23', '2026-07-01'))).toBe(0);
  });

  test('L-123: a slower logger from 5 December 2025; the sag ratio falls by a quarter, nothing else has changed', () => {
    const before = sag(between('L-123', '2025-10-01', '2025-12-05'));
    const after = sag(between('L-123', '2025-12-06', '2026-02-01'));
    expect(after / before).toBeLessThan(0.8);
    expect(lives.filter((row) => row['unit'] === 'L-123' && row['removed'] !== '')).toEqual([]);
    expect(
      rowsOf(truth, 'true-hidden.csv')
        .filter((row) => row['unit'] === 'L-123' && row['date'] === '2025-12-05')
        .map((row) => row['what']),
    ).toEqual(['logger_swapped_100_to_20_hz']);
  });

  test('B-129: a battery changed on 13 February 2026 that no order mentions', () => {
    const battery = life('B-129', 'battery', 'planned');
    expect([battery['removed'], battery['recorded']]).toEqual(['2026-02-13', '0']);
    const step = sag(between('B-129', '2026-02-14', '2026-03-13')) / sag(between('B-129', '2026-01-14', '2026-02-13'));
    expect(step).toBeLessThan(0.8);
    expect(ordersOf('B-129', /repl.*batt|new batt|c\/o batt/i, '2026-01-15', '2026-03-15')).toEqual([]);
  });

  test('P-134: flat after weekends in the winter of 2025, until the drain is found in March', () => {
    expect(ordersOf('P-134', /jump|boost|charge/i, '2025-12-01', '2026-03-20').length).toBeGreaterThanOrEqual(4);
    expect(ordersOf('P-134', /drain/i, '2026-03-20', '2026-03-21')).toHaveLength(1);
    expect(ordersOf('P-134', /jump|boost|charge/i, '2026-03-21')).toEqual([]);
    expect(lives.filter((row) => row['unit'] === 'P-134' && row['removed'] !== '')).toEqual([]);
  });

  test('T-140: a cell shorts on 24 April 2026, the cranks of the day before like those of the month before', () => {
    const battery = life('T-140', 'battery', 'failure');
    expect([battery['failed'], battery['removed'], battery['cause']]).toEqual([
      '2026-04-24',
      '2026-04-24',
      'cell_short',
    ]);
    const ratio = sag(between('T-140', '2026-04-23', '2026-04-24')) / sag(between('T-140', '2026-03-24', '2026-04-23'));
    expect(Math.abs(ratio - 1)).toBeLessThan(0.1);
  });

  test('C-145: the rear bank fades, the front one does not', () => {
    const change = (position: string): number =>
      sag(between('C-145', '2026-10-01', '2026-11-01', position)) /
      sag(between('C-145', '2025-10-01', '2025-11-01', position));
    expect(change('rear')).toBeGreaterThan(1.3);
    expect(change('front')).toBeLessThan(1.1);
    expect(life('C-145', 'battery', 'in_service', 'rear')['failed']).toBe('2026-11-17');
  });

  test('V-151: the logger falls silent at the end of July 2026, the unit goes on working', () => {
    expect(cranks.get('V-151')!.at(-1)!['time']! < '2026-07-28').toBe(true);
    expect(ordersOf('V-151', /./, '2026-08-01').length).toBeGreaterThan(0);
  });

  test('L-156: parked from 3 July to 15 September 2026', () => {
    expect(between('L-156', '2026-07-03', '2026-09-16')).toEqual([]);
    expect(between('L-156', '2026-09-16', '2026-09-23').length).toBeGreaterThan(0);
  });
});
