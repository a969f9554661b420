/** WCAG 2.2 A and AA by axe, on every page, light and dark, and on what opens over them. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unitName } from './fixture-fleet.ts';
import { startFixtureServer, type FixtureServer } from './fixture-server.ts';
import { startChromium, watchedPage } from './watched-browser.ts';

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

let browser: Browser;
let server: FixtureServer;

beforeAll(async () => {
  browser = await startChromium();
  server = await startFixtureServer({ units: 30 });
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

const STATES: Record<string, (page: Page) => Promise<void>> = {
  'the list': async (page) => {
    await page.goto('/');
    await page.locator('tr[data-index="0"]').waitFor();
  },
  'the list with a row chosen and the deferral’s dialog': async (page) => {
    await page.goto('/');
    await page.locator('tr[data-index="0"]').waitFor();
    await page.keyboard.press('j');
    await page.keyboard.press('d');
    await page.locator('decision-dialog dialog').waitFor();
  },
  'the track record': async (page) => {
    await page.goto('/track-record');
    await page.locator('component-record vega-chart svg').first().waitFor();
  },
  'the imports with the reasons of a file': async (page) => {
    await page.goto('/imports');
    await page.getByRole('button', { name: 'Why of import 2' }).click();
    await page.getByText('1 row: system_volts requires 12 or 24').waitFor();
  },
  'the question before a file is taken back': async (page) => {
    await page.goto('/imports');
    await page.getByRole('button', { name: 'Take back cranks.csv' }).click();
    await page.getByRole('heading', { name: 'Take cranks.csv back?' }).waitFor();
  },
  'the settings': async (page) => {
    await page.goto('/settings');
    await page.getByLabel('Road call').fill('much');
    await page.getByText('An amount in USD').waitFor();
  },
  'a unit on a day that was not assessed': async (page) => {
    await page.goto(`/unit?${new URLSearchParams({ unit: unitName(0), 'as-of': '2025-12-01' })}`);
    await page.getByRole('heading', { name: '1 Dec 2025 has not been assessed' }).waitFor();
  },
  'a unit': async (page) => {
    await page.goto(`/unit?${new URLSearchParams({ unit: unitName(0) })}`);
    await page.locator('waveform-figure svg').waitFor();
  },
};

describe.each(['light', 'dark'] as const)('%s', (colorScheme) => {
  it.each(Object.keys(STATES))('%s has no violation', async (name) => {
    const { page, context } = await watchedPage(browser, server.origin, { colorScheme });
    await STATES[name]!(page);
    const { violations, passes } = await new AxeBuilder({ page }).withTags(TAGS).analyze();
    await context.close();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual([]);
    expect(passes.length).toBeGreaterThan(10);
  });
});

it.each(['the list', 'the imports with the reasons of a file'])('%s on a phone has no violation', async (name) => {
  const { page, context } = await watchedPage(browser, server.origin, { viewport: { width: 390, height: 800 } });
  await STATES[name]!(page);
  const { violations } = await new AxeBuilder({ page }).withTags(TAGS).analyze();
  await context.close();
  expect(violations.map(({ id }) => id)).toEqual([]);
});
