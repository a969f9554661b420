/** What the backtest said of one engine on days of the past, each beside what came of it. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { TrackedForecast } from '../../api/contract/track-record.ts';
import { counted, date, probability } from '../format.ts';
import { unitHref } from '../routing.ts';
import { shared } from '../styles/shared.ts';
import { plainTable } from '../styles/plain-table.ts';
import { endWords, outcomeWords } from '../track-record/record-words.ts';
import { COMPONENT_WORDS } from '../words.ts';

export class PastForecasts extends LitElement {
  static override styles = [
    shared,
    plainTable,
    css`
      .failed {
        font-weight: 600;
      }

      .window {
        white-space: normal;
      }
    `,
  ];
  static override properties = { forecasts: { attribute: false }, horizonDays: { type: Number } };
  declare forecasts: readonly TrackedForecast[];
  declare horizonDays: number;

  override render(): TemplateResult {
    if (this.forecasts.length === 0) return html`<p class="soft">No backtest has forecast this unit.</p>`;
    const label = 'Forecasts of the past beside what came of them, the newest first';
    return html`<div class="scroll" role="region" tabindex="0" aria-label=${label}>
      <table>
        <thead>
          <tr>
            <th scope="col">Forecast on</th>
            <th scope="col">Component</th>
            <th scope="col">Fails within ${counted(this.horizonDays, 'day', 'days')}</th>
            <th scope="col">Window: 10, 50, 90 %</th>
            <th scope="col">What came of it</th>
            <th scope="col">In the end</th>
          </tr>
        </thead>
        <tbody>
          ${this.forecasts.map((row) => forecastRow(row))}
        </tbody>
      </table>
    </div>`;
  }
}

function forecastRow(row: TrackedForecast): TemplateResult {
  return html`<tr>
    <th scope="row"><a href=${unitHref(row.unit, row.position, row.asOfOn)}>${date(row.asOfOn)}</a></th>
    <td><span class="component ${row.component}">${COMPONENT_WORDS[row.component]}</span></td>
    <td>${probability(row.pFail)}</td>
    <td class="window">${date(row.windowEarlyOn)}, ${date(row.windowMidOn)}, ${date(row.windowLateOn)}</td>
    <td class=${row.failedWithin === true ? 'failed' : ''}>${outcomeWords(row)}</td>
    <td>${endWords(row)}</td>
  </tr>`;
}

customElements.define('past-forecasts', PastForecasts);
