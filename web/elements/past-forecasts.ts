/** What the backtest said of one engine on days of the past, each beside what came of it. */
import { LitElement, html, type TemplateResult } from 'lit';
import type { TrackedForecast } from '../../api/contract/track-record.ts';
import { date } from '../format.ts';
import { unitHref } from '../routing.ts';
import { shared } from '../styles/shared.ts';
import { plainTable } from '../styles/plain-table.ts';
import { forecastCells, forecastCellStyles, forecastTable } from '../track-record/forecast-table.ts';

export class PastForecasts extends LitElement {
  static override styles = [shared, plainTable, forecastCellStyles];
  static override properties = { forecasts: { attribute: false }, horizonDays: { type: Number } };
  declare forecasts: readonly TrackedForecast[];
  declare horizonDays: number;

  override render(): TemplateResult {
    if (this.forecasts.length === 0) return html`<p class="soft">No backtest has forecast this unit.</p>`;
    const label = 'Forecasts of the past beside what came of them, the newest first';
    return forecastTable({
      label,
      horizonDays: this.horizonDays,
      heads: ['Forecast on'],
      rows: this.forecasts.map(forecastRow),
    });
  }
}

function forecastRow(row: TrackedForecast): TemplateResult {
  return html`<tr>
    <th scope="row"><a href=${unitHref(row.unit, row.position, row.asOfOn)}>${date(row.asOfOn)}</a></th>
    ${forecastCells(row)}
  </tr>`;
}

customElements.define('past-forecasts', PastForecasts);
