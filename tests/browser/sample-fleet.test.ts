/** A planner's morning in chromium, on the sample fleet and some awkwardly named units, against the real server. */
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Ranking } from '../../api/contract/ranking.ts';
import type { UnitView } from '../../api/contract/unit.ts';
import { unbroken, withDates } from '../../web/format.ts';
import { ROOT } from '../support/source-files.ts';
import { AWKWARD_UNITS, LONG_UNIT, SILENT_UNIT, awkwardFolder } from './awkward-folder.ts';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { startChromium, watchedPage, type WatchedPage } from './watched-browser.ts';

let browser: Browser;
let fleet: ServedFleet;
let empty: ServedFleet;
let folder: string;
let ranking: Ranking;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  folder = await awkwardFolder();
  browser = await startChromium();
  fleet = await serveFleet([join(ROOT, 'sample-data/fleet'), folder]);
  empty = await serveFleet([]);
  ranking = (await (await fetch(`${fleet.origin}/api/ranking`)).json()) as Ranking;
});

afterAll(async () => {
  await browser?.close();
  await fleet?.close();
  await empty?.close();
  await rm(folder, { recursive: true, force: true });
});

beforeEach(async () => {
  watched = await watchedPage(browser, fleet.origin);
  page = watched.page;
});

afterEach(async () => {
  await watched.context.close();
  expect(watched.problems).toEqual([]);
});

const rows = () => page.locator('ranking-table tbody tr[data-index]');
const firstRow = () => page.locator('tr[data-index="0"]');
const choice = (name: string) => page.getByRole('combobox', { name, exact: true });
const charts = () => page.locator('unit-page vega-chart');

async function openList(search = ''): Promise<void> {
  await page.goto(`/${search}`);
  await firstRow().waitFor();
}

/** Each chart's number of drawn marks, once all charts stand. */
async function drawnMarks(): Promise<number[]> {
  await page.waitForFunction(() => {
    const unit = document.querySelector('crank-ledger')?.shadowRoot?.querySelector('unit-page')?.shadowRoot;
    const hosts = [...(unit?.querySelectorAll('vega-chart, indicator-figure, waveform-figure') ?? [])].map((host) =>
      host.tagName === 'VEGA-CHART' ? host : host.shadowRoot?.querySelector('vega-chart'),
    );
    return hosts.length > 0 && hosts.every((host) => host?.shadowRoot?.querySelector('svg') !== null);
  });
  const found: number[] = [];
  for (const chart of await charts().all()) found.push(await chart.locator('svg path').count());
  return found;
}

describe('from the list to a unit and back', () => {
  it('the list stands ranked with its windows drawn; its first unit opens with all its charts; back keeps the filters', async () => {
    await openList('?component=battery&months=24');
    const top = ranking.rows.find((row) => row.component === 'battery')!;
    await expect.poll(() => firstRow().locator('.unit').innerText()).toContain(top.unit);
    expect(await firstRow().locator('svg.window rect.bar').getAttribute('width')).toMatch(/^\d/);
    expect(await firstRow().locator('td.why').innerText()).toBe(unbroken(top.why));
    expect(await firstRow().locator('td.why').getAttribute('title')).toBe(withDates(top.reason));
    // Nothing was assessed before: no rank is new, risen or fallen.
    expect(ranking.previousAsOf).toBeNull();
    expect(await rows().locator('td.rank').first().innerText()).toBe(String(top.rank));

    await firstRow().locator('.unit a').click();
    await page.getByRole('heading', { level: 1, name: top.unit }).waitFor();
    const marks = await drawnMarks();
    expect(marks.length).toBeGreaterThan(4);
    expect(Math.min(...marks)).toBeGreaterThan(2);

    await page.getByRole('link', { name: 'Back to the list' }).click();
    await firstRow().waitFor();
    expect(new URL(page.url()).search).toBe('?component=battery&months=24');
    expect(await choice('Component').inputValue()).toBe('battery');
  });

  it('the newest waveform lies over an early one, and another can be chosen', async () => {
    const unit = await unitWithWaveforms();
    await page.goto(`/unit?${new URLSearchParams({ unit: unit.unit, position: unit.waveforms[0]!.position })}`);
    const figure = page.locator('waveform-figure');
    const lines = figure.locator('svg .mark-line path');
    await expect.poll(() => lines.count(), { timeout: 10_000 }).toBe(2);
    const before = await lines.first().getAttribute('d');
    const over = figure.getByRole('combobox', { name: /^over/ });
    await over.selectOption({ index: 1 });
    await expect.poll(() => lines.first().getAttribute('d')).not.toBe(before);
    expect(await lines.count()).toBe(2);
  });

  it.each(AWKWARD_UNITS)('the unit %s is shown as text and can be opened', async (unit) => {
    await openList(`?${new URLSearchParams({ text: unit })}`);
    const link = firstRow().locator('.unit a');
    expect(await link.innerText()).toBe(unit);
    await link.click();
    expect(await page.locator('unit-page h1').innerText()).toBe(unit);
    expect(await page.getByText('120 cranks').count()).toBe(1);
    await page.reload();
    await page.locator('unit-page h1').waitFor();
    expect(await page.locator('unit-page h1').innerText()).toBe(unit);
    expect(Math.min(...(await drawnMarks()))).toBeGreaterThan(1);
  });
});

