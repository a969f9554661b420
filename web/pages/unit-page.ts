/** One unit: what to do about it and what says so. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { UnitOutlook, UnitTrend, UnitView, Waveform } from '../../api/contract/unit.ts';
import { problemOf, type ApiClient } from '../api-client.ts';
import type { IndicatorContext } from '../charts/indicator-chart.ts';
import { historyChart } from '../charts/history-chart.ts';
import { survivalChart } from '../charts/survival-chart.ts';
import { unitTimeDomain } from '../charts/unit-time-domain.ts';
import { emptyNote, failedNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import type { MakeSpec } from '../elements/vega-chart.ts';
import { trendSentence } from '../elements/indicator-figure.ts';
import type { WaveformChoice } from '../elements/waveform-figure.ts';
import { counted, date, instant } from '../format.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { windowAxis } from '../priority/window-axis.ts';
import { unitHref } from '../routing.ts';
import { shared } from '../styles/shared.ts';
import { COMPONENT_WORDS, INDICATOR_WORDS, testName } from '../words.ts';
import { unitPageStyles } from './unit-page.styles.ts';
import '../elements/component-verdict.ts';
import '../elements/indicator-figure.ts';
import '../elements/vega-chart.ts';
import '../elements/waveform-figure.ts';
import '../elements/work-order-records.ts';

/** The verdict's axis shows so many months. */
const VERDICT_MONTHS = 24;

/** All that is drawn of one engine, made once so that charts are redrawn only when something changed. */
type EngineView = {
  position: string;
  unit: UnitView;
  outlooks: UnitOutlook[];
  drifting: UnitTrend[];
  without: UnitTrend[];
  contextOf: (component: string) => IndicatorContext;
  history: MakeSpec;
  survival: MakeSpec;
};

type Waveforms = { newest: Waveform; early: Waveform | null } | 'fetching' | 'none' | { failure: string };

export class UnitPage extends LitElement {
  static override styles = [shared, pageNoteStyles, unitPageStyles];
  static override properties = {
    client: { attribute: false },
    unit: {},
    position: {},
    listHref: {},
    todayOn: {},
    state: { state: true },
    waveforms: { state: true },
  };
  declare client: ApiClient;
  declare unit: string;
  declare position: string;
  declare listHref: string;
  declare todayOn: string;
  declare state: PageState<UnitView>;
  declare waveforms: Waveforms;

  #engine: EngineView | null = null;

  constructor() {
    super();
    this.state = { kind: 'loading' };
    this.waveforms = 'fetching';
  }

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('unit')) void this.#load();
    if (this.state.kind === 'ready' && (changed.has('state') || changed.has('position'))) {
      this.#engine = engineView(this.state.data, this.position, this.#left());
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
        ready: (unit) => (this.#engine === null ? loadingNote(`unit ${this.unit}`) : this.#ready(unit, this.#engine)),
      })}`;
  }

  #ready(unit: UnitView, engine: EngineView): TemplateResult {
    return html`${this.#heading(unit, engine)} ${this.#verdicts(engine)}
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

  #heading(unit: UnitView, engine: EngineView): TemplateResult {
    const last = unit.lastCrankAt === null ? 'none recorded' : `the last ${instant(unit.lastCrankAt)}`;
    const place = [unit.class, unit.depot].filter((word) => word !== '').join(', ');
    return html`<header>
      <h1>${unit.unit}${engine.position === '' ? nothing : html` <span class="soft">${engine.position}</span>`}</h1>
      <p class="soft">
        ${place === '' ? 'Not in the register.' : `${place}.`} ${counted(unit.crankCount, 'crank', 'cranks')}, ${last}.
        As known on ${date(unit.asOfOn)}${unit.store === 'sample' ? ', in the invented sample fleet' : ''}.
      </p>
      <p class="no-print">
        ${
          unit.positions.length < 2
            ? nothing
            : html`<span class="positions"
                >Engine: ${unit.positions.map((position) => this.#positionLink(position, engine))}</span
              >`
        }
        <button class="quiet" @click=${() => window.print()}>Print</button>
      </p>
    </header>`;
  }

  #positionLink(position: string, engine: EngineView): TemplateResult {
    const current = position === engine.position;
    const word = position === '' ? 'unnamed' : position;
    return current
      ? html`<strong aria-current="true">${word}</strong> `
      : html`<a href=${unitHref(this.unit, position)}>${word}</a> `;
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

  async #load(): Promise<void> {
    this.state = { kind: 'loading' };
    await this.#refresh();
  }

  async #refresh(): Promise<void> {
    const asked = this.unit;
    try {
      const unit = await this.client.unit(asked);
      if (asked === this.unit) this.state = { kind: 'ready', data: unit };
    } catch (error) {
      if (asked === this.unit) this.state = { kind: 'failed', problem: problemOf(error) };
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

  /** Going back keeps the list's place; where there is nothing to go back to, the link leads there. */
  #back(event: Event): void {
    if (window.history.state === null || !('listSearch' in (window.history.state as object))) return;
    event.preventDefault();
    window.history.back();
  }
}

