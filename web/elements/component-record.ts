/** How the forecasts of one component came out: the verdict in words, beside the baselines, calibration, window, pulls. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { PullMonth, TrackRecord } from '../../api/contract/track-record.ts';
import type { Frame } from '../charts/chart-frame.ts';
import { PULL_KINDS, PULL_WORDS, pullsChart } from '../charts/pulls-chart.ts';
import { reliabilityChart } from '../charts/reliability-chart.ts';
import { count, counted, decimal, probability, unbroken } from '../format.ts';
import { shared } from '../styles/shared.ts';
import { figure, FORECASTER_WORDS, share } from '../track-record/record-words.ts';
import { COMPONENT_WORDS } from '../words.ts';
import type { MakeSpec } from './vega-chart.ts';
import './vega-chart.ts';

type Scores = TrackRecord['scores'][number];
const AXIS_LEFT = 44;

export class ComponentRecord extends LitElement {
  static override styles = [
    shared,
    css`
      h2 {
        font-size: 1.15rem;
      }

      h3 {
        font-size: 0.9375rem;
        margin-block: 0 0.3rem;
      }

      ul {
        margin: 0.4rem 0 0.9rem;
        padding-inline-start: 1.1rem;
        max-width: 60rem;
        display: grid;
        gap: 0.2rem;
      }

      .scroll {
        overflow-x: auto;
        margin-block-end: 1.1rem;
      }

      table {
        border-collapse: collapse;
        font-size: 0.8125rem;
      }

      .about {
        color: var(--ink-soft);
        font-size: 0.75rem;
        margin: 0;
      }

      th,
      td {
        text-align: start;
        font-weight: normal;
        padding: 0.25rem 1rem 0.25rem 0;
        border-block-end: 1px solid var(--rule);
        vertical-align: top;
        white-space: nowrap;
        font-variant-numeric: tabular-nums;
      }

      thead th {
        color: var(--ink-soft);
        border-block-end-color: var(--rule-strong);
      }

      tr.own th,
      tr.own td {
        font-weight: 600;
      }

      .pictures {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr));
        gap: 1rem 2.5rem;
      }

      .reliability {
        --chart-height: 18rem;
        max-width: 30rem;
      }

      .months {
        --chart-height: 7rem;
      }

      .months p,
      .small {
        font-size: 0.8125rem;
      }
    `,
  ];
  static override properties = { scores: { attribute: false }, months: { attribute: false } };
  declare scores: Scores;
  declare months: readonly PullMonth[];

  #made: { scores: Scores; charts: Record<string, MakeSpec> } | null = null;

  override render(): TemplateResult {
    const { scores } = this;
    const { component, failures, parts, units } = scores;
    return html`<h2 class="component ${component}">${COMPONENT_WORDS[component]}</h2>
      <p class="soft small">
        ${counted(failures, 'part', 'parts')} of ${count(parts)} on ${counted(units, 'unit', 'units')} failed within a
        horizon.
      </p>
      <ul>
        ${scores.verdict.map((words) => html`<li>${unbroken(words)}</li>`)}
      </ul>
      ${scores.forecasts === 0 ? nothing : html`${this.#table()}${this.#pictures()}`}`;
  }

  #table(): TemplateResult {
    const label = `${COMPONENT_WORDS[this.scores.component]}: this forecast beside what anyone could do without it`;
    return html`<p class="about">
        ${label}. In brackets 95 % intervals, drawn by unit. C and AUC: 0.5 is a coin, 1 always right.
      </p>
      <div class="scroll" role="region" tabindex="0" aria-label=${label}>
        <table aria-label=${label}>
          <thead>
            <tr>
              <th scope="col">By</th>
              <th scope="col">C (Uno)</th>
              <th scope="col">C (Harrell)</th>
              <th scope="col">AUC</th>
              <th scope="col">Brier skill</th>
              <th scope="col">Found in the top 5 %</th>
              <th scope="col">in the top 10 %</th>
            </tr>
          </thead>
          <tbody>
            ${this.scores.forecasters.map(
              (each) =>
                html`<tr class=${each.forecaster === 'outlook' ? 'own' : ''}>
                  <th scope="row" title=${FORECASTER_WORDS[each.forecaster].meaning}>
                    ${FORECASTER_WORDS[each.forecaster].name}
                  </th>
                  <td>${figure(each.unoC)}</td>
                  <td>${figure(each.harrellC)}</td>
                  <td>${figure(each.auc)}</td>
                  <td>${figure(each.skill)}</td>
                  <td>${share(each.recallTop5)}</td>
                  <td>${share(each.recallTop10)}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>`;
  }

  #pictures(): TemplateResult {
    const { calibration, window } = this.scores;
    const charts = this.#charts();
    return html`<div class="pictures">
      <div class="reliability">
        <h3>Forecast and what came</h3>
        <vega-chart .make=${charts['reliability']!} label=${this.#reliabilityWords()}></vega-chart>
        <p class="small soft">
          A mark is a tenth of the forecasts: across what was forecast, upwards the share that failed, with its
          interval. On the dashed line both are equal. ${calibration.judgeable ? '' : 'Too few failures to judge by.'}
        </p>
        <p class="small">
          Failed for each one expected ${figure(calibration.ratio)}; slope ${figure(calibration.slope)}, 1 is right.
        </p>
        <p class="small">
          Before the window ${share(window.before)}, inside ${share(window.inside)}, after ${share(window.after)}; 10,
          80, 10 % would be right.
        </p>
      </div>
      <div class="months">
        <h3>Pulled the first time a chance of ${probability(this.scores.pulls.calledAt)} lay within the horizon</h3>
        ${this.#pullWords()}
        ${
          this.months.length === 0
            ? nothing
            : PULL_KINDS.map(
                (kind) =>
                  html`<p>${PULL_WORDS[kind]} by month</p>
                    <vega-chart .make=${charts[kind]!} label=${this.#monthWords(kind)}></vega-chart>`,
              )
        }
        ${this.#labelWords()}
      </div>
    </div>`;
  }

  #pullWords(): TemplateResult {
    const { hits, misses, needless, open, leadDaysMedian, leadFortnight, needlessPer100UnitMonths } = this.scores.pulls;
    const lead =
      leadDaysMedian === null
        ? ''
        : ` Half of the hits left ${counted(Math.round(leadDaysMedian), 'day', 'days')} or more; ${probability(leadFortnight)} a fortnight.`;
    const rate =
      needlessPer100UnitMonths === null ? '' : ` (${decimal(needlessPer100UnitMonths, 1)} in 100 months of a unit)`;
    return html`<p>
      ${counted(hits, 'hit', 'hits')}, ${counted(misses, 'miss', 'misses')},
      ${counted(needless, 'needless pull', 'needless pulls')}${rate}${open > 0 ? html`, ${count(open)} still open` : nothing}.${lead}
    </p>`;
  }

  #labelWords(): TemplateResult {
    const rows = this.scores.wrongLabels.filter(({ auc }) => auc !== null);
    return html`<p class="soft">
      ${rows.map(
        ({ share: wrong, auc, skill }) =>
          html`If ${probability(wrong)} of the failures were booked under the wrong part: AUC ${decimal(auc, 2)}, Brier
          skill ${decimal(skill, 2)}. `,
      )}
    </p>`;
  }

  #reliabilityWords(): string {
    const groups = this.scores.calibration.groups.map(
      ({ forecast, observed }) => `forecast ${probability(forecast)}, came ${probability(observed.value)}`,
    );
    return `${COMPONENT_WORDS[this.scores.component]}: ${groups.join('; ')}`;
  }

  #monthWords(kind: (typeof PULL_KINDS)[number]): string {
    const own = this.months.filter(({ component, [kind]: many }) => component === this.scores.component && many > 0);
    const words = own.map((each) => `${each.month} ${each[kind]}`);
    return `${PULL_WORDS[kind]} by month: ${words.length === 0 ? 'none' : words.join(', ')}`;
  }

  /** Made once for the scores at hand: a new maker would draw the chart anew. */
  #charts(): Record<string, MakeSpec> {
    const { scores, months } = this;
    if (this.#made?.scores === scores) return this.#made.charts;
    const { component } = scores;
    const most = Math.max(
      ...months.flatMap((each) => (each.component === component ? PULL_KINDS.map((kind) => each[kind]) : [])),
    );
    const frame = (width: number): Frame => ({ width, left: AXIS_LEFT });
    const charts: Record<string, MakeSpec> = { reliability: (width) => reliabilityChart(scores, frame(width)) };
    for (const kind of PULL_KINDS)
      charts[kind] = (width) => pullsChart(months, { kind, component, most }, frame(width));
    this.#made = { scores, charts };
    return charts;
  }
}

customElements.define('component-record', ComponentRecord);