it('a unit without a log says that none is loaded, and blames no logger for it', async () => {
  await page.goto(`/unit?${new URLSearchParams({ unit: SILENT_UNIT })}`);
  await page.getByText('No crank is loaded.').waitFor();
  expect(await page.getByText('No crank of this unit is loaded').count()).toBe(2);
  expect(await page.getByText(/logger|this unit’s log/).count()).toBe(0);
  expect(await page.locator('dl.register').innerText()).toContain('6 May 2023');
});

it('a unit of two engines is told what to measure on the engine that is shown, not on the other', async () => {
  const due = ranking.rows.find(({ position, action }) => position !== '' && action !== 'leave')!;
  const other = ranking.rows.find(({ unit, position }) => unit === due.unit && position !== due.position)!;
  const section = page.locator('section').filter({ has: page.getByRole('heading', { name: 'What to measure next' }) });
  const words = async (position: string) => {
    await page.goto(`/unit?${new URLSearchParams({ unit: due.unit, position })}`);
    return section.innerText();
  };
  expect(await words(due.position)).toContain(`the ${due.position} ${due.component} is`);
  expect(await words(other.position)).not.toContain(`the ${due.position} `);
});

async function unitWithWaveforms(): Promise<UnitView> {
  for (const { unit } of ranking.rows) {
    const view = (await (await fetch(`${fleet.origin}/api/units/${encodeURIComponent(unit)}`)).json()) as UnitView;
    const position = view.waveforms[0]?.position;
    if (view.waveforms.filter((crank) => crank.position === position).length > 2) return view;
  }
  throw new Error('the sample fleet requires a unit with three kept waveforms, got none');
}

describe('filters', () => {
  it('stand in the address, narrow the list, and are taken from the address', async () => {
    await openList();
    const { depot } = ranking.rows[0]!;
    await choice('Depot').selectOption(depot);
    await expect.poll(() => new URL(page.url()).searchParams.get('depot')).toBe(depot);
    const expected = ranking.rows.filter((row) => row.depot === depot).length;
    await page.getByText(`${expected} of ${ranking.rows.length} components`).waitFor();
    await page.goto('/?sort=-unit&component=starter');
    await firstRow().waitFor();
    expect(await page.locator('th.unit[aria-sort]').first().getAttribute('aria-sort')).toBe('descending');
    await page.getByRole('button', { name: 'Show all' }).click();
    await page.getByText(`${ranking.rows.length} components`, { exact: true }).waitFor();
  });

  it('what is exported is what is seen, in its order', async () => {
    const { depot } = ranking.rows[0]!;
    await openList(`?${new URLSearchParams({ depot, sort: '-unit' })}`);
    const units = await rows().locator('.unit a').allInnerTexts();
    const coming = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export these as CSV' }).click();
    const text = await readFile(await (await coming).path(), 'utf8');
    const lines = text.trimEnd().split('\r\n');
    expect(lines.length - 1).toBe(ranking.rows.filter((row) => row.depot === depot).length);
    const column = lines[0]!.split(',').indexOf('unit');
    expect(lines.slice(1, 9).map((line) => line.split(',')[column])).toEqual(units.slice(0, 8));
    await page.getByRole('button', { name: 'Show all' }).click();
    await page.getByRole('link', { name: 'Export CSV' }).waitFor();
  });

  it('on a phone they fold away so that the list begins on the first screen, and say how many are set', async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await openList('?component=battery');
    expect((await firstRow().boundingBox())!.y).toBeLessThan(844 * 0.6);
    expect(await choice('Depot').isVisible()).toBe(false);
    await page.getByRole('button', { name: 'Filter and order (1)' }).click();
    expect(await choice('Component').inputValue()).toBe('battery');
    await choice('Order').selectOption('-cost');
    await expect.poll(() => new URL(page.url()).searchParams.get('sort')).toBe('-cost');
  });

  it('a search without a match says so', async () => {
    await openList();
    await page.keyboard.press('/');
    await page.keyboard.type('no such unit');
    await page.getByText('No component matches these filters.').waitFor();
    expect(await rows().count()).toBe(0);
  });
});

