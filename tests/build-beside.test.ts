import { mkdtemp, readdir, readFile, realpath, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { build } from 'vite';
import { buildBeside } from '../vite.config.ts';

const DAY_MS = 24 * 3600 * 1000;
const FROM_MS = Date.parse('2026-03-01T12:00:00Z');

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'build-'));
  await writeFile(join(folder, 'package.json'), '{ "type": "module" }');
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function built(text: string, day: number): Promise<string> {
  const entry = join(folder, 'said.ts');
  await writeFile(entry, text);
  const buildFolder = join(folder, '.build');
  await build({
    configFile: false,
    root: folder,
    logLevel: 'silent',
    plugins: [buildBeside('program', { buildFolder, nowMs: FROM_MS + day * DAY_MS })],
    build: { ssr: true, rolldownOptions: { input: { said: entry } } },
  });
  const path = await realpath(join(buildFolder, 'program'));
  await utimes(path, new Date(FROM_MS + day * DAY_MS), new Date(FROM_MS + day * DAY_MS));
  return path;
}
const said = async (path: string) => /"(\w+)"/.exec(await readFile(join(path, 'said.js'), 'utf8'))?.[1];

it('a build takes no file from what is running, a failed one changes nothing, and old ones go', async () => {
  const first = await built(`console.log("first");`, 0);
  expect(await said(first)).toBe('first');
  const second = await built(`console.log("second");`, 0.5);
  expect(second).not.toBe(first);
  expect([await said(join(folder, '.build/program')), await said(first)]).toEqual(['second', 'first']);

  await expect(built('console.log(', 0.6)).rejects.toThrow();
  expect(await said(join(folder, '.build/program'))).toBe('second');

  for (let day = 2; day < 8; day++) await built(`console.log("day${day}");`, day);
  const left = (await readdir(join(folder, '.build/builds'))).map((name) => name.slice('program-'.length, 18));
  expect(left).toEqual(['2026-03-04', '2026-03-05', '2026-03-06', '2026-03-07', '2026-03-08']);
});
