/** A planner’s morning in chromium: the list of the sample fleet, its filters, decisions, keys and print. */
import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { unbroken, withDates } from '../../web/format.ts';
import { choice, drawnMarks, firstRow, listRows, openList, visitSampleFleet } from './sample-visit.ts';

const visit = visitSampleFleet();

describe('from the list to a unit and back', () => {
  it('the list stands ranked with its windows drawn; its first unit opens with all its charts; back keeps the filters', async () => {
    await openList(visit.page, '?component=battery&months=24');
    const top = visit.ranking.rows.find((row) => row.component === 'battery')!;
    await expect.poll(() => firstRow(visit.page).locator('.unit').innerText()).toContain(top.unit);
    expect(await firstRow(visit.page).locator('svg.window rect.bar').getAttribute('width')).toMatch(/^\d/);
    expect(await firstRow(visit.page).locator('td.why').innerText()).toBe(unbroken(top.why));
    expect(await firstRow(visit.page).locator('td.why').getAttribute('title')).toBe(withDates(top.reason));
    // Nothing was assessed before: no rank is new, risen or fallen.
    expect(visit.ranking.previousAsOf).toBeNull();
    expect(await listRows(visit.page).locator('td.rank').first().innerText()).toBe(String(top.rank));

    await firstRow(visit.page).locator('.unit a').click();
    await visit.page.getByRole('heading', { level: 1, name: top.unit }).waitFor();
    const marks = await drawnMarks(visit.page);
    expect(marks.length).toBeGreaterThan(4);
    expect(Math.min(...marks)).toBeGreaterThan(2);

    await visit.page.getByRole('link', { name: 'Back to the list' }).click();
    await firstRow(visit.page).waitFor();
    expect(new URL(visit.page.url()).search).toBe('?component=battery&months=24');
    expect(await choice(visit.page, 'Component').inputValue()).toBe('battery');
  });
});

describe('filters', () => {
  it('stand in the address, narrow the list, and are taken from the address', async () => {
    await openList(visit.page);
    const { depot } = visit.ranking.rows[0]!;
    await choice(visit.page, 'Depot').selectOption(depot);
    await expect.poll(() => new URL(visit.page.url()).searchParams.get('depot')).toBe(depot);
    const expected = visit.ranking.rows.filter((row) => row.depot === depot).length;
    await visit.page.getByText(`${expected} of ${visit.ranking.rows.length} components`).waitFor();
    await visit.page.goto('/?sort=-unit&component=starter');
    await firstRow(visit.page).waitFor();
    expect(await visit.page.locator('th.unit[aria-sort]').first().getAttribute('aria-sort')).toBe('descending');
    await visit.page.getByRole('button', { name: 'Show all' }).click();
    await visit.page.getByText(`${visit.ranking.rows.length} components`, { exact: true }).waitFor();
  });

  it('what is exported is what is seen, in its order', async () => {
    const { depot } = visit.ranking.rows[0]!;
    await openList(visit.page, `?${new URLSearchParams({ depot, sort: '-unit' })}`);
    const units = await listRows(visit.page).locator('.unit a').allInnerTexts();
    const coming = visit.page.waitForEvent('download');
    await visit.page.getByRole('button', { name: 'Export these as CSV' }).click();
    const text = await readFile(await (await coming).path(), 'utf8');
    const lines = text.trimEnd().split('\r\n');
    expect(lines.length - 1).toBe(visit.ranking.rows.filter((row) => row.depot === depot).length);
    const column = lines[0]!.split(',').indexOf('unit');
    expect(lines.slice(1, 9).map((line) => line.split(',')[column])).toEqual(units.slice(0, 8));
    await visit.page.getByRole('button', { name: 'Show all' }).click();
    await visit.page.getByRole('link', { name: 'Export CSV' }).waitFor();
  });

  it('on a phone they fold away so that the list begins on the first screen, and say how many are set', async () => {
    await visit.page.setViewportSize({ width: 390, height: 844 });
    await openList(visit.page, '?component=battery');
    expect((await firstRow(visit.page).boundingBox())!.y).toBeLessThan(844 * 0.6);
    expect(await choice(visit.page, 'Depot').isVisible()).toBe(false);
    await visit.page.getByRole('button', { name: 'Filter and order (1)' }).click();
    expect(await choice(visit.page, 'Component').inputValue()).toBe('battery');
    await choice(visit.page, 'Order').selectOption('-cost');
    await expect.poll(() => new URL(visit.page.url()).searchParams.get('sort')).toBe('-cost');
  });

  it('a search without a match says so', async () => {
    await openList(visit.page);
    await visit.page.keyboard.press('/');
    await visit.page.keyboard.type('no such unit');
    await visit.page.getByText('No component matches these filters.').waitFor();
    expect(await listRows(visit.page).count()).toBe(0);
  });
});

