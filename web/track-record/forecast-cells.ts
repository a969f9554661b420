/** What a row of a table says of one past forecast beside what came of it, whatever stands before. */
import { css, html, type TemplateResult } from 'lit';
import type { TrackedForecast } from '../../api/contract/track-record.ts';
import { counted, date, probability } from '../format.ts';
import { COMPONENT_WORDS } from '../words.ts';
import { endWords, outcomeWords } from './record-words.ts';

export const forecastCellStyles = css`
  .failed {
    font-weight: 600;
  }

  .window {
    white-space: normal;
  }
`;

export function forecastHeads(horizonDays: number): TemplateResult {
  return html`<th scope="col">Component</th>
    <th scope="col">Fails within ${counted(horizonDays, 'day', 'days')}</th>
    <th scope="col">Window: 10, 50, 90 %</th>
    <th scope="col">What came of it</th>
    <th scope="col">In the end</th>`;
}

export function forecastCells(row: TrackedForecast): TemplateResult {
  return html`<td><span class="component ${row.component}">${COMPONENT_WORDS[row.component]}</span></td>
    <td>${probability(row.pFail)}</td>
    <td class="window">${date(row.windowEarlyOn)}, ${date(row.windowMidOn)}, ${date(row.windowLateOn)}</td>
    <td class=${row.failedWithin === true ? 'failed' : ''}>${outcomeWords(row)}</td>
    <td>${endWords(row)}</td>`;
}
