/** What was met and does not count: files that could not be read, rows of units that no register names. */
import { html, nothing, type TemplateResult } from 'lit';
import type { Imports } from '../../api/contract/imports.ts';
import { count, counted } from '../format.ts';
import { unitHref } from '../routing.ts';

/** More units than these wait behind a line. */
const MOST_UNITS = 40;

export function notCountedYet({ unreadable, waiting }: Imports): TemplateResult {
  return html`${unreadable.length === 0 ? nothing : unreadableSection(unreadable)}
  ${waiting.length === 0 ? nothing : waitingSection(waiting)}`;
}

function unreadableSection(unreadable: Imports['unreadable']): TemplateResult {
  return html`<section>
    <h2>Could not be read</h2>
    <p class="soft">Nothing of these files was loaded. Put right, they are read with the next load.</p>
    <ul>
      ${unreadable.map(({ file, reason }) => html`<li><strong>${file}</strong>: ${reason.replace(` (${file})`, '')}</li>`)}
    </ul>
  </section>`;
}

function waitingSection(waiting: Imports['waiting']): TemplateResult {
  const units = [...waiting].sort((a, b) => b.rows - a.rows);
  const list = (some: Imports['waiting']) =>
    html`<ul class="units">
      ${some.map(({ unit, rows }) => html`<li><a href=${unitHref(unit, '')}>${unit}</a> <span class="soft">${counted(rows, 'row', 'rows')}</span></li>`)}
    </ul>`;
  const rest = units.slice(MOST_UNITS);
  return html`<section>
    <h2>Waiting for the register</h2>
    <p class="soft">
      No register of units names these. Their rows are kept; what needs the register, speed by cylinders among it,
      follows once one is loaded that does.
    </p>
    ${list(units.slice(0, MOST_UNITS))}
    ${
      rest.length === 0
        ? nothing
        : html`<details>
            <summary>${count(rest.length)} more</summary>
            ${list(rest)}
          </details>`
    }
  </section>`;
}
