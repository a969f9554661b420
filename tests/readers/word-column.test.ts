import { writeFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { collectFile } from '../support/collected-file.ts';
import { freshStore } from '../support/open-stores.ts';

const fresh = freshStore();
const WORDS = ['started', 'failed', '', 'Started', ' failed', 'maybe', 'starte', 'startedx', 'failed'];

/** Every word in turn, the column in the middle or at the end, lines ended either way. */
function csv({ last, end, quoted }: { last: boolean; end: string; quoted: boolean }): string {
  const rows = Array.from({ length: 40 }, (_, row) => {
    const word = quoted ? `"${WORDS[row % WORDS.length]!}"` : WORDS[row % WORDS.length]!;
    const known = `T-1,2024-03-01T06:00:${String(row).padStart(2, '0')}Z,12.5,8.1`;
    return last ? `${known},0.9,${word}` : `${known},${word},0.9`;
  });
  const columns = last ? 'crank_seconds,outcome' : 'outcome,crank_seconds';
  return [`unit,time,rest_volts,dip_volts,${columns}`, ...rows].join(end);
}

it.each([
  { last: true, end: '\n' },
  { last: true, end: '\r\n' },
  { last: false, end: '\n' },
])('a word is read alike where it stands plain and where it stands in quotes ($last, $end)', async (form) => {
  const read = async (quoted: boolean) => {
    const path = fresh.path('cranks.csv');
    await writeFile(path, csv({ ...form, quoted }));
    const { report, cranks, setAside } = await collectFile(path);
    return {
      taken: report.taken,
      cranks,
      setAside: setAside.map(({ line, field, reason }) => ({ line, field, reason })),
    };
  };
  const plain = await read(false);
  expect(plain).toEqual(await read(true));
  expect([plain.taken, plain.setAside.length]).toEqual([28, 12]);
  expect(plain.cranks.slice(0, 4).map(({ outcome }) => outcome)).toEqual([0, 1, Number.NaN, 0]);
});
