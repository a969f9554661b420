import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { assess } from '../../etl/assess.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';

const NOW = asOf('2026-03-01');
const folders: string[] = [];
afterAll(async () => Promise.all(folders.map(async (folder) => rm(folder, { recursive: true, force: true }))));

const register = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders\nT-1,N,van,12,1,700,4\n';
const parts = 'unit,component,position,fitted\nT-1,starter,left,2025-02-02\n';
const orders =
  'work_order,unit,opened,correction,position\n' +
  '1,T-1,2025-06-01,replaced battery,left\n2,T-1,2026-02-20,jump started,left\n';
const cranks = (position: string) => {
  const days = Array.from({ length: 40 }, (_, day) => new Date(Date.UTC(2026, 0, 15 + day, 6)).toISOString());
  return [
    'unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,position',
    ...days.map((time) => `T-1,${time},12.6,8,10,0.9,${position}`),
  ].join('\n');
};

async function assessed(position: string) {
  const folder = await mkdtemp(join(tmpdir(), 'unplaced-'));
  folders.push(folder);
  const files = { units: register, parts, orders, cranks: cranks(position) };
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder, `${name}.csv`), text);
  const store = await openStore(join(folder, 'store.sqlite'));
  await loadPaths(store, [folder], { nowUs: NOW.us });
  const { outlooks, trends, lives } = await assess(store, NOW);
  const evidence = outlooks.map((each) => [each.position, each.component, each.evidence.join('; ')]);
  const sag = trends.filter(({ indicator, component }) => indicator === 'log_sag_ratio' && component === 'battery');
  store.close();
  return { evidence, sag: sag.map(({ position: at, n }) => [at, n]), lives };
}

describe('a log that says no position, on a unit whose records name one', () => {
  it('belongs to the engine of these records: neither stands without the other', async () => {
    const { evidence, sag, lives } = await assessed('');
    expect(sag).toEqual([['', 40]]);
    expect(evidence.map(([position, component]) => [position, component])).toEqual([
      ['', 'battery'],
      ['', 'starter'],
    ]);
    expect(evidence[0]![2]).toContain('9 months old');
    expect(
      lives.filter(({ fittedFrom }) => fittedFrom === 'record').map((life) => [life.component, life.position]),
    ).toEqual([
      ['battery', ''],
      ['starter', ''],
    ]);
  });

  it('one that says it is of that engine alone', async () => {
    const { evidence, sag } = await assessed('left');
    expect(sag).toEqual([['left', 40]]);
    expect(evidence.map(([position]) => position)).toEqual(['left', 'left']);
  });
});
