/** What was loaded, what was set aside of it and why, what waits for the register, and taking a file back. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { ImportRow, Imports } from '../../api/contract/imports.ts';
import { problemOf, problemWords, type ApiClient } from '../api-client.ts';
import type { ImportEvent, Reasons } from '../elements/import-table.ts';
import { emptyNote, failedNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import type { TakeBackDialog, TakeBackEvent } from '../elements/take-back-dialog.ts';
import { followRun } from '../follow-run.ts';
import { counted } from '../format.ts';
import { importsHead } from '../imports/imports-head.ts';
import {
  fileParts,
  importsShown,
  readImportsQuery,
  writeImportsQuery,
  type ImportsQuery,
} from '../imports/imports-query.ts';
import { moreFiles } from '../imports/more-files.ts';
import { notCountedYet } from '../imports/not-counted-yet.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { IMPORTS } from '../routing.ts';
import { runWords } from '../run-words.ts';
import { filterForm } from '../styles/filter-form.ts';
import { reportPage } from '../styles/report-page.ts';
import { shared } from '../styles/shared.ts';
import { importsPageStyles } from './imports-page.styles.ts';
import '../elements/import-table.ts';
import '../elements/same-unit-offer.ts';
import '../elements/take-back-dialog.ts';

/** Rows drawn at first; a logger that writes a file a day and unit has thousands. */
const ROWS_AT_FIRST = 100;

type Shown = Imports & { canTakeBack: boolean };

export class ImportsPage extends LitElement {
  static override styles = [shared, pageNoteStyles, filterForm, reportPage, importsPageStyles];
  static override properties = {
    client: { attribute: false },
    search: {},
    state: { state: true },
    reasons: { state: true },
    said: { state: true },
    most: { state: true },
  };
  declare client: ApiClient;
  /** The address' query, as it stands. */
  declare search: string;
  declare state: PageState<Shown>;
  declare reasons: Reasons;
  /** What becomes of a file that is taken back, said aloud. */
  declare said: string;
  declare most: number;

  #gone = new AbortController();

  constructor() {
    super();
    this.state = { kind: 'loading' };
    this.reasons = new Map();
    this.said = '';
    this.most = ROWS_AT_FIRST;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#gone = new AbortController();
    void this.#load();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#gone.abort();
  }

  override render(): TemplateResult {
    return drawPage(this.state, {
      loading: () => loadingNote('what was loaded'),
      empty: emptyNote,
      failed: failedNote,
      ready: (shown) => this.#ready(shown),
    });
  }

  #ready(shown: Shown): TemplateResult {
    const query = readImportsQuery(this.search);
    const rows = importsShown(shown.imports, query);
    return html`${importsHead(shown)}
      <p role="status">${this.said}</p>
      ${notCountedYet(shown)}
      <same-unit-offer .client=${this.client}></same-unit-offer>
      <section>
        <h2>Loaded files</h2>
        ${this.#filters(query)}
        ${rows.length === 0 ? html`<p>No file matches these filters.</p>` : this.#table(shown, rows)}
      </section>
      ${moreFiles(shown)}
      <take-back-dialog @take-back=${(event: TakeBackEvent) => void this.#takeBack(event.detail)}></take-back-dialog>`;
  }

  #filters(query: ImportsQuery): TemplateResult {
    const typed = (event: Event) => (event.target as HTMLInputElement).value;
    return html`<form role="search" class="no-print" @submit=${(event: Event) => event.preventDefault()}>
      <label
        >Search file, folder, kind
        <input
          type="search"
          .value=${query.search}
          @input=${(event: Event) => this.#ask({ ...query, search: typed(event) })}
        />
      </label>
      <label class="check"
        ><input
          type="checkbox"
          .checked=${query.setAside}
          @change=${(event: Event) => this.#ask({ ...query, setAside: (event.target as HTMLInputElement).checked })}
        />
        only with rows set aside</label
      >
    </form>`;
  }

  #table({ canTakeBack, storeOption }: Shown, rows: readonly ImportRow[]): TemplateResult {
    return html`<import-table
        .rows=${rows.slice(0, this.most)}
        .reasons=${this.reasons}
        .canTakeBack=${canTakeBack}
        .storeOption=${storeOption}
        @reasons-wanted=${({ detail }: ImportEvent) => void this.#openOrClose(detail)}
        @take-back-wanted=${({ detail }: ImportEvent) => void this.#dialog()?.ask(detail)}
      ></import-table>
      ${
        rows.length <= this.most
          ? nothing
          : html`<button class="no-print" @click=${() => (this.most = Infinity)}>
              Show all ${counted(rows.length, 'file', 'files')}
            </button>`
      }`;
  }

  #dialog(): TakeBackDialog | null {
    return this.renderRoot.querySelector('take-back-dialog');
  }

  /** Typing replaces the address, so that going back leaves the page. */
  #ask(query: ImportsQuery): void {
    const detail = { href: `${IMPORTS}${writeImportsQuery(query)}`, replace: true };
    this.dispatchEvent(new CustomEvent('go', { detail, bubbles: true, composed: true }));
  }

  async #load(): Promise<void> {
    try {
      const [imports, { canRun }] = await Promise.all([this.client.imports(), this.client.runs()]);
      const nothingMet = imports.imports.length === 0 && imports.unreadable.length === 0;
      this.state = nothingMet
        ? { kind: 'empty', why: 'no_data', storeOption: imports.storeOption }
        : { kind: 'ready', data: { ...imports, canTakeBack: canRun && imports.store === 'own' } };
    } catch (error) {
      this.state = { kind: 'failed', problem: problemOf(error) };
    }
  }

  async #openOrClose({ importId }: ImportRow): Promise<void> {
    const others = [...this.reasons].filter(([id]) => id !== importId);
    if (others.length < this.reasons.size) {
      this.reasons = new Map(others);
      return;
    }
    const reasons = await this.client.importSetAside(importId).catch(problemWords);
    this.reasons = new Map([...this.reasons, [importId, reasons]]);
  }

  async #takeBack({ importId, file }: ImportRow): Promise<void> {
    const { name } = fileParts(file);
    try {
      this.said = `${name} is being taken back …`;
      await this.client.takeBackImport(importId);
      const run = await followRun(this.client, { stop: this.#gone.signal });
      if (this.#gone.signal.aborted) return;
      this.said =
        run?.state === 'failed' ? runWords(run) : `${name} is taken back. The list follows with the next assessment.`;
      await this.#load();
    } catch (error) {
      this.said = problemWords(error);
    }
  }
}

customElements.define('imports-page', ImportsPage);
