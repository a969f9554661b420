/** Two unit numbers that look like one, in chromium against the server: said to be two, they are not offered again. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { startChromium, watchedPage } from './watched-browser.ts';

let browser: Browser;
let fleet: ServedFleet;
let folder: string;

const REGISTER = `unit,depot,class,system_volts,battery_count,battery_cca,cylinders
T-014,North,van,12,1,700,4
T014,North,van,12,1,700,4
`;
const CRANKS = `unit,time,rest_volts,dip_volts,crank_seconds
T-014,2026-02-01T00:00:00Z,12.6,7.2,0.9
T014,2026-02-01T01:00:00Z,12.6,7.2,0.9
`;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'same-unit-'));
  await writeFile(join(folder, 'units.csv'), REGISTER);
  await writeFile(join(folder, 'cranks.csv'), CRANKS);
  [browser, fleet] = await Promise.all([startChromium(), serveFleet([folder])]);
});

afterAll(async () => {
  await browser?.close();
  await fleet?.close();
  await rm(folder, { recursive: true, force: true });
});

it('two units, said by key, stay apart on every page; the page of either asks again', async () => {
  const { page, context, problems } = await watchedPage(browser, fleet.origin);
  await page.goto('/');
  const apart = page.getByRole('button', { name: 'They are two units' });
  await apart.press('Enter');
  await page.getByText('T-014, T014 stay apart.').waitFor();
  await apart.waitFor({ state: 'detached' });
  await page.goto('/unit?unit=T014');
  await page.getByText('T-014 is another unit, as you said.').waitFor();
  expect(await apart.count()).toBe(0);
  await page.getByRole('button', { name: 'Ask again' }).press('Enter');
  await apart.waitFor();
  await context.close();
  expect(problems).toEqual([]);
});
