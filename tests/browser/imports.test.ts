/** What was loaded, in chromium, against the server: why rows were set aside, and a file taken back. */
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { awkwardFolder } from './awkward-folder.ts';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { startChromium, watchedPage } from './watched-browser.ts';

let browser: Browser;
let fleet: ServedFleet;
let empty: ServedFleet;
let folder: string;

const CODES = 'unit,time,code\nGHOST 1,2026-10-01T08:00:00Z,P0562\n<b>x</b>,yesterday,P0562\n../../x,,P0562\n';

beforeAll(async () => {
  folder = await awkwardFolder();
  await writeFile(join(folder, 'codes.csv'), CODES);
  await writeFile(join(folder, 'hollow.csv'), '');
  browser = await startChromium();
  [fleet, empty] = await Promise.all([
    serveFleet([folder], { assessed: false, inPart: true }),
    serveFleet([], { assessed: false }),
  ]);
});

afterAll(async () => {
  await browser?.close();
  await fleet?.close();
  await empty?.close();
  await rm(folder, { recursive: true, force: true });
});

it('says what was loaded, set aside and why, what waits and what could not be read', async () => {
  const { page, context, problems } = await watchedPage(browser, fleet.origin);
  await page.goto('/');
  await page.getByRole('link', { name: 'Imports' }).click();
  await page.getByRole('heading', { name: '3 files loaded: 486 rows taken, 2 rows set aside.' }).waitFor();
  const listed = await page.getByRole('listitem').allInnerTexts();
  expect(listed).toContain('GHOST 1 1 row');
  expect(listed.join('\n')).toMatch(/hollow\.csv: file requires a header row, got an empty file$/m);

  await page.getByLabel('only with rows set aside').press('Space');
  await expect.poll(() => page.getByRole('row').count()).toBe(2);
  expect(new URL(page.url()).search).toBe('?rows=set-aside');
  const why = page.getByRole('button', { name: /^Why of import/ });
  await why.press('Enter');
  const reasons = page.locator('td.reasons');
  await reasons.waitFor();
  expect(await reasons.innerText()).toContain('line 3: yesterday');
  expect(await page.getByRole('button', { name: /^Hide of import/ }).getAttribute('aria-expanded')).toBe('true');
  await page.getByRole('button', { name: /^Hide of import/ }).press('Enter');
  await reasons.waitFor({ state: 'detached' });
  await context.close();
  expect(problems).toEqual([]);
});

it('stands on a phone of 320 px and on paper without being cut', async () => {
  const { page, context } = await watchedPage(browser, fleet.origin, { viewport: { width: 320, height: 700 } });
  await page.goto('/imports');
  await page.locator('import-table tbody tr').first().waitFor();
  const cut = () => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  const cutTable = () => page.locator('import-table .scroll').evaluate((box) => box.scrollWidth - box.clientWidth);
  expect([await cut(), await cutTable()]).toEqual([0, 0]);
  await page.emulateMedia({ media: 'print' });
  expect(await page.getByRole('button', { name: /^Take back/ }).count()).toBe(0);
  await context.close();
});

it('takes a file back once that is confirmed, and not before', async () => {
  const { page, context, problems } = await watchedPage(browser, fleet.origin);
  await page.goto('/imports');
  const takeBack = page.getByRole('button', { name: 'Take back codes.csv' });
  await takeBack.click();
  await page.getByRole('heading', { name: 'Take codes.csv back?' }).waitFor();
  await page.keyboard.press('Escape');
  expect(await takeBack.count()).toBe(1);
  await takeBack.click();
  await page.getByRole('button', { name: 'Take it back' }).click();
  await page.getByText('codes.csv is taken back. The list follows with the next assessment.').waitFor();
  await page.getByRole('heading', { name: '2 files loaded: 485 rows taken, none set aside.' }).waitFor();
  expect([await takeBack.count(), await page.getByText('GHOST 1').count()]).toEqual([0, 0]);
  await context.close();
  expect(problems).toEqual([]);
});

it('an empty store says what to load', async () => {
  const { page, context, problems } = await watchedPage(browser, empty.origin);
  await page.goto('/imports');
  await page.getByRole('heading', { name: 'No fleet is loaded yet' }).waitFor();
  await context.close();
  expect(problems).toEqual([]);
});
