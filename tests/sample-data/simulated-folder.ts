import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { parse } from 'csv-parse/sync';
import { onTestFinished } from 'vitest';
import { rmSync } from 'node:fs';

/** A folder that goes when the test is done. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'simulated-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A file's text, unpacked: packed bytes differ between builds of zlib, the text may not. */
export function textOf(folder: string, name: string): string {
  const bytes = readFileSync(join(folder, name));
  return (name.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8');
}

export type Row = Record<string, string>;

export function rowsOf(folder: string, name: string): Row[] {
  return parse<Row>(textOf(folder, name), { columns: true });
}

export function headerOf(folder: string, name: string): string {
  const text = textOf(folder, name);
  return text.slice(0, text.indexOf('\n'));
}

/** Every file's name with the hash of its text. */
export function hashes(folder: string): Record<string, string> {
  const names = readdirSync(folder).sort();
  return Object.fromEntries(
    names.map((name) => [name, createHash('sha256').update(textOf(folder, name)).digest('hex')]),
  );
}

export function crankFiles(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => name.startsWith('cranks-'))
    .sort();
}
