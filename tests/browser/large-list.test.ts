/** A list of 10,000 rows: only the rows in view are in the page, and both ends are reached. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startFixtureServer, type FixtureServer } from './fixture-server.ts';
import { startChromium, watchedPage } from './watched-browser.ts';

let browser: Browser;
let server: FixtureServer;

beforeAll(async () => {
  browser = await startChromium();
  server = await startFixtureServer({ units: 5000 });
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

it('holds some forty rows at a time, from the first to the last', async () => {
  const { page, context, problems } = await watchedPage(browser, server.origin);
  const rows = page.locator('tr[data-index]');
  await page.goto('/');
  await page.locator('tr[data-index="0"]').waitFor();
  expect(await rows.count()).toBeLessThan(60);
  await page.keyboard.press('End');
  await page.locator('tr[data-index="9999"]').waitFor();
  expect(await rows.count()).toBeLessThan(60);
  await page.keyboard.press('Home');
  await page.locator('tr[data-index="0"]').waitFor();
  await context.close();
  expect(problems).toEqual([]);
});
