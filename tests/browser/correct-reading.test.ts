/** A foreman puts right how a repair record was read, in chromium, against the server. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { App } from '../../api/app-context.ts';
import { buildApp } from '../../api/app.ts';
import { webFolder } from '../../api/config.ts';
import { assessedStore, awkwardFleet, NOW_MS } from '../support/fleet-app.ts';
import { readingsOf } from '../support/readings-of.ts';
import { workOrder } from '../support/work-orders.ts';
import { startChromium, watchedPage } from './watched-browser.ts';

let browser: Browser;
let app: App;
const store = await assessedStore({
  ...awkwardFleet(),
  workOrders: [workOrder({ workOrder: 'W/7', complaint: 'no crank', correction: 'replaced batteries' })],
});

beforeAll(async () => {
  browser = await startChromium();
  app = await buildApp({ store, storeKind: 'own', webFolder: webFolder(), now: () => NOW_MS });
});
afterAll(async () => {
  await browser?.close();
  await app?.close();
});

it('a record is read as the foreman says, until it is read by its words again', async () => {
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  const { page, context, problems } = await watchedPage(browser, origin);
  await page.goto('/unit?unit=U1');
  const record = page.getByRole('row', { name: /W\/7/ });
  await record.getByRole('button', { name: 'Correct how W/7 was read' }).click();
  const what = page.getByRole('combobox', { name: 'Read it as' });
  expect(await what.inputValue()).toBe('battery replaced');
  await what.selectOption('starter replaced');
  await page.getByRole('combobox', { name: 'It was' }).selectOption('0');
  await page.getByRole('button', { name: 'Keep' }).click();
  await expect.poll(() => record.innerText()).toContain('corrected by hand');
  expect(await record.innerText()).toMatch(/Starter\s+replaced, planned/);
  expect(await page.getByRole('status').allInnerTexts()).toContain(
    'Work order W/7 is read as you said. Run assess for new forecasts.',
  );
  expect(await readingsOf(store)).toEqual([['W/7', 'starter', 'replaced', 'corrected by hand']]);

  await record.getByRole('button', { name: 'Correct how W/7 was read' }).click();
  await page.getByRole('button', { name: 'Read it by its words again' }).click();
  await expect.poll(() => record.innerText()).toContain('battery; replaced');
  expect(await readingsOf(store)).toEqual([['W/7', 'battery', 'replaced', 'battery; replaced']]);
  expect(problems).toEqual([]);
  await context.close();
});
