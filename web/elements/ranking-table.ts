/**
 * The ranked list: a real table over which a window moves, so that 10,000 rows cost what forty do. Rows out of view
 * are stood in for by one spacer row above and one below. The page owns what is selected and decided; this element
 * says what was asked for.
 */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import { WindowVirtualizerController } from '@tanstack/lit-virtual';
import type { RankingRow } from '../../api/contract/ranking.ts';
import type { SortKey } from '../priority/ranking-query.ts';
import { decisionOf, rowKey } from '../priority/ranking-selection.ts';
import { shared } from '../styles/shared.ts';
import { rankingCells, type RowRequest } from './ranking-cells.ts';
import { rankingTableNarrow } from './ranking-table-narrow.styles.ts';
import { rankingTablePrint } from './ranking-table-print.styles.ts';
import { rankingTableStyles } from './ranking-table.styles.ts';
import { windowAxisHead, windowBarStyles, type WindowMarks } from './window-bar.ts';

export type RowEvent = CustomEvent<{ row: RankingRow; request: RowRequest }>;
export type SortEvent = CustomEvent<{ key: SortKey }>;

/** Height of a row before it has been measured, px. */
const GUESSED_ROW = 48;
/** Rows that a printed list carries at most: some twenty pages. The heading says so where rows are left out. */
export const PRINTED_ROWS = 250;

export class RankingTable extends LitElement {
  static override styles = [shared, windowBarStyles, rankingTableStyles, rankingTableNarrow, rankingTablePrint];
  static override properties = {
    rows: { attribute: false },
    marks: { attribute: false },
    currency: {},
    sort: {},
    descending: { type: Boolean },
    activeKey: { attribute: false },
    printing: { type: Boolean },
    compared: { type: Boolean },
  };
  declare rows: readonly RankingRow[];
  declare marks: WindowMarks;
  declare currency: string;
  declare sort: SortKey;
  declare descending: boolean;
  declare activeKey: string;
  declare printing: boolean;
  /** There was an assessment before this one, so that a rank can be called risen, fallen or new. */
  declare compared: boolean;

