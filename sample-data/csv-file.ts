import { createWriteStream } from 'node:fs';
import { rename } from 'node:fs/promises';
import { once } from 'node:events';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import { createGzip } from 'node:zlib';

/**
 * A CSV file that is written as it comes: text goes in, the caller waits where the disk is slower. The file gets its
 * name when it is complete; until then it ends in `.part`. A name ending in `.gz` is packed.
 */
export type CsvFile = {
  name: string;
  rows: number;
  /** Lines with their line ends; `rows` of them. */
  write(lines: string, rows: number): Promise<void>;
  close(): Promise<void>;
};

export function createCsvFile(folder: string, name: string, columns: readonly string[]): CsvFile {
  const path = join(folder, name);
  const disk = createWriteStream(`${path}.part`);
  const gzip = name.endsWith('.gz') ? createGzip({ level: 9 }) : null;
  const sink = gzip ?? disk;
  gzip?.pipe(disk);
  sink.write(`${columns.join(',')}\n`);
  const file: CsvFile = {
    name,
    rows: 0,
    write: async (lines, rows) => {
      file.rows += rows;
      if (lines !== '' && !sink.write(lines)) await once(sink, 'drain');
    },
    close: async () => {
      sink.end();
      await finished(disk);
      await rename(`${path}.part`, path);
    },
  };
  return file;
}

/** A text cell after RFC 4180: quoted only where it must be. */
export function cell(value: string): string {
  return /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
}

/** A number with so many decimals; null is an empty cell. */
export function decimals(value: number | null, digits: number): string {
  return value === null ? '' : value.toFixed(digits);
}
