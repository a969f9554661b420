/** One indicator: its chart, and the numbers of its trend in words with interval and sample size. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { UnitTrend } from '../../api/contract/unit.ts';
import { indicatorChart, type IndicatorContext } from '../charts/indicator-chart.ts';
import { shared } from '../styles/shared.ts';
import { trendSentence } from '../unit/trend-words.ts';
import { COMPONENT_WORDS, INDICATOR_WORDS } from '../words.ts';
import type { MakeSpec } from './vega-chart.ts';
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

  override willUpdate(): void {
    const { trend, context, left } = this;
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
        <span class="soft">${words.meaning}</span>
      </figcaption>
      <vega-chart .make=${this.#make} .label=${`${words.name} over time. ${trendSentence(trend)}`}></vega-chart>
    </figure>`;
  }
}

customElements.define('indicator-figure', IndicatorFigure);
