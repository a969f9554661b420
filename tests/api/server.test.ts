import { mkdtempSync, mkdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { listen } from '../../api/server.ts';
import { NOW_MS } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

const web = mkdtempSync(join(tmpdir(), 'web-'));
mkdirSync(join(web, 'assets'));
writeFileSync(join(web, 'index.html'), '<!doctype html><title>page</title>');
writeFileSync(join(web, 'assets/page-abc.js'), 'export {};');
const options = { store: memoryStore(), storeKind: 'own' as const, webFolder: web, now: () => NOW_MS };

it('another host is refused with the reason', async () => {
  for (const host of ['0.0.0.0', '::', '192.168.1.5', 'fleet.example'])
    await expect(listen(options, { host })).rejects.toThrow(
      `host requires a name of this machine (127.0.0.1, localhost, ::1) while there are no accounts, got ${host} (--host)`,
    );
});

it('a port that is taken is refused if it was asked for, else the next one is used', async () => {
  const first = await listen(options, {});
  const second = await listen(options, {});
  const port = Number(new URL(first.address).port);
  expect(Number(new URL(second.address).port)).toBeGreaterThan(port);
  await expect(listen(options, { port })).rejects.toThrow(`port requires one that is free, got ${port} (--port)`);
  await Promise.all([first.app.close(), second.app.close()]);
});

it('the pages are handed out: the document for every page, hashed files to keep', async () => {
  const { app, address } = await listen(options, { port: 0 });
  const document = await (await fetch(address)).text();
  expect(await (await fetch(`${address}/unit?unit=..%2F..%2Fx`)).text()).toBe(document);
  const script = await fetch(`${address}/assets/page-abc.js`);
  expect(script.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
  expect((await fetch(`${address}/..%2f..%2fpackage.json`)).status).toBeGreaterThanOrEqual(400);
  await app.close();
});

it('a mistyped address is answered by the document where a page is asked for, else by problem details', async () => {
  const { app, address } = await listen(options, { port: 0 });
  const typed = { headers: { accept: 'text/html,*/*;q=0.8' } };
  const page = await fetch(`${address}/unitt`, typed);
  expect([page.status, page.headers.get('content-type')]).toEqual([404, 'text/html; charset=utf-8']);
  expect(await page.text()).toBe(await (await fetch(address)).text());
  for (const other of [await fetch(`${address}/unitt`), await fetch(`${address}/api/unitt`, typed)]) {
    expect([other.status, other.headers.get('content-type')]).toEqual([404, 'application/problem+json']);
    expect(await other.json()).toMatchObject({ remedy: 'See /api/openapi.json.' });
  }
  await app.close();
});
