/** A unit's page moved back in time, in chromium, against the server. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { App } from '../../api/app-context.ts';
import { buildApp } from '../../api/app.ts';
import type { StartCommand } from '../../api/background-runs.ts';
import { webFolder } from '../../api/config.ts';
import { asOf } from '../../etl/model/time.ts';
import { NOW_MS } from '../support/fleet-app.ts';
import { IN_SERVICE, SAID, twiceAssessed } from '../support/twice-assessed.ts';
import { startChromium, watchedPage, type WatchedPage } from './watched-browser.ts';

let browser: Browser;
let app: App;
let origin: string;
let watched: WatchedPage;
let page: Page;
const store = await twiceAssessed();

/** As the command would: the day's assessment is in the store once it has ended. */
const startCommand: StartCommand = async (words, onWords) => {
  onWords('assessing: 40 %');
  const day = asOf(words.at(-1)!);
  await store.saveAssessment({ asOf: day, lives: [IN_SERVICE], trends: [], outlooks: [SAID], fleet: null }, 4, '');
  return 0;
};

beforeAll(async () => {
  browser = await startChromium();
  app = await buildApp({
    store,
    storeKind: 'own',
    storeOption: " --store '/data/my fleet.sqlite'",
    startCommand,
    webFolder: webFolder(),
    now: () => NOW_MS,
  });
  origin = await app.listen({ host: '127.0.0.1', port: 0 });
});
afterAll(async () => {
  await browser?.close();
  await app?.close();
});
beforeEach(async () => {
  watched = await watchedPage(browser, origin);
  page = watched.page;
});
afterEach(async () => {
  await watched.context.close();
  expect(watched.problems).toEqual([]);
});

const address = () => new URL(page.url()).search;
const day = () => page.getByRole('combobox', { name: 'As known on' });

it('goes back by button and key, and shows beside what was said what happened since', async () => {
  await page.goto('/unit?unit=U1');
  await page.getByRole('button', { name: '← Earlier' }).click();
  await expect.poll(address).toBe('?unit=U1&as-of=2026-01-10');
  const verdict = page.locator('component-verdict');
  await expect.poll(() => verdict.locator('.since').count()).toBe(1);
  expect((await verdict.locator('.since').innerText()).replaceAll('\u00a0', ' ')).toBe(
    'What happened since: Failed on 19 Feb 2026 (work order W/9), 40 days later, inside the window. ' +
      'The chance of failing by then had been put at 33 %.',
  );
  expect(await verdict.locator('section').innerText()).toContain('One in ten like it has failed by 21 Jan 2026');
  expect(await verdict.locator('svg path.end').count()).toBe(1);
  expect(await page.getByText('what was known then and nothing later').count()).toBe(1);
  expect(await page.getByRole('row', { name: /W\/9/ }).count()).toBe(0);

  await page.keyboard.press('ArrowRight');
  await expect.poll(address).toBe('?unit=U1');
  await expect.poll(() => page.getByRole('row', { name: /W\/9/ }).count()).toBe(1);
  expect(await verdict.locator('.since').count()).toBe(0);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(address).toBe('?unit=U1&as-of=2026-01-10');
  await page.getByRole('link', { name: 'Back to the newest' }).click();
  await expect.poll(address).toBe('?unit=U1');
});

it('the arrow keys stay with a field that has the focus', async () => {
  await page.goto('/unit?unit=U1');
  await day().focus();
  await page.keyboard.press('ArrowLeft');
  await page.getByLabel('another day').focus();
  await page.keyboard.press('ArrowLeft');
  await page.waitForTimeout(200);
  expect(address()).toBe('?unit=U1');
});

it('stepping through days does not stand between the unit and the list', async () => {
  await page.goto('/?component=battery');
  await page.locator('tr[data-index="0"] .unit a').click();
  await page.getByRole('button', { name: '← Earlier' }).click();
  await expect.poll(address).toContain('as-of=2026-01-10');
  await page.getByRole('link', { name: 'Back to the list' }).click();
  await expect.poll(address).toBe('?component=battery');
});

it('a day that was not assessed says how it can be, is worked out at a press, and is shown then', async () => {
  await page.goto('/unit?unit=U1');
  await page.getByLabel('another day').fill('2026-02-01');
  await page.getByRole('button', { name: 'Show' }).click();
  await page.getByRole('heading', { name: '1 Feb 2026 has not been assessed' }).waitFor();
  expect(address()).toBe('?unit=U1&as-of=2026-02-01');
  await page
    .getByText("npm run -s cli -- assess --as-of 2026-02-01 --store '/data/my fleet.sqlite'", { exact: true })
    .waitFor();
  expect(await page.locator('past-forecasts tbody tr').count()).toBe(2);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(address).toBe('?unit=U1&as-of=2026-01-10');
  await page.goto('/unit?unit=U1&as-of=2026-02-01');
  await page.getByRole('button', { name: 'Work it out now' }).click();
  await expect.poll(() => day().inputValue()).toBe('2026-02-01');
  await expect.poll(() => page.locator('component-verdict .since').count()).toBe(1);
  expect(await page.getByText('18 days later').count()).toBe(1);
});

it('a day after all data is not offered', async () => {
  await page.goto('/unit?unit=U1&as-of=2027-01-01');
  await page.getByRole('heading', { name: '1 Jan 2027 lies after all data' }).waitFor();
  expect(await page.getByRole('button', { name: 'Work it out now' }).count()).toBe(0);
});

it('each forecast of the backtest leads to its day', async () => {
  await page.goto('/unit?unit=U1');
  const first = page.locator('past-forecasts tbody tr').first();
  expect((await first.innerText()).replaceAll('\u00a0', ' ')).toMatch(/1 Sept 2025\s+Battery\s+30 %/);
  await first.getByRole('link').click();
  await page.getByRole('heading', { name: '1 Sept 2025 has not been assessed' }).waitFor();
});