describe('decisions', () => {
  // A decision changes the rank: the job is kept in view by a search for its unit, one that has a single engine.
  const top = () => ranking.rows.find(({ position }) => position === '')!;
  const job = () =>
    page.locator('tr[data-index]').filter({ hasText: top().component === 'battery' ? 'Battery' : 'Starter' });
  const words = () => job().locator('td.decide').innerText();
  const search = () => `?${new URLSearchParams({ text: top().unit, component: top().component })}`;

  it('a job is booked by keys and the booking taken back', async () => {
    await openList(search());
    await page.keyboard.press('j');
    await page.keyboard.press('b');
    const dialog = page.locator('decision-dialog dialog');
    await dialog.waitFor();
    expect((await dialog.getByLabel('Day of the job').inputValue()) >= new Date().toISOString().slice(0, 10)).toBe(
      true,
    );
    await dialog.getByLabel('Day of the job').fill('2026-11-05');
    await dialog.getByRole('button', { name: 'Book' }).click();
    await expect.poll(words).toContain('Booked 5 Nov');
    await page.getByRole('status').filter({ hasText: 'booked for 5 Nov 2026' }).waitFor();
    await page.reload();
    await expect.poll(words).toContain('Booked 5 Nov');
    await job().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(words).toMatch(/Book\s+Defer/);
  });

  it('a job is deferred with a reason, not without one, and the deferral taken back', async () => {
    await openList(search());
    await job()
      .getByRole('button', { name: /^Defer/ })
      .click();
    const dialog = page.locator('decision-dialog dialog');
    await dialog.getByRole('button', { name: 'Defer' }).click();
    expect(await dialog.isVisible()).toBe(true);
    await dialog.getByLabel('Reason').fill('Unit is sold in spring');
    await dialog.getByRole('button', { name: 'Defer' }).click();
    await expect.poll(words).toContain('Deferred to');
    expect(await job().locator('.decided').getAttribute('title')).toBe('Unit is sold in spring');
    await page.keyboard.press('u');
    await expect.poll(words).toMatch(/Book\s+Defer/);
  });
});

describe('decisions on a unit’s own page', () => {
  it('a job is booked there, stands on the list, and is taken back; not on a day of the past', async () => {
    const top = ranking.rows[0]!;
    const address = `/unit?${new URLSearchParams({ unit: top.unit, position: top.position })}`;
    await page.goto(address);
    const verdict = page.locator('component-verdict').filter({ has: page.locator(`h2 .component.${top.component}`) });
    await verdict.getByRole('button', { name: /^Book/ }).click();
    const dialog = page.locator('decision-dialog dialog');
    await dialog.getByLabel('Day of the job').fill('2026-11-05');
    await dialog.getByRole('button', { name: 'Book' }).click();
    await verdict.getByText('Booked for 5 Nov 2026').waitFor();
    await page.getByRole('status').filter({ hasText: 'booked for 5 Nov 2026' }).waitFor();
    await openList(`?${new URLSearchParams({ text: top.unit, decision: 'booked' })}`);
    expect(await rows().count()).toBe(1);
    await page.goto(address);
    await verdict.getByRole('button', { name: /^Undo/ }).click();
    await verdict.getByRole('button', { name: /^Book/ }).waitFor();
  });
});

