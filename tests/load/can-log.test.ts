import { writeFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { crankRows } from '../../api/views/crank-view.ts';
import { CRANK_COLUMNS, crankCells } from '../../api/export/crank-export.ts';
import { loadPaths } from '../../etl/load.ts';
import type { Store } from '../../etl/store/store.ts';
import { BEGIN_S, logLine } from '../support/bus-log.ts';
import { freshStore } from '../support/open-stores.ts';
import { NOW_US } from '../support/store-folder.ts';

const hex = (value: number, bytes: number) =>
  Array.from({ length: bytes }, (_, byte) => ((value >>> (8 * byte)) & 0xff).toString(16).padStart(2, '0'))
    .join('')
    .toUpperCase();
const engine = (rpm: number, mode: number) => `0CF00400#FFFFFF${hex(Math.round(rpm * 8), 2)}FFF${mode.toString(16)}FF`;
const power = (volts: number) => `18FEF700#FFFFFFFF${hex(Math.round(volts * 20), 2)}FFFF`;
const ambient = (tempC: number) => `18FEF500#FFFFFF${hex(Math.round((tempC + 273) * 32), 2)}FFFFFF`;

/** A start at 10 s as a truck sends it: speed and mode every 20 ms, volts, air and an active code every second. */
function truckLog(atS: number): string {
  const lines: string[] = [];
  for (let tick = 0; tick < 50 * 30; tick++) {
    const at = tick / 50;
    const turning = at >= 10.1 && at < 11.4;
    const rpm = at < 10.1 ? 0 : turning ? 125 + 15 * Math.sin(44 * at) : Math.min(650, 125 + (at - 11.4) * 1500);
    lines.push(logLine(atS + at, engine(rpm, at >= 10 && at < 11.6 ? 2 : 0)));
    if (tick % 50 !== 25) continue;
    const volts = at < 10 ? 25.2 : at < 11.6 ? 19.5 : at < 14 ? 25 : 28.2;
    for (const frame of [power(volts), ambient(3), '18FECA00#04FFA8000401FFFF']) lines.push(logLine(atS + at, frame));
  }
  return lines.join('');
}

const REGISTER = `unit,depot,class,system_volts,battery_count,battery_cca,cylinders
T-014,north,truck,24,2,1800,6
`;

async function exported(store: Store) {
  const engines = await store.engines();
  const rows = [];
  for (const each of engines) {
    const table = (await store.finished(each))!;
    const fileOf = new Map((await store.imports()).map(({ importId, file }) => [importId, file]));
    for (const row of crankRows(each, table, { fromUs: -Infinity, toUs: Infinity, fileOf }))
      rows.push(Object.fromEntries(crankCells(row).map((cell, at) => [CRANK_COLUMNS[at]!.name, cell])));
  }
  return rows;
}

describe('a bus log from file to export', () => {
  const fresh = freshStore();

  it('is the crank of the unit that its name says, of source can, with its code', async () => {
    await writeFile(fresh.path('units.csv'), REGISTER);
    await writeFile(fresh.path('T-014.log.gz'), gzipSync(truckLog(0)));
    const store = fresh.store();
    const report = await loadPaths(store, [fresh.path('units.csv'), fresh.path('T-014.log.gz')], { nowUs: NOW_US });
    const log = report.files.find(({ kind }) => kind === 'can_log')!;
    expect([log.taken, log.setAside, log.cranks, log.notes]).toEqual([1500 + 3 * 30, 0, 1, []]);
    expect(report.waiting).toEqual([]);

    const [row, ...others] = await exported(store);
    expect(others).toEqual([]);
    expect(row).toMatchObject({
      unit: 'T-014',
      source: 'can',
      time: (BEGIN_S + 10) * 1e6,
      rest_volts: 25.2,
      dip_volts: null,
      sag_ratio: null,
      crank_volts: 19.5,
      charge_volts: 28.2,
      temp_c: 3,
      pattern: 'steady',
      outcome: 'started',
      quality: 'rate_too_low;rpm_logged',
    });
    expect(row!['crank_seconds']).toBeCloseTo(1.6, 2);
    expect(Math.abs((row!['crank_rpm'] as number) - 125)).toBeLessThan(4);

    const codes = await store.troubleCodes(Infinity, 'T-014');
    expect(codes).toEqual([
      { unit: 'T-014', position: '', timeUs: (BEGIN_S + 0.5) * 1e6, code: null, spn: 168, fmi: 4 },
    ]);
  });

  it('a start that the immobiliser holds back is a row of no response, which points to the control circuit', async () => {
    const held = (at: number) => engine(0, at >= 10 && at < 12 ? 7 : 0);
    const lines = Array.from({ length: 600 }, (_, tick) => logLine(tick / 20, held(tick / 20)));
    const rest = Array.from({ length: 30 }, (_, at) => logLine(at + 0.51, power(25)));
    await writeFile(fresh.path('units.csv'), REGISTER);
    await writeFile(fresh.path('T-014.log'), [...lines, ...rest].sort().join(''));
    const store = fresh.store();
    await loadPaths(store, [fresh.path('units.csv'), fresh.path('T-014.log')], { nowUs: NOW_US });
    const rows = await exported(store);
    expect(rows.map(({ source, pattern, suspect, rest_volts }) => [source, pattern, suspect, rest_volts])).toEqual([
      ['can', 'no_response', 'control', 25],
    ]);
  });

  it('loaded again it changes nothing, and a log that came before the register waits for it', async () => {
    await writeFile(fresh.path('T-014.log'), truckLog(0));
    const store = fresh.store();
    const first = await loadPaths(store, [fresh.path('T-014.log')], { nowUs: NOW_US });
    expect(first.waiting.map(({ unit }) => unit)).toEqual(['T-014']);
    const again = await loadPaths(store, [fresh.path('T-014.log')], { nowUs: NOW_US });
    expect(again.files.map(({ result }) => result)).toEqual(['already']);
    expect((await exported(store)).length).toBe(1);
  });

  it('a log that a faster logger covers too gives way to it', async () => {
    await writeFile(fresh.path('T-014.log'), truckLog(0));
    const samples = Array.from({ length: 3000 }, (_, at) => {
      const s = at / 100;
      const ripple = s > 10.2 ? 0.4 * Math.sin(2 * Math.PI * 6 * s) : 0;
      const volts = s < 10 ? 25.2 : s < 10.05 ? 14 : s < 11.6 ? 19.5 + ripple : 27;
      return `T-014,${(BEGIN_S + s) * 1000},${volts.toFixed(3)}\n`;
    });
    await writeFile(fresh.path('fast.csv'), `unit,time,volts\n${samples.join('')}`);
    const store = fresh.store();
    await loadPaths(store, [fresh.path('T-014.log'), fresh.path('fast.csv')], { nowUs: NOW_US });
    expect((await exported(store)).map(({ source }) => source)).toEqual(['waveform']);
  });
});
