/** What a page shows when it has no data to show: waiting, nothing loaded, or a failure with its remedy. */
import { css, html, type TemplateResult } from 'lit';
import type { EmptyReason, Problem } from '../page-state.ts';

export function loadingNote(what: string): TemplateResult {
  return html`<p class="note soft" role="status">Fetching ${what} …</p>`;
}

/** `offer`: how a page lets its work be done, in place of a command to type. */
export function emptyNote(why: EmptyReason, storeOption: string, offer?: TemplateResult): TemplateResult {
  if (why === 'not_assessed')
    return html`<section class="note">
      <h1>Data are loaded, but nothing has been assessed yet</h1>
      <p>Trends, outlooks and the ranking are still to be worked out:</p>
      ${offer ?? html`<p><code>npm run -s cli -- assess${storeOption}</code>, then reload this page.</p>`}
    </section>`;
  if (why === 'not_walked')
    return html`<section class="note">
      <h1>No forecast of the past has been held against what happened yet</h1>
      <p>
        The backtest stands at one day after the other, forecasts from what was known then, and looks at what came: a
        minute or two for a hundred units, some more for a few hundred.
      </p>
      ${offer ?? html`<p><code>npm run -s cli -- backtest${storeOption}</code></p>`}
    </section>`;
  return html`<section class="note">
    <h1>No fleet is loaded yet</h1>
    <p>Put the exports of your loggers and of your maintenance system into one folder, as CSV; then, in a terminal:</p>
    <ol>
      <li>
        <code>npm run -s cli -- load my-folder${storeOption}</code> reads units, cranks or waveforms, and work orders.
      </li>
      <li><code>npm run -s cli -- assess${storeOption}</code> works out trends, outlooks and the ranking.</li>
      <li>Reload this page.</li>
    </ol>
    <p class="soft">Files are told apart by their columns, not their names. The README lists the columns.</p>
  </section>`;
}

export function failedNote(problem: Problem): TemplateResult {
  return html`<section class="note" role="alert">
    <h1>${problem.title}</h1>
    <p>${problem.detail}</p>
    <p>${problem.remedy}</p>
    <p class="ways">
      <button @click=${() => window.location.reload()}>Try again</button>
      <a href="/">To the list</a>
    </p>
  </section>`;
}

export const pageNoteStyles = css`
  .note {
    max-width: 42rem;
    margin: 3rem auto;
    display: grid;
    gap: 0.75rem;
  }

  .note .ways {
    display: flex;
    gap: 1.25rem;
    align-items: center;
  }

  .note ol {
    margin: 0;
    padding-inline-start: 1.25rem;
    display: grid;
    gap: 0.5rem;
  }
`;
