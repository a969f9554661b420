/** One unit: what to do about it and what says so, as known today or on any day that was assessed. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { AssessedDay } from '../../api/contract/assessments.ts';
import type { UnitView, Waveform } from '../../api/contract/unit.ts';
import { problemOf, type ApiClient } from '../api-client.ts';
import type { AsOfEvent } from '../elements/as-of-choice.ts';
import { emptyNote, failedNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import { trendSentence } from '../elements/indicator-figure.ts';
import type { WaveformChoice } from '../elements/waveform-figure.ts';
import { counted, date, fromDay, instant } from '../format.ts';
import { reassessedWords } from '../unit/reassessed-words.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { windowAxis } from '../priority/window-axis.ts';
import { unitHref } from '../routing.ts';
import { pageHead } from '../styles/page-head.ts';
import { shared } from '../styles/shared.ts';
import { earlierDay, laterDay } from '../unit/assessed-days.ts';
import { engineView, ofEngine, type EngineView } from '../unit/engine-view.ts';
import { cautions, measureNext, register } from '../unit/side-notes.ts';
import { COMPONENT_WORDS, INDICATOR_WORDS } from '../words.ts';
import { unitPageStyles } from './unit-page.styles.ts';
import '../elements/as-of-choice.ts';
import '../elements/component-verdict.ts';
import '../elements/indicator-figure.ts';
import '../elements/past-forecasts.ts';
import '../elements/run-offer.ts';
import '../elements/same-unit-offer.ts';
import '../elements/vega-chart.ts';
import '../elements/waveform-figure.ts';
import '../elements/work-order-records.ts';

/** The verdict's axis shows so many months. */
const VERDICT_MONTHS = 24;

