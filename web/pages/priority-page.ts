/** The planner's page: which jobs to book this morning, when each part will probably fail, why, what waiting costs. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { Ranking, RankingRow } from '../../api/contract/ranking.ts';
import { problemOf, problemWords, RANKING_CSV, type ApiClient } from '../api-client.ts';
import type { DecidedEvent, DecisionDialog } from '../elements/decision-dialog.ts';
import type { KeyList } from '../elements/key-list.ts';
import { emptyNote, failedNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import type { QueryEvent, RankingFilters } from '../elements/ranking-filters.ts';
import type { RowRequest } from '../elements/ranking-cells.ts';
import { PRINTED_ROWS, type RankingTable, type RowEvent, type SortEvent } from '../elements/ranking-table.ts';
import { count, counted } from '../format.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { keepDecision, takeBackDecision, type Outcome } from '../priority/decide.ts';
import { listAct, type ListAct } from '../priority/list-keys.ts';
import { csvOfRows } from '../priority/ranking-csv.ts';
import {
  choices,
  PLAIN_QUERY,
  readQuery,
  writeQuery,
  type RankingQuery,
  type SortKey,
} from '../priority/ranking-query.ts';
import { rowKey, selectRows } from '../priority/ranking-selection.ts';
import { rankingHead } from '../priority/ranking-head.ts';
import { windowAxis } from '../priority/window-axis.ts';
import { windowLegend } from '../priority/window-legend.ts';
import { wordList } from '../priority/word-list.ts';
import { unitHref } from '../routing.ts';
import { saveFile } from '../save-file.ts';
import { shared } from '../styles/shared.ts';
import { priorityPageStyles } from './priority-page.styles.ts';
import '../elements/assumption-list.ts';
import '../elements/decision-dialog.ts';
import '../elements/key-list.ts';
import '../elements/ranking-filters.ts';
import '../elements/ranking-table.ts';
import '../elements/run-offer.ts';
import '../elements/same-unit-offer.ts';

/** Columns whose greatest values matter first: the first press sorts them downwards. */
const GREATEST_FIRST: readonly SortKey[] = ['chance', 'cost'];

export class PriorityPage extends LitElement {
  static override styles = [shared, pageNoteStyles, priorityPageStyles];
  static override properties = {
    client: { attribute: false },
    search: {},
    todayOn: {},
    state: { state: true },
    activeKey: { state: true },
    news: { state: true },
    printing: { state: true },
  };
  declare client: ApiClient;
  /** The address' query, as it stands. */
  declare search: string;
  declare todayOn: string;
  declare state: PageState<Ranking>;
  declare activeKey: string;
  /** What was just decided, said aloud. */
  declare news: string;
  declare printing: boolean;

