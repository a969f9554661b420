import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { crankFiles, hashes, headerOf, rowsOf, temporaryFolder } from './simulated-folder.ts';
import type { Row } from './simulated-folder.ts';

const SMALL = { units: 8, days: 120, seed: 3 };

test('the same seed writes the same rows, another seed others', async () => {
  const [first, again, other] = [temporaryFolder(), temporaryFolder(), temporaryFolder()];
  await simulateFleet({ ...SMALL, out: first });
  await simulateFleet({ ...SMALL, out: again });
  await simulateFleet({ ...SMALL, seed: 4, out: other });
  expect(hashes(again)).toEqual(hashes(first));
  expect(hashes(other)['units.csv']).not.toBe(hashes(first)['units.csv']);
  expect(hashes(other)['work_orders.csv']).not.toBe(hashes(first)['work_orders.csv']);
});

test('writing the truth changes nothing in the fleet, and a larger fleet begins with the smaller one', async () => {
  const [plain, withTruth, truth, larger] = [
    temporaryFolder(),
    temporaryFolder(),
    temporaryFolder(),
    temporaryFolder(),
  ];
  await simulateFleet({ ...SMALL, out: plain });
  await simulateFleet({ ...SMALL, out: withTruth, truth });
  await simulateFleet({ ...SMALL, units: 10, out: larger });
  expect(hashes(withTruth)).toEqual(hashes(plain));
  expect(rowsOf(larger, 'units.csv').slice(0, 8)).toEqual(rowsOf(plain, 'units.csv'));
  expect(readdirSync(truth).sort()).toEqual([
    'true-hidden.csv',
    'true-lives.csv',
    'true-states.csv',
    'true-work-orders.csv',
  ]);
  expect(readdirSync(withTruth).filter((name) => name.includes('true') || name.endsWith('.part'))).toEqual([]);
});

test('the headers are those of the input formats, to the letter', async () => {
  const out = temporaryFolder();
  await simulateFleet({ ...SMALL, out });
  expect(headerOf(out, 'units.csv')).toBe(
    'unit,depot,class,system_volts,battery_count,battery_cca,cylinders,fuel,in_service_date,out_of_service_date,next_pm_date,pm_interval_days,starts_per_day,starter_rated_kw,cost_centre',
  );
  expect(headerOf(out, 'components.csv')).toBe('unit,component,position,fitted,part,rating,warranty_until,cost');
  expect(headerOf(out, 'waveforms.csv.gz')).toBe('unit,time,volts,amps,temp_c,position,record');
  expect(headerOf(out, 'work_orders.csv')).toBe(
    'work_order,unit,opened,closed,entered,odometer_km,engine_hours,complaint,cause,correction,system_code,road_call,parts_cost,labor_hours,labor_cost,downtime_hours,position',
  );
  expect(crankFiles(out)).toEqual(['cranks-2026-q3.csv.gz', 'cranks-2026-q4.csv.gz']);
  for (const name of crankFiles(out))
    expect(headerOf(out, name)).toBe(
      'unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,crank_rpm,charge_volts,amps_peak,temp_c,outcome,position',
    );
});

test('times run forward within each unit of each file, with zone and fraction', async () => {
  const out = temporaryFolder();
  await simulateFleet({ ...SMALL, out, waveformShare: 0.02 });
  for (const name of [...crankFiles(out), 'waveforms.csv.gz']) {
    const rows = rowsOf(out, name);
    expect(rows.length).toBeGreaterThan(100);
    expect(rows.filter((row) => !/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d+Z$/.test(row['time']!))).toEqual([]);
    expect(rows.filter((row, index) => runsBack(row, rows[index - 1]))).toEqual([]);
  }
});

function runsBack(row: Row, before: Row | undefined): boolean {
  return before?.['unit'] === row['unit'] && Date.parse(row['time']!) <= Date.parse(before!['time']!);
}

test('rest, cranking and dip volts of a crank stand in this order, and charging above rest', async () => {
  const out = temporaryFolder();
  await simulateFleet({ units: 30, days: 60, seed: 8, out });
  const rows = crankFiles(out).flatMap((name) => rowsOf(out, name));
  const wrong = rows.filter((row) => {
    const [rest, dip, crank] = [Number(row['rest_volts']), Number(row['dip_volts']), Number(row['crank_volts'])];
    return !(rest > dip) || (row['crank_volts'] !== '' && crank < dip - 0.1) || rest > 27 || dip < 1;
  });
  expect(rows.length).toBeGreaterThan(3000);
  expect(wrong).toEqual([]);
  const sags = rows
    .filter((row) => row['outcome'] === 'started')
    .map((row) => Number(row['rest_volts']) / Number(row['dip_volts']) - 1);
  sags.sort((a, b) => a - b);
  // healthy sag ratios run from about 0.5 to 1.2
  expect(sags[Math.floor(sags.length / 2)]).toBeGreaterThan(0.5);
  expect(sags[Math.floor(sags.length / 2)]).toBeLessThan(0.8);
});

test('progress is told unit by unit', async () => {
  const told: [number, number][] = [];
  const report = await simulateFleet({
    units: 3,
    days: 30,
    seed: 1,
    out: temporaryFolder(),
    onProgress: (done, total) => told.push([done, total]),
  });
  expect(told).toEqual([
    [1, 3],
    [2, 3],
    [3, 3],
  ]);
  expect(report).toMatchObject({ firstDay: '2026-10-02', lastDay: '2026-10-31', units: 3 });
});

test('what cannot be simulated is refused with the reason', async () => {
  const out = temporaryFolder();
  await expect(simulateFleet({ ...SMALL, out, units: 0 })).rejects.toThrow(
    'units requires a whole number from 1 to 100000, got 0 (simulate)',
  );
  await expect(simulateFleet({ ...SMALL, out, days: 29 })).rejects.toThrow(
    'days requires a whole number from 30 to 3653, got 29 (simulate)',
  );
  await expect(simulateFleet({ ...SMALL, out, seed: 0.5 })).rejects.toThrow(
    'seed requires a whole number from 0 to 2147483647, got 0.5 (simulate)',
  );
  await expect(simulateFleet({ ...SMALL, out, waveformShare: 2 })).rejects.toThrow(
    'waveform share requires a number from 0 to 1, got 2 (simulate)',
  );
  await expect(simulateFleet({ ...SMALL, out, lastDay: 'soon' })).rejects.toThrow(
    'last day requires a date YYYY-MM-DD, got soon (simulate)',
  );
  await expect(simulateFleet({ ...SMALL, out, truth: join(out, 'truth') })).rejects.toThrow(
    `truth folder requires a place outside the fleet's folder, got ${join(out, 'truth')} (simulate)`,
  );
  writeFileSync(join(out, 'units.csv'), 'mine');
  await expect(simulateFleet({ ...SMALL, out })).rejects.toThrow(
    `folder requires to be new or empty, got 1 entries (${out})`,
  );
});
