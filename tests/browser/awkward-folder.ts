/** A folder of units whose numbers are a path, markup, letters with signs, and wider than a phone; each with a winter of cranks. */
import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const LONG_UNIT = 'WITHOUTANYBLANK0123456789ABCDEFGHIJKLMNOP';
export const AWKWARD_UNITS = ['../../x', '<img src=x onerror=alert(1)>', 'ü/14 %', LONG_UNIT];

/** In the register, and never heard of since. */
export const SILENT_UNIT = 'NO LOG';

const DAYS = 120;
const LAST_MS = Date.parse('2026-10-30T05:30:00Z');
const DAY_MS = 86_400_000;

export async function awkwardFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'awkward-folder-'));
  const units = [...AWKWARD_UNITS, SILENT_UNIT].map(
    (unit) => `${unit},Oldmere,delivery van,12,1,760,4,diesel,2023-05-06`,
  );
  const head = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders,fuel,in_service_date';
  await writeFile(join(folder, 'units.csv'), [head, ...units, ''].join('\n'));
  const cranks = AWKWARD_UNITS.flatMap((unit) =>
    Array.from({ length: DAYS }, (_, day) => {
      const time = new Date(LAST_MS - (DAYS - 1 - day) * DAY_MS).toISOString();
      return `${unit},${time},12.6,${(7.4 - day / 200).toFixed(2)},${(10.9 - day / 200).toFixed(2)},0.7,${235 - (day % 7)},15`;
    }),
  );
  const crankHead = 'unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,crank_rpm,temp_c';
  await writeFile(join(folder, 'cranks.csv'), [crankHead, ...cranks, ''].join('\n'));
  return folder;
}
