/** The controls above the list. Each change is told as a whole new query; the page puts it into the address. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import {
  AXIS_MONTHS,
  DECISIONS,
  SORT_KEYS,
  type Decision,
  type RankingQuery,
  type SortKey,
} from '../priority/ranking-query.ts';
import { shared } from '../styles/shared.ts';
import { ACTION_WORDS, COMPONENT_WORDS } from '../words.ts';
import { labelledSelect, type Choice } from './labelled-select.ts';

/** What the fold's button counts: the search stands beside it and is seen. */
const FILTERS = ['depot', 'class', 'component', 'action', 'decision'] as const;

export type QueryEvent = CustomEvent<{ query: RankingQuery; typing: boolean }>;

const DECISION_WORDS: Record<Decision, string> = { open: 'Undecided', booked: 'Booked', deferred: 'Deferred' };
const SORT_WORDS: Record<SortKey, string> = {
  rank: 'Rank',
  unit: 'Unit',
  depot: 'Depot',
  class: 'Class',
  component: 'Component',
  action: 'Action',
  window: 'Middle of the window',
  chance: 'Chance before next visit',
  cost: 'Cost of waiting',
  actBy: 'Act by',
};
const AXIS_WORDS: Record<RankingQuery['months'], string> = {
  6: '6 months',
  12: '1 year',
  24: '2 years',
  60: '5 years',
};

export class RankingFilters extends LitElement {
  static override styles = [
    shared,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 0.75rem;
        align-items: end;
      }

      label {
        display: grid;
        gap: 0.1rem;
        font-size: 0.75rem;
        color: var(--ink-soft);
        min-width: 0;
      }

      select,
      input {
        font-size: 0.8125rem;
        max-width: 12rem;
        width: 100%;
      }

      .search {
        flex: 1 1 12rem;
        max-width: 20rem;
      }

      .search input {
        max-width: none;
      }

      .choices {
        display: contents;
      }

      .sort,
      .fold {
        display: none;
      }

      @media (max-width: 75rem) {
        .sort {
          display: grid;
        }
      }

      /* On a phone the list comes first: what narrows it is unfolded when wanted. */
      @media (max-width: 46rem) {
        form {
          display: grid;
          grid-template-columns: 1fr auto;
        }

        .fold {
          display: block;
        }

        .search,
        select {
          max-width: none;
        }

        .choices {
          grid-column: 1 / -1;
          display: grid;
          grid-template-columns: 1fr 1fr;
          gap: 0.5rem 0.75rem;
        }

        .choices:not(.unfolded) {
          display: none;
        }
      }
    `,
  ];
  static override properties = {
    query: { attribute: false },
    depots: { attribute: false },
    classes: { attribute: false },
    unfolded: { state: true },
  };
  declare query: RankingQuery;
  declare depots: readonly string[];
  declare classes: readonly string[];
  declare unfolded: boolean;

  constructor() {
    super();
    this.unfolded = false;
  }

  focusSearch(): void {
    this.renderRoot.querySelector<HTMLInputElement>('input')?.focus();
  }

  override render(): TemplateResult {
    const set = FILTERS.filter((name) => this.query[name] !== '').length;
    return html`<form role="search" @submit=${(event: Event) => event.preventDefault()}>
      <label class="search"
        >Search unit, place, reason
        <input
          type="search"
          .value=${live(this.query.text)}
          @input=${(event: Event) => this.#ask({ text: (event.target as HTMLInputElement).value }, true)}
        />
      </label>
      <button
        class="fold"
        type="button"
        aria-expanded=${this.unfolded}
        aria-controls="choices"
        @click=${() => (this.unfolded = !this.unfolded)}
      >
        Filter and order${set === 0 ? '' : ` (${set})`}
      </button>
      <div id="choices" class="choices ${this.unfolded ? 'unfolded' : ''}">${this.#choices()}</div>
    </form>`;
  }

  #choices(): TemplateResult {
    const same = (values: readonly string[]): Choice[] => values.map((value) => [value, value]);
    return html`${this.#select('Depot', 'depot', [['', 'All depots'], ...same(this.depots)])}
      ${this.#select('Class', 'class', [['', 'All classes'], ...same(this.classes)])}
      ${this.#select('Component', 'component', [
        ['', 'All'],
        ['battery', COMPONENT_WORDS.battery],
        ['starter', COMPONENT_WORDS.starter],
      ])}
      ${this.#select('Action', 'action', [['', 'All'], ...Object.entries(ACTION_WORDS)])}
      ${this.#select('Decision', 'decision', [['', 'All'], ...DECISIONS.map((word) => [word, DECISION_WORDS[word]] as const)])}
      ${this.#select(
        'Time axis',
        'months',
        AXIS_MONTHS.map((months) => [String(months), AXIS_WORDS[months]] as const),
      )}
      <div class="sort">${this.#sortSelect()}</div>`;
  }

  #select(label: string, field: keyof RankingQuery, choices: readonly Choice[]): TemplateResult {
    return labelledSelect(label, { choices, current: String(this.query[field]) }, (value) =>
      this.#ask({ [field]: field === 'months' ? Number(value) : value }, false),
    );
  }

  #sortSelect(): TemplateResult {
    const current = `${this.query.descending ? '-' : ''}${this.query.sort}`;
    const choices = SORT_KEYS.flatMap((key): Choice[] => [
      [key, `${SORT_WORDS[key]} ↑`],
      [`-${key}`, `${SORT_WORDS[key]} ↓`],
    ]);
    return labelledSelect('Order', { choices, current }, (value) =>
      this.#ask({ sort: value.replace(/^-/, '') as SortKey, descending: value.startsWith('-') }, false),
    );
  }

  #ask(change: Partial<RankingQuery>, typing: boolean): void {
    const detail = { query: { ...this.query, ...change }, typing };
    this.dispatchEvent(new CustomEvent('query-request', { detail }) satisfies QueryEvent);
  }
}

customElements.define('ranking-filters', RankingFilters);
