/** From loaded data to a ranked list, and from a list that lags behind to one that does not, at the press of a button. */
import { rm } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { awkwardFolder } from './awkward-folder.ts';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { startChromium, watchedPage } from './watched-browser.ts';

let browser: Browser;
let fleet: ServedFleet;
let folder: string;

beforeAll(async () => {
  folder = await awkwardFolder();
  browser = await startChromium();
  fleet = await serveFleet([folder], { assessed: false });
});

afterAll(async () => {
  await browser?.close();
  await fleet?.close();
  await rm(folder, { recursive: true, force: true });
});

it('the list is worked out where data are loaded, and again where a setting has changed since', async () => {
  const { page, context, problems } = await watchedPage(browser, fleet.origin);
  const workItOut = page.getByRole('button', { name: 'Work it out now' });
  const lag = page.getByText('Data or settings have changed since.');
  await page.goto('/');
  await page.getByRole('heading', { name: 'Data are loaded, but nothing has been assessed yet' }).waitFor();
  await workItOut.click();
  await page.locator('tr[data-index="0"]').waitFor();
  expect(await lag.count()).toBe(0);

  await page.goto('/settings');
  await page.getByLabel('Time zone of the fleet').fill('Europe/Berlin');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByRole('link', { name: 'Priority' }).click();
  await lag.waitFor();
  await workItOut.click();
  await lag.waitFor({ state: 'detached' });
  expect(await page.locator('tr[data-index="0"]').count()).toBe(1);
  await context.close();
  expect(problems).toEqual([]);
});
