/** A unit in chromium: its waveforms, its engines, decisions on its own page, and what an awkward number does to it. */
import { describe, expect, it } from 'vitest';
import { AWKWARD_UNITS, SILENT_UNIT } from './awkward-folder.ts';
import { drawnMarks, firstRow, listRows, openList, unitWithWaveforms, visitSampleFleet } from './sample-visit.ts';

const visit = visitSampleFleet();

describe('a unit', () => {
  it('the newest waveform lies over an early one, and another can be chosen', async () => {
    const unit = await unitWithWaveforms(visit);
    await visit.page.goto(`/unit?${new URLSearchParams({ unit: unit.unit, position: unit.waveforms[0]!.position })}`);
    const figure = visit.page.locator('waveform-figure');
    const lines = figure.locator('svg .mark-line path');
    await expect.poll(() => lines.count(), { timeout: 10_000 }).toBe(2);
    const before = await lines.first().getAttribute('d');
    const over = figure.getByRole('combobox', { name: /^over/ });
    await over.selectOption({ index: 1 });
    await expect.poll(() => lines.first().getAttribute('d')).not.toBe(before);
    expect(await lines.count()).toBe(2);
  });

  it.each(AWKWARD_UNITS)('the unit %s is shown as text and can be opened', async (unit) => {
    await openList(visit.page, `?${new URLSearchParams({ text: unit })}`);
    const link = firstRow(visit.page).locator('.unit a');
    expect(await link.innerText()).toBe(unit);
    await link.click();
    expect(await visit.page.locator('unit-page h1').innerText()).toBe(unit);
    expect(await visit.page.getByText('120 cranks').count()).toBe(1);
    await visit.page.reload();
    await visit.page.locator('unit-page h1').waitFor();
    expect(await visit.page.locator('unit-page h1').innerText()).toBe(unit);
    expect(Math.min(...(await drawnMarks(visit.page)))).toBeGreaterThan(1);
  });
});

it('an indicator is read off day by day, by the pointer and by keys', async () => {
  const { unit, position } = visit.ranking.rows[0]!;
  await visit.page.goto(`/unit?${new URLSearchParams({ unit, position })}`);
  await drawnMarks(visit.page);
  const reader = visit.page.locator('day-reader').first();
  const slider = reader.getByRole('slider');
  const said = reader.locator('.said');
  expect(await said.isVisible()).toBe(false);
  await slider.focus();
  await visit.page.keyboard.press('Home');
  const first = await said.innerText();
  expect(first).toMatch(/^\d{1,2} \w+ \d{4}: \d/);
  expect(await slider.getAttribute('aria-valuetext')).toBe(first);
  await visit.page.keyboard.press('ArrowRight');
  await expect.poll(() => said.innerText()).not.toBe(first);
  await visit.page.keyboard.press('Escape');
  await said.waitFor({ state: 'hidden' });
  const { x, y, width } = (await slider.boundingBox())!;
  await visit.page.mouse.move(x + width * 0.3, y + 40);
  await said.waitFor();
  // The line stands where the pointer is, to a few days' width.
  expect(Math.abs((await reader.locator('.line').boundingBox())!.x - (x + width * 0.3))).toBeLessThan(20);
});

it('a unit without a log says that none is loaded, and blames no logger for it', async () => {
  await visit.page.goto(`/unit?${new URLSearchParams({ unit: SILENT_UNIT })}`);
  await visit.page.getByText('No crank is loaded.').waitFor();
  expect(await visit.page.getByText('No crank of this unit is loaded').count()).toBe(2);
  expect(await visit.page.getByText(/logger|this unit’s log/).count()).toBe(0);
  expect(await visit.page.locator('dl.register').innerText()).toContain('6 May 2023');
});

it('a unit of two engines is told what to measure on the engine that is shown, not on the other', async () => {
  const due = visit.ranking.rows.find(({ position, action }) => position !== '' && action !== 'leave')!;
  const other = visit.ranking.rows.find(({ unit, position }) => unit === due.unit && position !== due.position)!;
  const section = visit.page
    .locator('section')
    .filter({ has: visit.page.getByRole('heading', { name: 'What to measure next' }) });
  const words = async (position: string) => {
    await visit.page.goto(`/unit?${new URLSearchParams({ unit: due.unit, position })}`);
    return section.innerText();
  };
  expect(await words(due.position)).toContain(`the ${due.position} ${due.component} is`);
  expect(await words(other.position)).not.toContain(`the ${due.position} `);
});

describe('decisions on a unit’s own page', () => {
  it('a job is booked there, stands on the list, and is taken back; not on a day of the past', async () => {
    const top = visit.ranking.rows[0]!;
    const address = `/unit?${new URLSearchParams({ unit: top.unit, position: top.position })}`;
    await visit.page.goto(address);
    const verdict = visit.page
      .locator('component-verdict')
      .filter({ has: visit.page.locator(`h2 .component.${top.component}`) });
    await verdict.getByRole('button', { name: /^Book/ }).click();
    const dialog = visit.page.locator('decision-dialog dialog');
    await dialog.getByLabel('Day of the job').fill('2026-11-05');
    await dialog.getByRole('button', { name: 'Book' }).click();
    await verdict.getByText('Booked for 5 Nov 2026').waitFor();
    await visit.page.getByRole('status').filter({ hasText: 'booked for 5 Nov 2026' }).waitFor();
    await openList(visit.page, `?${new URLSearchParams({ text: top.unit, decision: 'booked' })}`);
    expect(await listRows(visit.page).count()).toBe(1);
    await visit.page.goto(address);
    await verdict.getByRole('button', { name: /^Undo/ }).click();
    await verdict.getByRole('button', { name: /^Book/ }).waitFor();
  });
});
