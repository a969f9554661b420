/** One indicator: its chart, and the numbers of its trend in words with interval and sample size. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { UnitTrend } from '../../api/contract/unit.ts';
import { dayMs } from '../charts/chart-frame.ts';
import { chartRange, indicatorChart, type IndicatorContext } from '../charts/indicator-chart.ts';
import { daysBeyond } from '../charts/indicator-range.ts';
import { shared } from '../styles/shared.ts';
import { beyondSentence, dayWords, trendSentence } from '../unit/trend-words.ts';
import { COMPONENT_WORDS, INDICATOR_WORDS } from '../words.ts';
import type { MakeSpec } from './vega-chart.ts';
import './day-reader.ts';
import './vega-chart.ts';

export class IndicatorFigure extends LitElement {
  static override styles = [
    shared,
    css`
      figure {
        margin: 0 0 1.25rem;
      }

      figcaption {
        display: grid;
        gap: 0.1rem;
        font-size: 0.8125rem;
        margin-block-end: 0.25rem;
      }

      strong {
        font-size: 0.9375rem;
      }

      vega-chart {
        --chart-height: 10rem;
      }
    `,
  ];
  static override properties = { trend: { attribute: false }, context: { attribute: false }, left: { type: Number } };
  declare trend: UnitTrend;
  declare context: IndicatorContext;
  declare left: number;

  #make: MakeSpec = () => indicatorChart(this.trend, this.context, { width: 0, left: 0 });

  /** Kept, so that the day which is read off stays where nothing has changed. */
  #times: readonly number[] = [];

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    const { trend, context, left } = this;
    if (changed.has('trend')) this.#times = trend.days.map(dayMs);
    this.#make = (width) => indicatorChart(trend, context, { width, left });
  }

  override render(): TemplateResult {
    const { trend } = this;
    const words = INDICATOR_WORDS[trend.indicator];
    return html`<figure>
      <figcaption>
        <span
          ><strong>${words.name}${words.unit === '' ? '' : `, ${words.unit}`}</strong>
          <span class="component ${trend.component}">${COMPONENT_WORDS[trend.component]}</span></span
        >
        <span>${trendSentence(trend)}</span>
        <span class="soft"
          >${words.meaning} ${beyondSentence(trend, daysBeyond(trend, chartRange(trend, this.context)))}</span
        >
      </figcaption>
      <day-reader
        .times=${this.#times}
        .domain=${this.context.domain}
        .left=${this.left}
        .words=${(index: number) => dayWords(trend, index)}
        .label=${`${words.name}, day by day`}
      >
        <vega-chart .make=${this.#make} .label=${`${words.name} over time. ${trendSentence(trend)}`}></vega-chart>
      </day-reader>
    </figure>`;
  }
}

customElements.define('indicator-figure', IndicatorFigure);