  readonly #print = window.matchMedia('print');
  readonly #onPrint = () => {
    this.printing = this.#print.matches;
  };
  readonly #onKey = (event: KeyboardEvent) => this.#key(event);

  constructor() {
    super();
    this.state = { kind: 'loading' };
    this.activeKey = '';
    this.news = '';
    this.printing = false;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    const held = this.client.heldRanking();
    if (held !== null) this.#show(held);
    void this.#refresh();
    document.addEventListener('keydown', this.#onKey);
    this.#print.addEventListener('change', this.#onPrint);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.#onKey);
    this.#print.removeEventListener('change', this.#onPrint);
  }

  override render(): TemplateResult {
    return drawPage(this.state, {
      loading: () => loadingNote('the ranking'),
      empty: (why, storeOption) => emptyNote(why, storeOption, this.#offer(storeOption)),
      failed: failedNote,
      ready: (ranking) => this.#ready(ranking),
    });
  }

  #offer(storeOption: string): TemplateResult {
    return html`<run-offer
      .client=${this.client}
      what="assess"
      .storeOption=${storeOption}
      @run-done=${() => void this.#refresh()}
    ></run-offer>`;
  }

  #ready(ranking: Ranking): TemplateResult {
    const query = readQuery(this.search);
    const rows = this.#rows(ranking, query);
    const marks = { axis: this.#axis(ranking.asOfOn, query), asOfOn: ranking.asOfOn, todayOn: this.todayOn };
    return html`${rankingHead(ranking, this.todayOn, this.#offer(ranking.storeOption))}
      <same-unit-offer .client=${this.client} @aliases-changed=${() => void this.#refresh()}></same-unit-offer>
      <ranking-filters
        class="no-print"
        .query=${query}
        .depots=${this.#choices(ranking).depots}
        .classes=${this.#choices(ranking).classes}
        @query-request=${(event: QueryEvent) => this.#askQuery(event.detail.query, event.detail.typing)}
      ></ranking-filters>
      ${this.#toolLine(ranking, rows, query)}
      <ranking-table
        .rows=${rows}
        .marks=${this.#sameMarks(marks)}
        .currency=${ranking.currency}
        .sort=${query.sort}
        .descending=${query.descending}
        .activeKey=${this.activeKey}
        .printing=${this.printing}
        .compared=${ranking.previousAsOf !== null}
        @row-request=${(event: RowEvent) => this.#request(event.detail.row, event.detail.request)}
        @sort-request=${(event: SortEvent) => this.#sort(query, event.detail.key)}
      ></ranking-table>
      ${rows.length === 0 ? html`<p class="none">No component matches these filters.</p>` : nothing}
      <assumption-list .assumptions=${ranking.assumptions}></assumption-list>
      ${wordList()}
      <decision-dialog
        .todayOn=${this.todayOn}
        @decided=${(event: DecidedEvent) => void this.#carryOut(keepDecision(this.client, event.detail))}
      ></decision-dialog>
      <key-list></key-list>`;
  }

  #toolLine(ranking: Ranking, rows: readonly RankingRow[], query: RankingQuery): TemplateResult {
    const all = counted(ranking.rows.length, 'component', 'components');
    const left = this.printing && rows.length > PRINTED_ROWS ? `; the first ${count(PRINTED_ROWS)} are printed` : '';
    const plain = { ...PLAIN_QUERY, sort: query.sort, descending: query.descending, months: query.months };
    const filtered = writeQuery(plain) !== writeQuery(query);
    return html`<div class="tools">
      <p>
        ${rows.length === ranking.rows.length ? all : `${count(rows.length)} of ${all}`}${left}
        ${filtered ? html`<button class="quiet no-print" @click=${() => this.#askQuery(plain, false)}>Show all</button>` : nothing}
      </p>
      <p class="news" role="status">${this.news}</p>
      ${windowLegend(ranking.asOfOn !== this.todayOn)}
      <p class="ways no-print">
        ${
          filtered
            ? html`<button class="quiet" @click=${() => void this.#saveSeen()}>Export these as CSV</button>`
            : html`<a href=${RANKING_CSV} download="ranking.csv">Export CSV</a>`
        }
        <button class="quiet" @click=${() => window.print()}>Print</button>
        <button class="quiet keys" @click=${() => this.#keys()?.open()}>Keys</button>
      </p>
    </div>`;
  }

  // What is costly to make anew is made once per ranking and query.
  #madeRows: { ranking: Ranking; search: string; rows: RankingRow[] } | null = null;
  #rows(ranking: Ranking, query: RankingQuery): RankingRow[] {
    if (this.#madeRows?.ranking !== ranking || this.#madeRows.search !== this.search)
      this.#madeRows = { ranking, search: this.search, rows: selectRows(ranking.rows, query) };
    return this.#madeRows.rows;
  }

  #madeChoices: { ranking: Ranking; depots: string[]; classes: string[] } | null = null;
  #choices(ranking: Ranking): { depots: string[]; classes: string[] } {
    if (this.#madeChoices?.ranking !== ranking)
      this.#madeChoices = { ranking, depots: choices(ranking.rows, 'depot'), classes: choices(ranking.rows, 'class') };
    return this.#madeChoices;
  }

  #marks: RankingTable['marks'] | null = null;
  #axis(asOfOn: string, query: RankingQuery): RankingTable['marks']['axis'] {
    const axis = windowAxis(asOfOn, query.months);
    return this.#marks?.axis.toOn === axis.toOn && this.#marks.axis.fromOn === axis.fromOn ? this.#marks.axis : axis;
  }
  #sameMarks(marks: RankingTable['marks']): RankingTable['marks'] {
    if (this.#marks?.axis !== marks.axis || this.#marks.todayOn !== marks.todayOn) this.#marks = marks;
    return this.#marks;
  }

  #show(ranking: Ranking): void {
    this.state =
      ranking.state === 'ready'
        ? { kind: 'ready', data: ranking }
        : { kind: 'empty', why: ranking.state, storeOption: ranking.storeOption };
  }

  async #refresh(): Promise<void> {
    try {
      this.#show(await this.client.ranking());
    } catch (error) {
      this.state = { kind: 'failed', problem: problemOf(error) };
    }
  }

  #askQuery(query: RankingQuery, typing: boolean): void {
    const detail = { href: `/${writeQuery(query)}`, replace: typing };
    this.dispatchEvent(new CustomEvent('go', { detail, bubbles: true, composed: true }));
  }

  #sort(query: RankingQuery, key: SortKey): void {
    const descending = query.sort === key ? !query.descending : GREATEST_FIRST.includes(key);
    this.#askQuery({ ...query, sort: key, descending }, false);
  }

  #request(row: RankingRow, request: RowRequest): void {
    this.activeKey = rowKey(row);
    if (request === 'open') {
      const detail = { href: unitHref(row.unit, row.position), replace: false };
      this.dispatchEvent(new CustomEvent('go', { detail, bubbles: true, composed: true }));
    }
    const decided = row.booking !== null || row.deferral !== null;
    if (request === 'undo' && decided) void this.#carryOut(takeBackDecision(this.client, row));
    if ((request === 'book' || request === 'defer') && !decided)
      void this.renderRoot.querySelector<DecisionDialog>('decision-dialog')?.ask(request, row);
  }

  /** The list stays as it is when a decision could not be kept: it says so in its own line. */
  async #carryOut(deciding: Promise<Outcome>): Promise<void> {
    const { outdated, said } = await deciding;
    if (outdated) await this.#refresh();
    this.news = said;
  }

  /** List and file are asked for together, so that a rank means the same row in both. */
  async #saveSeen(): Promise<void> {
    try {
      const [ranking, csv] = await Promise.all([this.client.ranking(), this.client.rankingCsv()]);
      this.#show(ranking);
      const rows = this.#rows(ranking, readQuery(this.search));
      saveFile(`ranking-${ranking.asOfOn}.csv`, csvOfRows(csv, rows), 'text/csv');
      this.news = `${counted(rows.length, 'row', 'rows')} exported`;
    } catch (error) {
      this.news = problemWords(error);
    }
  }

  #keys(): KeyList | null {
    return this.renderRoot.querySelector<KeyList>('key-list');
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey || this.state.kind !== 'ready') return;
    const target = event.composedPath()[0];
    if (this.renderRoot.querySelector('decision-dialog')?.shadowRoot?.querySelector('dialog[open]')) return;
    if (target instanceof HTMLInputElement && event.key === 'Escape') target.blur();
    if (target instanceof HTMLElement && /^(INPUT|SELECT|TEXTAREA)$/.test(target.tagName)) return;
    const rows = this.#madeRows?.rows ?? [];
    const active = rows.findIndex((row) => rowKey(row) === this.activeKey);
    const act = listAct(event.key, { rows: rows.length, active, onRow: target instanceof HTMLTableRowElement });
    if (act === null) return;
    event.preventDefault();
    this.#act(act);
  }

  #act(act: ListAct): void {
    const rows = this.#madeRows?.rows ?? [];
    const row = rows.find((each) => rowKey(each) === this.activeKey);
    if (act.kind === 'move') this.#moveTo(act.to);
    if (act.kind === 'request' && row !== undefined) this.#request(row, act.request);
    if (act.kind === 'search') this.renderRoot.querySelector<RankingFilters>('ranking-filters')?.focusSearch();
    if (act.kind === 'keys') this.#keys()?.open();
  }

  #moveTo(index: number): void {
    const row = this.#madeRows?.rows[index];
    if (row === undefined) return;
    this.activeKey = rowKey(row);
    void this.renderRoot.querySelector<RankingTable>('ranking-table')?.focusRow(index);
  }
}

customElements.define('priority-page', PriorityPage);
