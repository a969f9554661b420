import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, expect, it } from 'vitest';

/** `npm start` after its build, on a store of one's own. */
const PROGRAM = join(import.meta.dirname, '../../.build/program');
const folder = mkdtempSync(join(tmpdir(), 'start-'));
const env = { ...process.env, XDG_DATA_HOME: folder, CRANKLEDGER_STORE: join(folder, 'own.sqlite') };
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it.each([
  [['--prot', '8080'], 'npm start requires --port or --host alone, got --prot (npm start)'],
  [['8080'], 'npm start requires --port or --host alone, got 8080 (npm start)'],
  [['--port', '99999'], 'port requires 0 to 65535, got 99999 (--port)'],
  [['--port'], 'port requires 0 to 65535, got true (--port)'],
])('%j is refused before anything is set up', (words, message) => {
  const ran = spawnSync(process.execPath, [join(PROGRAM, 'start.js'), ...words], { encoding: 'utf8', env });
  expect([ran.status, ran.stdout, ran.stderr]).toEqual([2, '', `${message}\n`]);
});

it('serves the user’s store, once anything is loaded into it, where it is told to', async () => {
  const register = join(folder, 'units.csv');
  writeFileSync(
    register,
    'unit,depot,class,system_volts,battery_count,battery_cca,cylinders\nT-014,North,van,12,1,700,4\n',
  );
  expect(spawnSync(process.execPath, [join(PROGRAM, 'cli.js'), 'load', register], { env }).status).toBe(0);
  const server = spawn(process.execPath, [join(PROGRAM, 'start.js'), '--port', '0', '--host', 'localhost'], { env });
  let said = '';
  server.stderr.on('data', (part: Buffer) => (said += part.toString()));
  const [address] = (await once(createInterface({ input: server.stdout }), 'line')) as [string];
  const answer = await fetch(`${address}/api/imports`);
  expect(await answer.json()).toMatchObject({ imports: [{ kind: 'units' }] });
  expect(said).toContain('showing your own fleet');
  server.kill('SIGTERM');
  expect(await once(server, 'exit')).toEqual([0, null]);
});
