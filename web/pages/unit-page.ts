/** One unit: what to do about it and what says so, as known today or on any day that was assessed. */
import { LitElement, html, type TemplateResult } from 'lit';
import type { RankingRow } from '../../api/contract/ranking.ts';
import type { UnitView, Waveform } from '../../api/contract/unit.ts';
import { problemOf, problemWords, type ApiClient } from '../api-client.ts';
import type { DecidedEvent, DecisionDialog } from '../elements/decision-dialog.ts';
import { emptyNote, failedNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import type { RowRequest } from '../elements/ranking-cells.ts';
import type { RowEvent } from '../elements/ranking-table.ts';
import type { WaveformChoice } from '../elements/waveform-figure.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { keepDecision, takeBackDecision, type Outcome } from '../priority/decide.ts';
import { windowAxis } from '../priority/window-axis.ts';
import { unitHref } from '../routing.ts';
import { pageHead } from '../styles/page-head.ts';
import { shared } from '../styles/shared.ts';
import { earlierDay, laterDay } from '../unit/assessed-days.ts';
import { driftSection, historySection, NO_CRANKS, survivalSection } from '../unit/engine-sections.ts';
import { engineView, ofEngine, type EngineView } from '../unit/engine-view.ts';
import { shownUnit, type ShownUnit } from '../unit/shown-unit.ts';
import { cautions, measureNext, register } from '../unit/side-notes.ts';
import { unassessedDay } from '../unit/unassessed-day.ts';
import { unitHead } from '../unit/unit-head.ts';
import { unitPageStyles } from './unit-page.styles.ts';
import '../elements/component-verdict.ts';
import '../elements/decision-dialog.ts';
import '../elements/past-forecasts.ts';
import '../elements/same-unit-offer.ts';
import '../elements/waveform-figure.ts';
import '../elements/work-order-records.ts';

/** The verdict's axis shows so many months. */
const VERDICT_MONTHS = 24;

type Waveforms = { newest: Waveform; early: Waveform | null } | 'fetching' | 'none' | { failure: string };

export class UnitPage extends LitElement {
  static override styles = [shared, pageNoteStyles, pageHead, unitPageStyles];
  static override properties = {
    client: { attribute: false },
    unit: {},
    position: {},
    asOf: {},
    listHref: {},
    todayOn: {},
    state: { state: true },
    waveforms: { state: true },
    news: { state: true },
  };
  declare client: ApiClient;
  declare unit: string;
  declare position: string;
  /** The day to show as known then, as the address has it; '' is the newest. */
  declare asOf: string;
  declare listHref: string;
  declare todayOn: string;
  declare state: PageState<ShownUnit>;
  declare waveforms: Waveforms;
  /** What was just decided, said aloud. */
  declare news: string;

  #engine: EngineView | null = null;
  #turn = 0;
  readonly #onKey = (event: KeyboardEvent) => this.#key(event);

  constructor() {
    super();
    this.asOf = '';
    this.state = { kind: 'loading' };
    this.waveforms = 'fetching';
    this.news = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('keydown', this.#onKey);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    document.removeEventListener('keydown', this.#onKey);
  }

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('unit')) this.state = { kind: 'loading' };
    if (changed.has('unit') || changed.has('asOf')) void this.#refresh();
    if (this.state.kind === 'ready' && (changed.has('state') || changed.has('position'))) {
      this.#engine = engineView(this.state.data.unit, this.position, this.#left());
      void this.#loadWaveforms(null);
    }
  }

  override render(): TemplateResult {
    return html`<nav class="no-print">
        <a href=${this.listHref} @click=${(event: Event) => this.#back(event)}>← Back to the list</a>
      </nav>
      ${drawPage(this.state, {
        loading: () => loadingNote(`unit ${this.unit}`),
        empty: emptyNote,
        failed: failedNote,
        ready: (shown) => (this.#engine === null ? loadingNote(`unit ${this.unit}`) : this.#ready(shown, this.#engine)),
      })}`;
  }

  #ready(shown: ShownUnit, engine: EngineView): TemplateResult {
    const { unit, unassessed } = shown;
    return html`${unitHead(shown, engine, (asOf) => this.#goTo(asOf))}
      <same-unit-offer .client=${this.client} .unit=${unit.unit}></same-unit-offer>
      ${unassessed === null ? this.#asKnown(unit, engine) : unassessedDay(shown, unassessed, { client: this.client, position: engine.position, done: () => void this.#refresh() })}
      <section>
        <h2>Forecasts of the past beside what came of them</h2>
        <past-forecasts
          .forecasts=${unit.pastForecasts.filter((each) => each.position === engine.position)}
          .horizonDays=${unit.pastHorizonDays}
        ></past-forecasts>
      </section>`;
  }

  #asKnown(unit: UnitView, engine: EngineView): TemplateResult {
    return html`${this.#verdicts(engine)}
      <p class="news" role="status">${this.news}</p>
      <div class="columns">
        <div>
          ${historySection(engine)} ${driftSection(engine, this.#left())} ${this.#waveform(engine)}
          ${survivalSection(engine)}
        </div>
        <div class="side">
          ${measureNext(unit.measureNext.filter((each) => each.position === engine.position))} ${cautions(unit)}
          ${register(unit)}
        </div>
      </div>
      <section>
        <h2>Work orders</h2>
        <work-order-records
          .client=${this.client}
          .unit=${unit.unit}
          .positions=${unit.positions}
          .orders=${unit.workOrders.filter((order) => ofEngine(order, engine.position))}
          @reading-changed=${() => void this.#refresh()}
        ></work-order-records>
      </section>
      <decision-dialog
        .todayOn=${this.todayOn}
        @decided=${(event: DecidedEvent) => void this.#carryOut(keepDecision(this.client, event.detail))}
      ></decision-dialog>`;
  }

  #verdicts({ unit, outlooks, position }: EngineView): TemplateResult {
    const axis = windowAxis(unit.asOfOn, VERDICT_MONTHS);
    const marks = { axis, asOfOn: unit.asOfOn, todayOn: this.todayOn };
    if (outlooks.length === 0) return html`<p class="note">No outlook has been worked out for this unit.</p>`;
    return html`<div class="verdicts">
      ${outlooks.map(
        (outlook) =>
          html`<component-verdict
            .outlook=${outlook}
            .row=${unit.ranking.find((row) => row.component === outlook.component && row.position === position) ?? null}
            .rung=${unit.rungs.find((rung) => rung.component === outlook.component)}
            .since=${unit.since.find((part) => part.component === outlook.component && part.position === position) ?? null}
            .marks=${marks}
            .currency=${unit.currency}
            .decidable=${unit.asOf === unit.newestAsOf}
            @row-request=${(event: RowEvent) => this.#request(event.detail.row, event.detail.request)}
          ></component-verdict>`,
      )}
    </div>`;
  }

  #waveform({ unit, position }: EngineView): TemplateResult {
    const kept = unit.waveforms.filter((crank) => crank.position === position);
    return html`<section>
      <h2>Newest crank over an early one</h2>
      ${this.#waveformFigure(unit, kept)}
    </section>`;
  }

  #waveformFigure(unit: UnitView, kept: UnitView['waveforms']): TemplateResult {
    if (this.waveforms === 'none')
      return html`<p class="soft">
        ${unit.crankCount === 0 ? NO_CRANKS : 'No waveform is kept: this unit’s log gives one row a crank.'}
      </p>`;
    if (this.waveforms === 'fetching') return loadingNote('the waveforms');
    if ('failure' in this.waveforms) return html`<p role="alert">${this.waveforms.failure}</p>`;
    return html`<waveform-figure
      .kept=${kept}
      .newest=${this.waveforms.newest}
      .early=${this.waveforms.early}
      .left=${this.#left()}
      @waveform-choice=${(event: WaveformChoice) => void this.#loadWaveforms(event.detail)}
    ></waveform-figure>`;
  }

  /** Left of the plots: enough for the longest lane name, less on a phone. */
  #left(): number {
    return window.innerWidth < 600 ? 62 : 84;
  }

  /** What stands is shown until the answer is there; an answer that a newer question has overtaken is dropped. */
  async #refresh(): Promise<void> {
    const turn = ++this.#turn;
    try {
      const shown = await shownUnit(this.client, this.unit, this.asOf);
      if (turn === this.#turn) this.state = { kind: 'ready', data: shown };
    } catch (error) {
      if (turn === this.#turn) this.state = { kind: 'failed', problem: problemOf(error) };
    }
  }

  async #loadWaveforms(choice: { newest: string; early: string } | null): Promise<void> {
    const engine = this.#engine;
    const kept = engine?.unit.waveforms.filter((crank) => crank.position === engine.position) ?? [];
    const newest = choice?.newest ?? kept.at(-1)?.id;
    const early = choice?.early ?? (kept.length > 1 ? kept[0]?.id : undefined);
    if (newest === undefined) {
      this.waveforms = 'none';
      return;
    }
    try {
      const [over, under] = await Promise.all([
        this.client.waveform(newest),
        early === undefined || early === '' ? null : this.client.waveform(early),
      ]);
      if (engine === this.#engine) this.waveforms = { newest: over, early: under };
    } catch (error) {
      this.waveforms = { failure: problemWords(error) };
    }
  }

  #request(row: RankingRow, request: RowRequest): void {
    if (request === 'undo') void this.#carryOut(takeBackDecision(this.client, row));
    if (request === 'book' || request === 'defer')
      void this.renderRoot.querySelector<DecisionDialog>('decision-dialog')?.ask(request, row);
  }

  async #carryOut(deciding: Promise<Outcome>): Promise<void> {
    const { outdated, said } = await deciding;
    if (outdated) await this.#refresh();
    this.news = said;
  }

  /** In place of the address that stands: going back leads to where the unit was opened from. */
  #goTo(asOf: string): void {
    const detail = { href: unitHref(this.unit, this.position, asOf), replace: true };
    this.dispatchEvent(new CustomEvent('go', { detail, bubbles: true, composed: true }));
  }

  #key(event: KeyboardEvent): void {
    if (this.state.kind !== 'ready' || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return;
    const step = { ArrowLeft: earlierDay, ArrowRight: laterDay }[event.key];
    const target = event.composedPath()[0];
    // Fields, lists and tables that scroll sideways have these keys for themselves.
    if (
      step === undefined ||
      (target instanceof HTMLElement && target.matches('input, select, textarea, [role=region]'))
    )
      return;
    const { days, unit, unassessed } = this.state.data;
    const day = step(days, unassessed ?? unit.asOf);
    if (day === null) return;
    event.preventDefault();
    this.#goTo(day === days[0]?.asOf ? '' : day);
  }

  /** Going back keeps the list's place; where there is nothing to go back to, the link leads there. */
  #back(event: Event): void {
    if (window.history.state === null || !('listSearch' in (window.history.state as object))) return;
    event.preventDefault();
    window.history.back();
  }
}

customElements.define('unit-page', UnitPage);