/** The unit on the day asked for; where that was not assessed, on the newest, of which only what helps is shown. */
type Shown = { unit: UnitView; days: AssessedDay[]; storeOption: string; unassessed: string | null };

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
  };
  declare client: ApiClient;
  declare unit: string;
  declare position: string;
  /** The day to show as known then, as the address has it; '' is the newest. */
  declare asOf: string;
  declare listHref: string;
  declare todayOn: string;
  declare state: PageState<Shown>;
  declare waveforms: Waveforms;

  #engine: EngineView | null = null;
  #turn = 0;
  readonly #onKey = (event: KeyboardEvent) => this.#key(event);

  constructor() {
    super();
    this.asOf = '';
    this.state = { kind: 'loading' };
    this.waveforms = 'fetching';
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

  #ready(shown: Shown, engine: EngineView): TemplateResult {
    const { unit, unassessed } = shown;
    return html`${this.#heading(shown, engine)}
      <same-unit-offer .client=${this.client} .unit=${unit.unit}></same-unit-offer>
      ${unassessed === null ? this.#asKnown(unit, engine) : this.#unassessed(shown, unassessed)}
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
      <div class="columns">
        <div>${this.#history(engine)} ${this.#drift(engine)} ${this.#waveform(engine)} ${this.#survival(engine)}</div>
        <div class="side">${measureNext(unit)} ${cautions(unit)} ${register(unit)}</div>
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
      </section>`;
  }

  /** A day that nobody assessed: how it can be, and what the backtest said about that time. */
  #unassessed({ unit, days, storeOption }: Shown, asOf: string): TemplateResult {
    const near = [earlierDay(days, asOf), laterDay(days, asOf)].flatMap((day) => (day === null ? [] : [day]));
    const ahead = asOf > unit.newestOn;
    const links = near.map(
      (day) => html` <a href=${unitHref(this.unit, this.position, day)}>${date(day.slice(0, 10))}</a>`,
    );
    return html`<section class="unassessed">
      <h2>${date(asOf)} ${ahead ? 'lies after all data' : 'has not been assessed'}</h2>
      ${
        ahead
          ? nothing
          : html`<p>What was known that day can be worked out, for the whole fleet at once:</p>
              <run-offer
                .client=${this.client}
                what="assess"
                .asOf=${asOf}
                .storeOption=${storeOption}
                @run-done=${() => void this.#refresh()}
              ></run-offer>`
      }
      <p>Assessed nearby:${links}.</p>
    </section>`;
  }

  #heading({ unit, days, unassessed }: Shown, engine: EngineView): TemplateResult {
    const last = unit.lastCrankAt === null ? 'none recorded' : `the last ${instant(unit.lastCrankAt)}`;
    const place = [unit.class, unit.depot].filter((word) => word !== '').join(', ');
    return html`<header>
      <h1>${unit.unit}${engine.position === '' ? nothing : html` <span class="soft">${engine.position}</span>`}</h1>
      <p class="soft">
        ${place === '' ? 'Not in the register.' : `${place}.`} ${counted(unit.crankCount, 'crank', 'cranks')}, ${last}.
        As known on ${date(unit.asOfOn)}${unit.store === 'sample' ? ', in the invented sample fleet' : ''}.
      </p>
      ${reassessedWords(unit)}
      ${
        unit.asOf === unit.newestAsOf || unassessed !== null
          ? nothing
          : html`<p class="back-then">
              <strong>This is ${date(unit.asOfOn)}, ${fromDay(unit.asOfOn, unit.newestOn)}:</strong> what was known then
              and nothing later; what happened since is told apart.
              <a class="no-print" href=${unitHref(unit.unit, engine.position)}>Back to the newest</a>
            </p>`
      }
      <div class="tools no-print">
        <as-of-choice
          .days=${days}
          .asOf=${unassessed ?? unit.asOf}
          @as-of=${(event: AsOfEvent) => this.#goTo(event.detail)}
        ></as-of-choice>
        ${
          unit.positions.length < 2
            ? nothing
            : html`<span>Engine: ${unit.positions.map((position) => this.#positionLink(position, engine))}</span>`
        }
        <button class="quiet" @click=${() => window.print()}>Print</button>
      </div>
    </header>`;
  }

  #positionLink(position: string, engine: EngineView): TemplateResult {
    const current = position === engine.position;
    const word = position === '' ? 'unnamed' : position;
    return current
      ? html`<strong aria-current="true">${word}</strong> `
      : html`<a href=${unitHref(this.unit, position, this.asOf)}>${word}</a> `;
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
          ></component-verdict>`,
      )}
    </div>`;
  }

  #history(engine: EngineView): TemplateResult {
    return html`<section>
      <h2>Service lives and work orders</h2>
      <p class="soft key">
        Bar: a part in service. Thin bar ahead: failure window. Square: replaced; circle: other work; filled: unplanned.
      </p>
      <vega-chart
        class="history"
        .make=${engine.history}
        .label=${`Service lives and work orders of ${engine.unit.unit} over time; the same facts stand in the table of work orders`}
      ></vega-chart>
    </section>`;
  }

  #drift({ drifting, without, contextOf }: EngineView): TemplateResult {
    return html`<section>
      <h2>Indicators over time</h2>
      ${
        drifting.length === 0
          ? html`<p class="soft">No indicator has enough days for a chart.</p>`
          : html`<p class="soft key">
              Points: daily medians corrected to the class’s reference temperature; thin line: as logged. Solid: trend,
              with the band that holds 95 % of the days; dashed: carried forward, within its slope’s 95 % interval.
              Dotted upright: part replaced. Strip at the foot: failure window.
            </p>`
      }
      ${drifting.map(
        (trend) =>
          html`<indicator-figure
            .trend=${trend}
            .context=${contextOf(trend.component)}
            .left=${this.#left()}
          ></indicator-figure>`,
      )}
      ${
        without.length === 0
          ? nothing
          : html`<ul class="without">
              ${without.map(
                (trend) =>
                  html`<li>
                    ${INDICATOR_WORDS[trend.indicator].name} (${COMPONENT_WORDS[trend.component].toLowerCase()}):
                    ${trendSentence(trend)}
                  </li>`,
              )}
            </ul>`
      }
    </section>`;
  }

  #waveform({ unit, position }: EngineView): TemplateResult {
    const kept = unit.waveforms.filter((crank) => crank.position === position);
    return html`<section>
      <h2>Newest crank over an early one</h2>
      ${this.#waveformFigure(kept)}
    </section>`;
  }

  #waveformFigure(kept: UnitView['waveforms']): TemplateResult {
    if (this.waveforms === 'none')
      return html`<p class="soft">No waveform is kept: this unit’s log gives one row a crank.</p>`;
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

  #survival(engine: EngineView): TemplateResult | typeof nothing {
    if (engine.outlooks.every((outlook) => outlook.survival.length === 0)) return nothing;
    return html`<section>
      <h2>Chance of still working</h2>
      <p class="soft key">
        Given that it works on ${date(engine.unit.asOfOn)}. The window’s dates are where the curve crosses 90, 50, 10 %.
      </p>
      <vega-chart
        .make=${engine.survival}
        .label=${'Chance of still working over time, for each component; the dates of the failure window stand in the verdict above'}
      ></vega-chart>
    </section>`;
  }

  /** Left of the plots: enough for the longest lane name, less on a phone. */
  #left(): number {
    return window.innerWidth < 600 ? 62 : 84;
  }

  /** What stands is shown until the answer is there; an answer that a newer question has overtaken is dropped. */
  async #refresh(): Promise<void> {
    const turn = ++this.#turn;
    try {
      const shown = await shownOf(this.client, this.unit, this.asOf);
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
      const { title, detail, remedy } = problemOf(error);
      this.waveforms = { failure: `${title}. ${detail} ${remedy}` };
    }
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

async function shownOf(client: ApiClient, unit: string, asOf: string): Promise<Shown> {
  const { days, storeOption } = await client.assessments();
  const unassessed = asOf === '' || days.some((day) => day.asOf === asOf) ? null : asOf;
  return { unit: await client.unit(unit, unassessed === null ? asOf : ''), days, storeOption, unassessed };
}

customElements.define('unit-page', UnitPage);
