/** Somebody sets the fleet's own prices and codes, in chromium, against the server. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { App } from '../../api/app-context.ts';
import { buildApp } from '../../api/app.ts';
import { webFolder } from '../../api/config.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { NOW_MS } from '../support/fleet-app.ts';
import { twiceAssessed } from '../support/twice-assessed.ts';
import { startChromium, watchedPage, type WatchedPage } from './watched-browser.ts';

let browser: Browser;
let app: App;
let watched: WatchedPage;
let page: Page;
let origin: string;
const store = await twiceAssessed();

beforeAll(async () => {
  browser = await startChromium();
  app = await buildApp({ store, storeKind: 'own', webFolder: webFolder(), now: () => NOW_MS });
  origin = await app.listen({ host: '127.0.0.1', port: 0 });
});
afterAll(async () => {
  await browser?.close();
  await app?.close();
});
beforeEach(async () => {
  watched = await watchedPage(browser, origin);
  page = watched.page;
  await page.goto('/settings');
  await page.getByLabel('Road call').waitFor();
});
afterEach(async () => {
  await watched.context.close();
  expect(watched.problems).toEqual([]);
});

const save = () => page.getByRole('button', { name: /^Save/ });
const said = () => page.locator('.save [role=status]').innerText();

it('a price is set, told to be the fleet’s own, taken back', async () => {
  expect(await save().isDisabled()).toBe(true);
  await page.getByLabel('Road call').fill('600,50');
  await page.getByRole('button', { name: 'Save 1 change' }).click();
  await expect.poll(said).toBe('Saved. Costs count in the ranking at once.');
  expect((await store.settings()).roadCallMinor).toBe(60_050);
  const row = page.getByRole('row', { name: /Road call/ });
  expect(await row.innerText()).toContain('set by you');
  expect(await page.getByLabel('Road call').inputValue()).toBe('600.50');
  await page.getByRole('button', { name: 'Undo the last save' }).click();
  await expect.poll(said).toContain('Taken back');
  expect((await store.settings()).roadCallMinor).toBe(DEFAULT_SETTINGS.roadCallMinor);
});

it('what cannot be is refused beside its field, and nothing is sent', async () => {
  const field = page.getByLabel('Next visit where none is known');
  await field.fill('0');
  await page.getByText('A whole number from 1 to 1826.').waitFor();
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  expect(await save().isDisabled()).toBe(true);
  expect(await said()).toBe('1 value has to be put right first.');
  await page.getByRole('button', { name: /^Back to 90/ }).click();
  expect(await field.inputValue()).toBe('90');
});

it('what only the server can refuse is said, and what was typed stays', async () => {
  await page.getByLabel('Time zone of the fleet').fill('Mars/Base');
  await save().click();
  await expect.poll(said).toContain('time zone requires an IANA name, got Mars/Base');
  expect(await page.getByLabel('Time zone of the fleet').inputValue()).toBe('Mars/Base');
  expect(watched.problems.splice(0)).toEqual([expect.stringMatching(/400/), expect.stringMatching(/400/)]);
});

it('a code of the fleet is given the meaning that its records propose', async () => {
  const row = page.getByRole('row', { name: /^32/ });
  expect(await row.innerText()).toMatch(/battery\s+in 2 of 2/);
  await row.getByRole('button', { name: 'Take it for code 32' }).click();
  expect(await page.getByLabel('Meaning of code 32').inputValue()).toBe('battery');
  await page.getByRole('button', { name: 'Save 1 change' }).click();
  await expect.poll(said).toBe('Saved. Codes and time zone count with the next assess.');
  expect((await store.settings()).systemCodes).toEqual({ '32': 'battery' });
  await page.getByLabel('Meaning of code 32').selectOption('');
  await page.getByRole('button', { name: 'Save 1 change' }).click();
  await expect.poll(async () => (await store.settings()).systemCodes).toEqual({});
});