describe('keyboard', () => {
  const active = () => page.locator('tr[aria-current="true"]').getAttribute('data-index');

  it('j and k move, Enter opens, / searches, ? lists the keys, d and Escape open and close', async () => {
    await openList();
    for (const key of ['j', 'j', 'j', 'k']) await page.keyboard.press(key);
    await expect.poll(active).toBe('1');
    await page.keyboard.press('?');
    await page.getByRole('heading', { name: 'Keys' }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('d');
    await page.getByRole('heading', { name: /^Defer the/ }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('k');
    await expect.poll(active).toBe('0');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: ranking.rows[0]!.unit }).waitFor();
  });

  it('End goes to the last of the list and Home back to its first', async () => {
    await openList();
    await page.keyboard.press('End');
    const last = String(ranking.rows.length - 1);
    await expect.poll(active).toBe(last);
    expect(await page.locator(`tr[data-index="${last}"]`).isVisible()).toBe(true);
    await page.keyboard.press('Home');
    await expect.poll(active).toBe('0');
  });
});

it('the watch itself sees a warning, script from text and a request to elsewhere', async () => {
  await openList();
  await page.evaluate(`console.warn('seen')`);
  await page.evaluate(() => {
    const script = document.createElement('script');
    script.textContent = 'document.title = "run"';
    document.head.append(script);
    void fetch('http://127.0.0.1:9/elsewhere').catch(() => undefined);
  });
  await expect.poll(() => watched.problems.join('\n')).toMatch(/connect-src/);
  const seen = watched.problems.splice(0).join('\n');
  expect(seen).toMatch(/console warning: seen/);
  expect(seen).toMatch(/script-src/);
  expect(await page.title()).not.toBe('run');
});

describe('page', () => {
  it('is dark where dark is chosen, and stays so after a reload', async () => {
    await openList();
    const paper = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const light = await paper();
    await choice('Theme').selectOption('dark');
    await expect.poll(paper).not.toBe(light);
    const dark = await paper();
    await page.reload();
    await firstRow().waitFor();
    expect(await paper()).toBe(dark);
  });

  it.each([320, 390, 820, 1440, 2560])('at %i px nothing is wider than the screen', async (width) => {
    await page.setViewportSize({ width, height: 900 });
    await openList();
    const overflow = () => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(await overflow()).toBeLessThanOrEqual(0);
    for (const unit of [ranking.rows[0]!.unit, (await unitWithWaveforms()).unit, LONG_UNIT]) {
      await page.goto(`/unit?${new URLSearchParams({ unit })}`);
      await drawnMarks();
      expect(await overflow()).toBeLessThanOrEqual(0);
    }
    await page.goto('/settings');
    await page
      .getByRole('combobox', { name: /^Meaning of code/ })
      .first()
      .waitFor();
    expect(await overflow()).toBeLessThanOrEqual(0);
  });

  it('prints the list as a ledger, seven rows or more to a sheet of any size, without its buttons', async () => {
    await openList();
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 1030, height: 700 });
    const printed = Math.min(ranking.rows.length, 250);
    await expect.poll(() => rows().count()).toBe(printed);
    expect(await firstRow().getByRole('button').count()).toBe(0);
    await page.emulateMedia({ media: null });
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)!.length;
    expect(sheets).toBeLessThanOrEqual(printed / 7);
  });

  it('says what its words mean, and those of its reasons, to who opens it the first time', async () => {
    await openList();
    const meaning = (word: string) => page.locator('.words dt', { hasText: word }).locator('+ dd');
    expect(await meaning('Sag ratio').isVisible()).toBe(false);
    await page.getByText('What the words mean').click();
    expect(await meaning('Sag ratio').innerText()).toMatch(/^Battery resistance over the rest of the loop/);
    expect(await meaning('Measure first').isVisible()).toBe(true);
  });

  it('of an empty store says how to load data', async () => {
    const visit = await watchedPage(browser, empty.origin);
    await visit.page.goto('/');
    await visit.page.getByRole('heading', { name: 'No fleet is loaded yet' }).waitFor();
    expect(await visit.page.getByText('npm run -s cli -- load my-folder').isVisible()).toBe(true);
    await visit.context.close();
    expect(visit.problems).toEqual([]);
  });

  it('of a unit that nobody knows names the remedy', async () => {
    await page.goto('/unit?unit=nobody');
    await page.getByRole('alert').waitFor();
    expect(await page.getByRole('link', { name: 'To the list', exact: true }).isVisible()).toBe(true);
    // The refusal itself is the one answer that this page is about.
    expect(watched.problems.splice(0)).toEqual([expect.stringMatching(/404/), expect.stringMatching(/404/)]);
  });
});
