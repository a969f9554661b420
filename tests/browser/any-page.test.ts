/** What holds of every page in chromium: theme, widths, what is said where there is nothing to show, and the watch over it all. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LONG_UNIT } from './awkward-folder.ts';
import { choice, drawnMarks, firstRow, openList, unitWithWaveforms, visitSampleFleet } from './sample-visit.ts';
import { serveFleet, type ServedFleet } from './served-fleet.ts';
import { largeLetters, watchedPage } from './watched-browser.ts';

let empty: ServedFleet;

beforeAll(async () => {
  empty = await serveFleet([]);
});

afterAll(() => empty?.close());

const visit = visitSampleFleet();

it('the watch itself sees a warning, script from text and a request to elsewhere', async () => {
  await openList(visit.page);
  await visit.page.evaluate(`console.warn('seen')`);
  await visit.page.evaluate(() => {
    const script = document.createElement('script');
    script.textContent = 'document.title = "run"';
    document.head.append(script);
    void fetch('http://127.0.0.1:9/elsewhere').catch(() => undefined);
  });
  await expect.poll(() => visit.watched.problems.join('\n')).toMatch(/connect-src/);
  const seen = visit.watched.problems.splice(0).join('\n');
  expect(seen).toMatch(/console warning: seen/);
  expect(seen).toMatch(/script-src/);
  expect(await visit.page.title()).not.toBe('run');
});

describe('page', () => {
  it('is dark where dark is chosen, and stays so after a reload', async () => {
    await openList(visit.page);
    const paper = () => visit.page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const light = await paper();
    await choice(visit.page, 'Theme').selectOption('dark');
    await expect.poll(paper).not.toBe(light);
    const dark = await paper();
    await visit.page.reload();
    await firstRow(visit.page).waitFor();
    expect(await paper()).toBe(dark);
  });

  it.each([320, 390, 820, 1440, 2560])('at %i px nothing is wider than the screen', async (width) => {
    await visit.page.setViewportSize({ width, height: 900 });
    await openList(visit.page);
    const overflow = () => visit.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(await overflow()).toBeLessThanOrEqual(0);
    for (const unit of [visit.ranking.rows[0]!.unit, (await unitWithWaveforms(visit)).unit, LONG_UNIT]) {
      await visit.page.goto(`/unit?${new URLSearchParams({ unit })}`);
      await drawnMarks(visit.page);
      expect(await overflow()).toBeLessThanOrEqual(0);
    }
    await visit.page.goto('/settings');
    await visit.page
      .getByRole('combobox', { name: /^Meaning of code/ })
      .first()
      .waitFor();
    expect(await overflow()).toBeLessThanOrEqual(0);
  });

  it('with letters set to twice their size nothing is wider than a desk’s screen or a phone’s', async () => {
    const { page, close } = await largeLetters(visit.fleet.origin);
    const { unit } = visit.ranking.rows[0]!;
    const overflow = () => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    for (const width of [1440, 390])
      for (const address of ['/', `/unit?${new URLSearchParams({ unit })}`, '/track-record', '/imports', '/settings']) {
        await page.setViewportSize({ width, height: 900 });
        await page.goto(address);
        await page.getByRole('heading', { level: 1 }).waitFor();
        await expect.poll(async () => [width, address, await overflow()]).toEqual([width, address, 0]);
      }
    await close();
  });

  it('of an empty store says how to load data', async () => {
    const { page, context, problems } = await watchedPage(visit.browser, empty.origin);
    await page.goto('/');
    await page.getByRole('heading', { name: 'No fleet is loaded yet' }).waitFor();
    expect(await page.getByText('npm run -s cli -- load my-folder').isVisible()).toBe(true);
    await context.close();
    expect(problems).toEqual([]);
  });

  it('of a unit that nobody knows names the remedy', async () => {
    await visit.page.goto('/unit?unit=nobody');
    await visit.page.getByRole('alert').waitFor();
    expect(await visit.page.getByRole('link', { name: 'To the list', exact: true }).isVisible()).toBe(true);
    // The refusal itself is the one answer that this page is about.
    expect(visit.watched.problems.splice(0)).toEqual([expect.stringMatching(/404/), expect.stringMatching(/404/)]);
  });
});