  readonly #window = new WindowVirtualizerController<HTMLTableRowElement>(this, {
    count: 0,
    estimateSize: () => GUESSED_ROW,
    overscan: 8,
  });

  /** Shows a row and puts the focus on it; for moving by keys. */
  async focusRow(index: number): Promise<void> {
    const virtualizer = this.#window.getVirtualizer();
    virtualizer.scrollToIndex(index, { align: 'auto' });
    await this.updateComplete;
    const row = this.renderRoot.querySelector<HTMLTableRowElement>(`tr[data-index="${index}"]`);
    row?.focus({ preventScroll: true });
  }

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    const virtualizer = this.#window.getVirtualizer();
    const { rows } = this;
    virtualizer.setOptions({
      ...virtualizer.options,
      count: rows.length,
      getItemKey: (index) => (rows[index] === undefined ? index : rowKey(rows[index])),
      scrollMargin: this.hasUpdated ? this.getBoundingClientRect().top + window.scrollY : 0,
      // The sticky head covers the top of the view.
      scrollPaddingStart: 64,
      scrollPaddingEnd: 16,
    });
    if (changed.has('rows')) virtualizer.measure();
  }

  /** Measured once they stand: while a row is being made it has no height, and all rows would seem to be in view. */
  override updated(): void {
    const virtualizer = this.#window.getVirtualizer();
    if (this.printing) return;
    for (const row of this.renderRoot.querySelectorAll<HTMLTableRowElement>('tr[data-index]'))
      virtualizer.measureElement(row);
  }

  override render(): TemplateResult {
    return html`<table role="table" aria-rowcount=${this.rows.length + 1}>
      <caption class="unseen">
        Jobs in order of what waiting costs; each row is one component of one unit
      </caption>
      <thead role="rowgroup">
        ${this.#head()}
      </thead>
      <tbody role="rowgroup">
        ${this.printing ? this.rows.slice(0, PRINTED_ROWS).map((row, index) => this.#row(row, index)) : this.#rowsInView()}
      </tbody>
    </table>`;
  }

  #rowsInView(): TemplateResult {
    const virtualizer = this.#window.getVirtualizer();
    const items = virtualizer.getVirtualItems();
    const margin = virtualizer.options.scrollMargin;
    const above = (items[0]?.start ?? margin) - margin;
    const below = virtualizer.getTotalSize() - ((items.at(-1)?.end ?? margin) - margin);
    return html`${spacer(above)}
    ${repeat(
      items,
      (item) => item.key,
      (item) => {
        const row = this.rows[item.index];
        return row === undefined ? nothing : this.#row(row, item.index);
      },
    )}
    ${spacer(below)}`;
  }

  #head(): TemplateResult {
    return html`<tr role="row" aria-rowindex="1">
      ${this.#columnHead('rank', ['rank', '#', 'Rank'])} ${this.#columnHead('unit', ['unit', 'Unit'])}
      ${this.#columnHead('place', ['depot', 'Depot'], ['class', 'Class'])}
      ${this.#columnHead('part', ['component', 'Component'])}
      ${this.#columnHead('action', ['action', 'Action'], ['actBy', 'Act by'])}
      <th role="columnheader" class="when" aria-sort=${this.#sorted('window')}>
        ${this.#sortButton('window', 'Failure window', 'Failure window, by its middle')}${windowAxisHead(this.marks)}
      </th>
      ${this.#columnHead('chance', ['chance', 'Fails before next visit'])}
      ${this.#columnHead('cost', ['cost', 'Cost of waiting'])}
      <th role="columnheader" class="why">Why</th>
      <th role="columnheader" class="decide">Decision</th>
    </tr>`;
  }

  #columnHead(name: string, ...keys: [SortKey, string, string?][]): TemplateResult {
    const sorted = keys.map(([key]) => this.#sorted(key)).find((order) => order !== 'none') ?? 'none';
    return html`<th role="columnheader" class=${name} aria-sort=${sorted}>
      ${keys.map(([key, label, spoken]) => this.#sortButton(key, label, spoken ?? label))}
    </th>`;
  }

  #sorted(key: SortKey): 'ascending' | 'descending' | 'none' {
    if (this.sort !== key) return 'none';
    return this.descending ? 'descending' : 'ascending';
  }

  #sortButton(key: SortKey, label: string, spoken: string): TemplateResult {
    const arrow = { ascending: ' ↑', descending: ' ↓', none: '' }[this.#sorted(key)];
    return html`<button class="head" title="Sort by ${spoken.toLowerCase()}" @click=${() => this.#askSort(key)}>
      ${label}<span aria-hidden="true">${arrow}</span>
    </button>`;
  }

  #row(row: RankingRow, index: number): TemplateResult {
    const active = rowKey(row) === this.activeKey;
    const { marks, currency, compared } = this;
    return html`<tr
      role="row"
      tabindex="-1"
      data-index=${index}
      aria-rowindex=${index + 2}
      aria-current=${active ? 'true' : nothing}
      class=${decisionOf(row)}
      @focusin=${() => this.#ask(row, 'select')}
    >
      ${rankingCells(row, { marks, currency, compared, ask: (request) => this.#ask(row, request) })}
    </tr>`;
  }

  #ask(row: RankingRow, request: RowRequest): void {
    const detail = { row, request };
    this.dispatchEvent(new CustomEvent('row-request', { detail }) satisfies RowEvent);
  }

  #askSort(key: SortKey): void {
    this.dispatchEvent(new CustomEvent('sort-request', { detail: { key } }) satisfies SortEvent);
  }
}

/** The height is set as a property: the page's content policy refuses style attributes. */
function spacer(height: number): TemplateResult {
  return html`<tr class="spacer" aria-hidden="true">
    <td .style=${`height: ${height}px`}></td>
  </tr>`;
}

customElements.define('ranking-table', RankingTable);
