/** Past forecasts one by one beside what happened, with filters; each change is told as a whole new query. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { TrackedForecast } from '../../api/contract/track-record.ts';
import { count, counted, date } from '../format.ts';
import { unitHref } from '../routing.ts';
import { filterForm } from '../styles/filter-form.ts';
import { plainTable } from '../styles/plain-table.ts';
import { shared } from '../styles/shared.ts';
import { forecastCells, forecastCellStyles, forecastTable } from '../track-record/forecast-table.ts';
import { downloadHref, OUTCOMES, PAGE_ROWS, type Outcome, type TrackQuery } from '../track-record/track-query.ts';
import { labelledSelect } from './labelled-select.ts';

export type TrackQueryEvent = CustomEvent<TrackQuery>;

const OUTCOME_WORDS: Record<Outcome, string> = {
  failed: 'Failed within the horizon',
  lived: 'Did not',
  open: 'Not followed so far',
};

export class ForecastList extends LitElement {
  static override styles = [
    shared,
    plainTable,
    filterForm,
    forecastCellStyles,
    css`
      .pages {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 0.75rem;
        align-items: center;
        margin-block: 0.4rem 0.6rem;
        font-size: 0.8125rem;
      }
    `,
  ];
  static override properties = {
    forecasts: { attribute: false },
    from: { type: Number },
    inAll: { type: Number },
    horizonDays: { type: Number },
    query: { attribute: false },
  };
  declare forecasts: readonly TrackedForecast[];
  /** How many stand before the first of `forecasts`. */
  declare from: number;
  declare inAll: number;
  declare horizonDays: number;
  declare query: TrackQuery;

  override render(): TemplateResult {
    return html`${this.#filters()}
    ${this.forecasts.length === 0 ? html`<p>No forecast matches these filters.</p>` : this.#table()} ${this.#pages()}`;
  }

  #filters(): TemplateResult {
    return html`<form role="search" class="no-print" @submit=${(event: Event) => event.preventDefault()}>
      ${labelledSelect(
        'What happened',
        {
          choices: [['', 'All'], ...OUTCOMES.map((word) => [word, OUTCOME_WORDS[word]] as const)],
          current: this.query.outcome,
        },
        (outcome) => this.#ask({ ...this.query, outcome: outcome as Outcome | '', offset: 0 }),
      )}
      <a href=${downloadHref(this.query)} download>Save this list as CSV</a>
    </form>`;
  }

  #table(): TemplateResult {
    const label = 'Forecasts beside what happened, the newest day and the likeliest failure first';
    return forecastTable({
      label,
      horizonDays: this.horizonDays,
      heads: ['Forecast on', 'Unit', 'Depot'],
      rows: this.forecasts.map(forecastRow),
    });
  }

  #pages(): TemplateResult | typeof nothing {
    const offset = this.from;
    const last = offset + this.forecasts.length;
    const to = (next: number) => () => this.#ask({ ...this.query, offset: next });
    if (this.inAll === 0) return nothing;
    return html`<div class="pages">
      <span role="status"
        >${count(offset + 1)} to ${count(last)} of ${counted(this.inAll, 'forecast', 'forecasts')}</span
      >
      ${offset > 0 ? html`<button class="no-print" @click=${to(Math.max(0, offset - PAGE_ROWS))}>Earlier in the list</button>` : nothing}
      ${last < this.inAll ? html`<button class="no-print" @click=${to(offset + PAGE_ROWS)}>Further down the list</button>` : nothing}
    </div>`;
  }

  #ask(detail: TrackQuery): void {
    this.dispatchEvent(new CustomEvent('track-query', { detail }) satisfies TrackQueryEvent);
  }
}

function forecastRow(row: TrackedForecast): TemplateResult {
  const { unit, position } = row;
  return html`<tr>
    <td>${date(row.asOfOn)}</td>
    <th scope="row"><a href=${unitHref(unit, position, row.asOfOn)}>${unit} ${position}</a></th>
    <td>${row.depot}</td>
    ${forecastCells(row)}
  </tr>`;
}

customElements.define('forecast-list', ForecastList);
