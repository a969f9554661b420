/** How the forecasts of one component came out: the verdict in words, beside the baselines, calibration, window, pulls. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { PullMonth, TrackRecord } from '../../api/contract/track-record.ts';
import type { Frame } from '../charts/chart-frame.ts';
import { PULL_KINDS, PULL_WORDS, pullsChart } from '../charts/pulls-chart.ts';
import { windowChart } from '../charts/window-chart.ts';
import { reliabilityChart } from '../charts/reliability-chart.ts';
import { count, counted, decimal, probability, unbroken } from '../format.ts';
import { shared } from '../styles/shared.ts';
import { figure, share } from '../track-record/record-words.ts';
import { forecasterTable, scoreTableStyles, wrongLabelTable } from '../track-record/score-tables.ts';
import { COMPONENT_WORDS } from '../words.ts';
import type { MakeSpec } from './vega-chart.ts';
import './vega-chart.ts';

type Scores = TrackRecord['scores'][number];
const AXIS_LEFT = 44;

export class ComponentRecord extends LitElement {
  static override styles = [
    shared,
    scoreTableStyles,
    css`
      h2 {
        font-size: 1.15rem;
      }

      h3 {
        font-size: 0.9375rem;
        margin-block: 0.6rem 0.3rem;
      }

      ul {
        margin: 0.4rem 0 0.9rem;
        padding-inline-start: 1.1rem;
        max-width: 60rem;
        display: grid;
        gap: 0.2rem;
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

      .window {
        --chart-height: 8rem;
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
      ${scores.forecasts === 0 ? nothing : html`${forecasterTable(scores)}${this.#pictures()}${wrongLabelTable(scores)}`}`;
  }

  #pictures(): TemplateResult {
    const { calibration } = this.scores;
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
        <h3>Failures and their window</h3>
        <vega-chart class="window" .make=${charts['window']!} label=${this.#windowWords()}></vega-chart>
        <p class="small soft">Upright marks: 10, 80 and 10 %, which would be right. ${this.#windowWords()}.</p>
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
      </div>
    </div>`;
  }

  #pullWords(): TemplateResult {
    const { hits, misses, needless, open, leadDaysMedian, leadDaysLow, leadFortnight } = this.scores.pulls;
    const { needlessPer100UnitMonths } = this.scores.pulls;
    const lead =
      leadDaysMedian === null
        ? ''
        : ` Lead time: half of the hits came ${counted(Math.round(leadDaysMedian), 'day', 'days')} or more before the failure, nine in ten ${counted(Math.round(leadDaysLow ?? 0), 'day', 'days')} or more; a fortnight was left in ${probability(leadFortnight)}.`;
    const rate =
      needlessPer100UnitMonths === null ? '' : ` (${decimal(needlessPer100UnitMonths, 1)} in 100 months of a unit)`;
    return html`<p>
      ${counted(hits, 'hit', 'hits')}, ${counted(misses, 'miss', 'misses')},
      ${counted(needless, 'needless pull', 'needless pulls')}${rate}${open > 0 ? html`, ${count(open)} still open` : nothing}.${lead}
    </p>`;
  }

  #reliabilityWords(): string {
    const groups = this.scores.calibration.groups.map(
      ({ forecast, observed }) => `forecast ${probability(forecast)}, came ${probability(observed.value)}`,
    );
    return `${COMPONENT_WORDS[this.scores.component]}: ${groups.join('; ')}`;
  }

  #windowWords(): string {
    const { before, inside, after } = this.scores.window;
    return `Before the window ${share(before)}, inside ${share(inside)}, after ${share(after)}`;
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
    const charts: Record<string, MakeSpec> = {
      reliability: (width) => reliabilityChart(scores, frame(width)),
      window: (width) => windowChart(scores, frame(width)),
    };
    for (const kind of PULL_KINDS)
      charts[kind] = (width) => pullsChart(months, { kind, component, most }, frame(width));
    this.#made = { scores, charts };
    return charts;
  }
}

customElements.define('component-record', ComponentRecord);