function engineView(unit: UnitView, wanted: string, left: number): EngineView {
  const position = unit.positions.includes(wanted) ? wanted : (unit.positions[0] ?? '');
  const outlooks = unit.outlooks.filter((each) => each.position === position);
  const trends = unit.trends.filter((each) => each.position === position);
  const lives = unit.lives.filter((each) => each.position === position);
  const workOrders = unit.workOrders.filter((each) => ofEngine(each, position));
  const past = { asOfOn: unit.asOfOn, lives, workOrders, outlooks, trends };
  const domain = unitTimeDomain(past);
  const drawn = trends.filter(hasShape);
  const nextVisitOn = unit.ranking[0]?.nextVisitOn ?? null;
  const contextOf = (component: string): IndicatorContext => ({
    domain,
    asOfOn: unit.asOfOn,
    outlook: outlooks.find((each) => each.component === component) ?? null,
    replacedOn: lives.flatMap((life) =>
      life.component === component && life.removedOn !== null ? [life.removedOn] : [],
    ),
  });
  const contexts = new Map(outlooks.map((each) => [each.component as string, contextOf(each.component)]));
  return {
    position,
    unit,
    outlooks,
    drifting: drawn.filter((each) => !repeats(each, drawn)),
    without: trends.filter((each) => !hasShape(each)),
    contextOf: (component) => contexts.get(component) ?? contextOf(component),
    history: (width) => historyChart(past, domain, { width, left }),
    survival: (width) => survivalChart(outlooks, { asOfOn: unit.asOfOn, nextVisitOn }, { width, left }),
  };
}

/** Days that all have one value, such as no dropout ever, say as much in a sentence. */
function hasShape({ values }: UnitTrend): boolean {
  return values.some((value) => value !== values[0]);
}

/** The sag ratio speaks for both components; while both are of one age it is the same picture twice. */
function repeats(trend: UnitTrend, drawn: readonly UnitTrend[]): boolean {
  const first = drawn.find((each) => each.indicator === trend.indicator && each.sinceOn === trend.sinceOn);
  return first !== trend;
}

/** A record that names no position concerns every engine of the unit. */
function ofEngine(order: { position: string }, position: string): boolean {
  return order.position === '' || order.position === position;
}

function measureNext(unit: UnitView): TemplateResult {
  return html`<section>
    <h2>What to measure next</h2>
    ${
      unit.measureNext.length === 0
        ? html`<p class="soft">No measurement would change the decision.</p>`
        : html`<ol class="measure">
            ${unit.measureNext.map(
              (each) =>
                html`<li>
                  <strong>${testName(each.test)}</strong>
                  <p>${each.why}</p>
                  <p>Expect ${each.expected} <span class="soft">(${each.source})</span></p>
                </li>`,
            )}
          </ol>`
    }
  </section>`;
}

function cautions(unit: UnitView): TemplateResult | typeof nothing {
  if (unit.cautions.length === 0) return nothing;
  return html`<section>
    <h2>Before you touch it</h2>
    <ul>
      ${unit.cautions.map((caution) => html`<li>${caution}</li>`)}
    </ul>
  </section>`;
}

function register(unit: UnitView): TemplateResult {
  return html`<section>
    <h2>Register</h2>
    ${
      unit.register.length === 0
        ? html`<p class="soft">This unit is not in the register: its rows wait for it.</p>`
        : html`<dl class="register">
            ${unit.register.map(
              ({ label, value }) =>
                html`<dt>${label}</dt>
                  <dd>${value}</dd>`,
            )}
          </dl>`
    }
  </section>`;
}

customElements.define('unit-page', UnitPage);
