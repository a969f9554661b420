import { performance } from 'node:perf_hooks';
import type { Page } from 'playwright-core';
import { startFixtureServer } from '../browser/fixture-server.ts';
import { startChromium, watchedPage } from '../browser/watched-browser.ts';

const UNITS = 5000;
const RUNS = 5;

/**
 * The list of 5,000 units in chromium: from navigation, with nothing cached, to the ranked rows with their windows
 * drawn; then a filter and two orders, from the input to the frame that shows the other rows. Medians of five, ms.
 */
export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const server = await startFixtureServer({ units: UNITS });
  const browser = await startChromium();
  try {
    const shown: number[] = [];
    const changes: Record<string, number[]> = { filterMs: [], sortByWindowMs: [], sortByUnitMs: [] };
    for (let run = 0; run < RUNS; run++) {
      const { page, context, problems } = await watchedPage(browser, server.origin);
      shown.push(await untilShown(page));
      changes['filterMs']!.push(await changed(page, { select: 'depot', value: 'Westmere' }));
      changes['sortByWindowMs']!.push(await changed(page, { press: 'th.when button.head' }));
      changes['sortByUnitMs']!.push(await changed(page, { press: 'th.unit button.head' }));
      if (problems.length > 0) throw new Error(`the list requires a silent console, got ${problems.join('; ')}`);
      await context.close();
    }
    const figures = Object.entries(changes).map(([name, times]) => [name, median(times)] as const);
    return {
      name: 'priority-page',
      figures: {
        units: UNITS,
        rows: server.ranking.rows.length,
        listMs: median(shown),
        ...Object.fromEntries(figures),
      },
    };
  } finally {
    await browser.close();
    await server.close();
  }
}

/** Navigation to the first frame after the rows and their windows stand. */
async function untilShown(page: Page): Promise<number> {
  const from = performance.now();
  await page.goto('/', { waitUntil: 'commit' });
  await page.locator('tr[data-index="0"] svg.window').waitFor({ state: 'attached' });
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0))));
  return performance.now() - from;
}

type Change = { select: string; value: string } | { press: string };

/** In the page: acts, then waits for the frame in which the first row is another. */
async function changed(page: Page, change: Change): Promise<number> {
  return page.evaluate(async (given) => {
    const list = document.querySelector('crank-ledger')!.shadowRoot!.querySelector('priority-page')!.shadowRoot!;
    const table = list.querySelector('ranking-table')!.shadowRoot!;
    const rows = () => [...table.querySelectorAll('tr[data-index]')].map((row) => row.textContent).join('\n');
    const before = rows();
    const from = performance.now();
    if ('press' in given) table.querySelector<HTMLElement>(given.press)!.click();
    else {
      const filters = list.querySelector('ranking-filters')!.shadowRoot!;
      const select = [...filters.querySelectorAll('select')].find((each) =>
        [...each.options].some((option) => option.value === given.value),
      )!;
      select.value = given.value;
      select.dispatchEvent(new Event('change'));
    }
    for (let frame = 0; frame < 100; frame++) {
      await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0)));
      if (rows() !== before) return performance.now() - from;
    }
    throw new Error('the list requires other rows after a change, got the same for 100 frames');
  }, change);
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return Math.round(sorted[Math.floor(sorted.length / 2)]!);
}
