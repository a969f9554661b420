/** The sample fleet and some awkwardly named units behind the real server, and a fresh page of it for every test. */
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import type { Ranking } from '../../api/contract/ranking.ts';
import type { UnitView } from '../../api/contract/unit.ts';
import { ROOT } from '../support/source-files.ts';
import { awkwardFolder } from './awkward-folder.ts';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { startChromium, watchedPage, type WatchedPage } from './watched-browser.ts';

export type SampleVisit = {
  browser: Browser;
  fleet: ServedFleet;
  ranking: Ranking;
  watched: WatchedPage;
  page: Page;
};

/** Filled before each test; after each the page has to have seen nothing that should not have happened. */
export function visitSampleFleet(): SampleVisit {
  const visit = {} as SampleVisit;
  let folder: string;

  beforeAll(async () => {
    folder = await awkwardFolder();
    visit.browser = await startChromium();
    visit.fleet = await serveFleet([join(ROOT, 'sample-data/fleet'), folder]);
    visit.ranking = (await (await fetch(`${visit.fleet.origin}/api/ranking`)).json()) as Ranking;
  });

  afterAll(async () => {
    await visit.browser?.close();
    await visit.fleet?.close();
    await rm(folder, { recursive: true, force: true });
  });

  beforeEach(async () => {
    visit.watched = await watchedPage(visit.browser, visit.fleet.origin);
    visit.page = visit.watched.page;
  });

  afterEach(async () => {
    await visit.watched.context.close();
    expect(visit.watched.problems).toEqual([]);
  });

  return visit;
}

export const listRows = (page: Page) => page.locator('ranking-table tbody tr[data-index]');
export const firstRow = (page: Page) => page.locator('tr[data-index="0"]');
export const choice = (page: Page, name: string) => page.getByRole('combobox', { name, exact: true });

export async function openList(page: Page, search = ''): Promise<void> {
  await page.goto(`/${search}`);
  await firstRow(page).waitFor();
}

/** Each chart's number of drawn marks, once all charts stand. */
export async function drawnMarks(page: Page): Promise<number[]> {
  await page.waitForFunction(() => {
    const unit = document.querySelector('crank-ledger')?.shadowRoot?.querySelector('unit-page')?.shadowRoot;
    const hosts = [...(unit?.querySelectorAll('vega-chart, indicator-figure, waveform-figure') ?? [])].map((host) =>
      host.tagName === 'VEGA-CHART' ? host : host.shadowRoot?.querySelector('vega-chart'),
    );
    return hosts.length > 0 && hosts.every((host) => host?.shadowRoot?.querySelector('svg') !== null);
  });
  const found: number[] = [];
  for (const chart of await page.locator('unit-page vega-chart').all())
    found.push(await chart.locator('svg path').count());
  return found;
}

export async function unitWithWaveforms({ ranking, fleet }: SampleVisit): Promise<UnitView> {
  for (const { unit } of ranking.rows) {
    const view = (await (await fetch(`${fleet.origin}/api/units/${encodeURIComponent(unit)}`)).json()) as UnitView;
    const position = view.waveforms[0]?.position;
    if (view.waveforms.filter((crank) => crank.position === position).length > 2) return view;
  }
  throw new Error('the sample fleet requires a unit with three kept waveforms, got none');
}
