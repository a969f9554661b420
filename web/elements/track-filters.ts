/** Which part of the track record the page is about: component, depot, class, days of forecasts. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import { date } from '../format.ts';
import { filterForm } from '../styles/filter-form.ts';
import { shared } from '../styles/shared.ts';
import { PLAIN_TRACK_QUERY, type TrackQuery } from '../track-record/track-query.ts';
import { COMPONENT_WORDS } from '../words.ts';
import type { TrackQueryEvent } from './forecast-list.ts';
import { labelledSelect, type Choice } from './labelled-select.ts';

export class TrackFilters extends LitElement {
  static override styles = [shared, filterForm];
  static override properties = {
    query: { attribute: false },
    depots: { attribute: false },
    classes: { attribute: false },
    origins: { attribute: false },
  };
  declare query: TrackQuery;
  declare depots: readonly string[];
  declare classes: readonly string[];
  /** Days of forecasts, the oldest first. */
  declare origins: readonly string[];

  override render(): TemplateResult {
    const { from, to, outcome } = this.query;
    const plain = { ...PLAIN_TRACK_QUERY, outcome };
    const filtered = JSON.stringify({ ...this.query, offset: 0 }) !== JSON.stringify(plain);
    const names = (all: readonly string[]) => all.filter((each) => each !== '').map((each): Choice => [each, each]);
    const days = (fits: (on: string) => boolean) => this.origins.filter(fits).map((on): Choice => [on, date(on)]);
    return html`<form role="search" class="no-print" @submit=${(event: Event) => event.preventDefault()}>
      ${this.#select('Component', 'component', [
        ['', 'All'],
        ['battery', COMPONENT_WORDS.battery],
        ['starter', COMPONENT_WORDS.starter],
      ])}
      ${this.#select('Depot', 'depot', [['', 'All depots'], ...names(this.depots)])}
      ${this.#select('Class', 'class', [['', 'All classes'], ...names(this.classes)])}
      ${this.#select('Forecasts from', 'from', [['', 'the first'], ...days((on) => to === '' || on <= to)])}
      ${this.#select('to', 'to', [['', 'the last'], ...days((on) => from === '' || on >= from)])}
      ${filtered ? html`<button class="quiet" type="button" @click=${() => this.#ask(plain)}>Show all</button>` : nothing}
    </form>`;
  }

  #select(label: string, field: 'component' | 'depot' | 'class' | 'from' | 'to', choices: readonly Choice[]) {
    return labelledSelect(label, { choices, current: this.query[field] }, (value) =>
      this.#ask({ ...this.query, [field]: value, offset: 0 }),
    );
  }

  #ask(detail: TrackQuery): void {
    this.dispatchEvent(new CustomEvent('track-query', { detail }) satisfies TrackQueryEvent);
  }
}

customElements.define('track-filters', TrackFilters);