describe('decisions', () => {
  // A decision changes the rank: the job is kept in view by a search for its unit, one that has a single engine.
  const top = () => visit.ranking.rows.find(({ position }) => position === '')!;
  const job = () =>
    visit.page.locator('tr[data-index]').filter({ hasText: top().component === 'battery' ? 'Battery' : 'Starter' });
  const words = () => job().locator('td.decide').innerText();
  const search = () => `?${new URLSearchParams({ text: top().unit, component: top().component })}`;

  it('a job is booked by keys and the booking taken back', async () => {
    await openList(visit.page, search());
    await visit.page.keyboard.press('j');
    await visit.page.keyboard.press('b');
    const dialog = visit.page.locator('decision-dialog dialog');
    await dialog.waitFor();
    expect((await dialog.getByLabel('Day of the job').inputValue()) >= new Date().toISOString().slice(0, 10)).toBe(
      true,
    );
    await dialog.getByLabel('Day of the job').fill('2026-11-05');
    await dialog.getByRole('button', { name: 'Book' }).click();
    await expect.poll(words).toContain('Booked 5 Nov');
    await visit.page.getByRole('status').filter({ hasText: 'booked for 5 Nov 2026' }).waitFor();
    await visit.page.reload();
    await expect.poll(words).toContain('Booked 5 Nov');
    await job().getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(words).toMatch(/Book\s+Defer/);
  });

  it('a job is deferred with a reason, not without one, and the deferral taken back', async () => {
    await openList(visit.page, search());
    await job()
      .getByRole('button', { name: /^Defer/ })
      .click();
    const dialog = visit.page.locator('decision-dialog dialog');
    await dialog.getByRole('button', { name: 'Defer' }).click();
    expect(await dialog.isVisible()).toBe(true);
    await dialog.getByLabel('Reason').fill('Unit is sold in spring');
    await dialog.getByRole('button', { name: 'Defer' }).click();
    await expect.poll(words).toContain('Deferred to');
    expect(await job().locator('.decided').getAttribute('title')).toBe('Unit is sold in spring');
    await visit.page.keyboard.press('u');
    await expect.poll(words).toMatch(/Book\s+Defer/);
  });
});

describe('keyboard', () => {
  const active = () => visit.page.locator('tr[aria-current="true"]').getAttribute('data-index');

  it('j and k move, Enter opens, / searches, ? lists the keys, d and Escape open and close', async () => {
    await openList(visit.page);
    for (const key of ['j', 'j', 'j', 'k']) await visit.page.keyboard.press(key);
    await expect.poll(active).toBe('1');
    await visit.page.keyboard.press('?');
    await visit.page.getByRole('heading', { name: 'Keys' }).waitFor();
    await visit.page.keyboard.press('Escape');
    await visit.page.keyboard.press('d');
    await visit.page.getByRole('heading', { name: /^Defer the/ }).waitFor();
    await visit.page.keyboard.press('Escape');
    await visit.page.keyboard.press('k');
    await expect.poll(active).toBe('0');
    await visit.page.keyboard.press('Enter');
    await visit.page.getByRole('heading', { level: 1, name: visit.ranking.rows[0]!.unit }).waitFor();
  });

  it('End goes to the last of the list and Home back to its first', async () => {
    await openList(visit.page);
    await visit.page.keyboard.press('End');
    const last = String(visit.ranking.rows.length - 1);
    await expect.poll(active).toBe(last);
    expect(await visit.page.locator(`tr[data-index="${last}"]`).isVisible()).toBe(true);
    await visit.page.keyboard.press('Home');
    await expect.poll(active).toBe('0');
  });
});

describe('the list', () => {
  it('prints the list as a ledger, seven rows or more to a sheet of any size, without its buttons', async () => {
    await openList(visit.page);
    await visit.page.emulateMedia({ media: 'print' });
    await visit.page.setViewportSize({ width: 1030, height: 700 });
    const printed = Math.min(visit.ranking.rows.length, 250);
    await expect.poll(() => listRows(visit.page).count()).toBe(printed);
    expect(await firstRow(visit.page).getByRole('button').count()).toBe(0);
    await visit.page.emulateMedia({ media: null });
    const pdf = await visit.page.pdf({ preferCSSPageSize: true });
    const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)!.length;
    expect(sheets).toBeLessThanOrEqual(printed / 7);
  });

  it('says what its words mean, and those of its reasons, to who opens it the first time', async () => {
    await openList(visit.page);
    const meaning = (word: string) => visit.page.locator('.words dt', { hasText: word }).locator('+ dd');
    expect(await meaning('Sag ratio').isVisible()).toBe(false);
    await visit.page.getByText('What the words mean').click();
    expect(await meaning('Sag ratio').innerText()).toMatch(/^Battery resistance over the rest of the loop/);
    expect(await meaning('Measure first').isVisible()).toBe(true);
  });
});
