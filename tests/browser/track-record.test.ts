/** The track record in chromium: what it says first, its pictures, its filters in the address, and where it is empty. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { HOSTILE_UNIT } from './fixture-fleet.ts';
import { startFixtureServer, type FixtureServer } from './fixture-server.ts';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { startChromium, watchedPage, type WatchedPage } from './watched-browser.ts';

let browser: Browser;
let server: FixtureServer;
let empty: ServedFleet;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  browser = await startChromium();
  server = await startFixtureServer({ units: 10 });
  empty = await serveFleet([]);
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
  await empty?.close();
});

beforeEach(async () => {
  watched = await watchedPage(browser, server.origin);
  page = watched.page;
});

afterEach(async () => {
  await watched.context.close();
  expect(watched.problems).toEqual([]);
});

const rows = () => page.locator('forecast-list tbody tr');
const choice = (name: string) => page.getByRole('combobox', { name, exact: true });
const open = async (search = '') => {
  await page.goto(`/track-record${search}`);
  await rows().first().waitFor();
};

describe('the track record', () => {
  it('is reached from the list by its link, and says in one sentence how many failures were called', async () => {
    await page.goto('/');
    await page.getByRole('link', { name: 'Track record' }).click();
    await expect
      .poll(() => page.locator('track-record-page h1').textContent())
      .toMatch(/^\s*Of \d+ failures in the invented sample fleet, \d+ had been called\s+beforehand,/);
    expect(new URL(page.url()).pathname).toBe('/track-record');
    expect(await page.getByRole('link', { name: 'Track record' }).getAttribute('aria-current')).toBe('page');
  });

  it('shows the forecast beside its baselines with intervals, and the verdict in words', async () => {
    await open();
    const battery = page.locator('component-record').first();
    const beside = battery.getByRole('table', {
      name: 'Battery: this forecast beside what anyone could do without it',
    });
    await expect.poll(() => beside.locator('tbody tr').count()).toBe(5);
    expect(await beside.locator('tbody tr').first().textContent()).toMatch(
      /This forecast\s+0\.\d\d \(0\.\d\d to 0\.\d\d\)/,
    );
    expect(await battery.locator('li').first().textContent()).toContain('Which fails first:');
    const wrong = battery.getByRole('table', { name: 'Battery: the scores if some records named the wrong part' });
    expect(await wrong.getByRole('rowheader').allTextContents()).toEqual([
      'none: as recorded',
      '10\u00a0%',
      '20\u00a0%',
    ]);
    const starter = page.locator('component-record').nth(1);
    expect(await starter.locator('li').allTextContents()).toEqual([
      'No starter failed within a horizon: there is nothing to judge.',
    ]);
  });

  it('draws reliability, the window’s coverage, hits, misses and needless pulls', async () => {
    await open();
    await expect.poll(() => page.locator('component-record vega-chart svg').count()).toBe(5);
    const label = await page.locator('component-record [role=img]').first().getAttribute('aria-label');
    expect(label).toMatch(/^Battery: forecast .*, came /);
  });

  it('keeps its filters in the address, and going back takes them back', async () => {
    await open();
    await choice('What happened').selectOption('failed');
    await expect.poll(() => new URL(page.url()).search).toBe('?outcome=failed');
    await expect.poll(() => rows().locator('td.failed').count()).toBeGreaterThan(0);
    await expect.poll(async () => (await rows().count()) - (await rows().locator('td.failed').count())).toBe(0);
    await choice('Depot').selectOption('Tarn Cross');
    await expect.poll(() => new URL(page.url()).search).toBe('?depot=Tarn+Cross&outcome=failed');
    expect(await page.getByRole('link', { name: 'Save this list as CSV' }).getAttribute('href')).toBe(
      '/api/track-record?depot=Tarn+Cross&outcome=failed&format=csv',
    );
    await page.goBack();
    await expect.poll(() => choice('Depot').inputValue()).toBe('');
    await open('?component=battery');
    expect(await choice('Component').inputValue()).toBe('battery');
  });

  it('turns its pages by keyboard', async () => {
    await open();
    const first = await rows().first().textContent();
    await page.getByRole('button', { name: 'Further down the list' }).focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.getByText(/^101 to \d+ of \d+ forecasts$/).count()).toBe(1);
    expect(await rows().first().textContent()).not.toBe(first);
  });

  it('shows a unit number as text and leads to its page', async () => {
    await open('?offset=0');
    for (let turn = 0; turn < 6 && (await page.getByRole('link', { name: HOSTILE_UNIT }).count()) === 0; turn++) {
      await page.getByRole('button', { name: 'Further down the list' }).click();
      await expect.poll(() => page.getByText(new RegExp(`^${turn + 1}01 to`)).count()).toBe(1);
    }
    const link = page.getByRole('link', { name: HOSTILE_UNIT }).first();
    const href = new URL((await link.getAttribute('href')) ?? '', page.url());
    expect(href.searchParams.get('unit')).toBe(HOSTILE_UNIT);
    // It leads to the page as it was on the day of the forecast.
    expect(href.searchParams.get('as-of')).toMatch(/^2025-0[6-9]-01$/);
  });

  it('fits a phone: nothing but its tables is wider than the screen', async () => {
    await page.setViewportSize({ width: 320, height: 700 });
    await open();
    await page.locator('component-record vega-chart svg').first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
  });
});

it('where no backtest was run says which command to run', async () => {
  const asked = await watchedPage(browser, server.origin);
  const nothing = { state: 'not_walked', scores: [], months: [], depots: [], forecasts: [], forecastsInAll: 0 };
  await asked.page.route('**/api/track-record*', (route) => route.fulfill({ json: nothing }));
  await asked.page.goto('/track-record');
  await asked.page.getByText('npm run -s cli -- backtest').waitFor();
  await asked.context.close();
  expect(asked.problems).toEqual([]);
});

it('without data the real server says how to begin', async () => {
  const real = await watchedPage(browser, empty.origin);
  await real.page.goto('/track-record');
  await real.page.getByRole('heading', { name: 'No fleet is loaded yet' }).waitFor();
  await real.context.close();
  expect(real.problems).toEqual([]);
});
