import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { metadataFault } from '../../etl/readers/arrow/arrow-metadata.ts';
import { sheetXml, workbookOf } from '../support/spreadsheets.ts';
import { collectFile } from '../support/collected-file.ts';
import { arrowBytes, textVectors } from '../support/plain-tables.ts';

/** Found by damaging files at random (`npm run fuzz`): each of these waited for ever, or read for minutes. */
const UNITS = {
  columns: ['unit', 'depot', 'class', 'system_volts', 'battery_count', 'battery_cca', 'cylinders'],
  rows: Array.from({ length: 6 }, (_, at) => [`T-${at}`, 'north', 'truck', '24', '2', '1800', '6']),
};

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'damaged-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

/** Rows of a file, or why it is refused. */
async function answer(name: string, bytes: Uint8Array): Promise<number | string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return collectFile(path).then(
    ({ units }) => units.length,
    (error: unknown) => (error instanceof Error ? error.message : String(error)),
  );
}

describe('every byte of a container may be damaged: an answer comes, and soon', () => {
  const sound = {
    'units.xlsx': workbookOf({ Sheet1: sheetXml([UNITS.columns, ...UNITS.rows]) }),
    'units.arrow': arrowBytes(textVectors(UNITS), 'file', 3),
    'units.arrows': arrowBytes(textVectors(UNITS), 'stream', 3),
  };
  it.each(Object.entries(sound))('%s', async (name, bytes) => {
    expect(await answer(name, bytes)).toBe(6);
    for (let at = 0; at < bytes.length; at += 7) {
      const damaged = Buffer.from(bytes);
      damaged[at]! ^= 0x81;
      const got = await answer(name, damaged);
      if (typeof got === 'string') expect(got).toMatch(/ requires /);
      else expect(got).toBeLessThanOrEqual(6);
    }
  });
});

describe('metadata of an Arrow message', () => {
  const stream = Buffer.from(arrowBytes(textVectors(UNITS), 'stream'));
  const schema = stream.subarray(8, 8 + stream.readInt32LE(4));

  it('of a sound schema hold together', () => {
    expect(metadataFault(schema, 0)).toBeNull();
  });
  it('with a count or a place far outside of it do not', () => {
    let refused = 0;
    for (let at = 0; at + 4 <= schema.length; at += 4) {
      const damaged = Buffer.from(schema);
      damaged.writeUInt32LE(0x7fffffff, at);
      if (metadataFault(damaged, 0) !== null) refused++;
    }
    // Places and counts are most of a schema; what is left are names and flags.
    expect(refused).toBeGreaterThan(schema.length / 4 / 3);
  });
  it('cut short do not', () => {
    expect(metadataFault(schema.subarray(0, schema.length >> 1), 0)).not.toBeNull();
    expect(metadataFault(new Uint8Array(0), 0)).toBe('places that lie outside of it');
  });
});
