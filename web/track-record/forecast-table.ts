/** A table of past forecasts beside what came of them, whatever stands before each. */
import { css, html, type TemplateResult } from 'lit';
import type { TrackedForecast } from '../../api/contract/track-record.ts';
import { counted, date, probability } from '../format.ts';
import { BEYOND_OUTLOOK, COMPONENT_WORDS } from '../words.ts';
import { endWords, outcomeWords } from './record-words.ts';
import { wideTable, type WideTable } from './wide-table.ts';

export const forecastCellStyles = css`
  .failed {
    font-weight: 600;
  }

  .window {
    white-space: normal;
  }
`;

/** `heads`: of what stands before the forecast in each row. */
type ForecastTable = WideTable & { horizonDays: number };

export function forecastTable({ label, horizonDays, heads, rows }: ForecastTable): TemplateResult {
  const within = `Fails within ${counted(horizonDays, 'day', 'days')}`;
  const all = [...heads, 'Component', within, 'Window: 10, 50, 90 %', 'What came of it', 'In the end'];
  return wideTable({ label, heads: all, rows });
}

export function forecastCells(row: TrackedForecast): TemplateResult {
  return html`<td><span class="component ${row.component}">${COMPONENT_WORDS[row.component]}</span></td>
    <td>${probability(row.pFail)}</td>
    <td class="window">${windowDays(row)}</td>
    <td class=${row.failedWithin === true ? 'failed' : ''}>${outcomeWords(row)}</td>
    <td>${endWords(row)}</td>`;
}

/** What is not reached within the outlook's five years is said so once, as on the list. */
function windowDays({ windowEarlyOn, windowMidOn, windowLateOn }: TrackedForecast): string {
  const days = [windowEarlyOn, windowMidOn, windowLateOn].filter((on) => on !== null).map((on) => date(on));
  return (days.length < 3 ? [...days, BEYOND_OUTLOOK] : days).join(', ');
}
