/** The cells of one row of the ranked list. A function and not an element: forty rows are in view. */
import { html, nothing, type TemplateResult } from 'lit';
import type { RankingRow } from '../../api/contract/ranking.ts';
import { count, counted, money, probability, shortDate, unbroken, UNKNOWN, withDates } from '../format.ts';
import { actDay } from '../priority/act-day.ts';
import { windowDates, windowWords } from '../priority/window-words.ts';
import { unitHref } from '../routing.ts';
import { ACTION_MEANINGS, ACTION_WORDS, COMPONENT_WORDS, VISIT_WORDS } from '../words.ts';
import { windowBar, type WindowMarks } from './window-bar.ts';

export type RowRequest = 'select' | 'open' | 'book' | 'defer' | 'undo';

export type RowContext = {
  marks: WindowMarks;
  currency: string;
  /** There was an assessment before this one. */
  compared: boolean;
  ask: (request: RowRequest) => void;
};

export function rankingCells(row: RankingRow, { marks, currency, compared, ask }: RowContext): TemplateResult {
  const day = actDay(row, marks.todayOn);
  return html`<td role="cell" class="rank">${count(row.rank)}${compared ? rankChange(row) : nothing}</td>
    <th role="rowheader" scope="row" class="unit">
      <a href=${unitHref(row.unit, row.position)}>${row.unit}</a>
      ${row.position === '' ? nothing : html`<span class="second">${row.position}</span>`}
    </th>
    <td role="cell" class="place">${row.depot}<span class="second">${row.class}</span></td>
    <td role="cell" class="part">
      <span class="component ${row.component}">${COMPONENT_WORDS[row.component]}</span>
    </td>
    <td role="cell" class="action">
      <span class="act ${row.action}" title=${ACTION_MEANINGS[row.action]}>${ACTION_WORDS[row.action]}</span>
      ${day === '' ? nothing : html`<span class="second">${day}</span>`}
    </td>
    <td role="cell" class="when" title=${windowWords(row)}>
      ${windowBar(row, marks)}<span class="second">${windowDates(row, marks.asOfOn)}</span>
    </td>
    <td role="cell" class="chance">
      ${probability(row.pFailToNextVisit)}<span class="second"
        >${shortDate(row.nextVisitOn)} · ${VISIT_WORDS[row.nextVisitFrom]}</span
      >
    </td>
    <td role="cell" class="cost">${money(row.costOfWaitingMinor, currency)}</td>
    <td role="cell" class="why" title=${withDates(row.reason)}>${row.why === '' ? UNKNOWN : unbroken(row.why)}</td>
    <td role="cell" class="decide">${decision(row, ask)}</td>`;
}

function decision(row: RankingRow, ask: RowContext['ask']): TemplateResult {
  const name = `${row.unit} ${row.position} ${COMPONENT_WORDS[row.component].toLowerCase()}`;
  const button = (request: RowRequest, word: string) =>
    html`<button class="no-print" aria-label="${word} ${name}" @click=${() => ask(request)}>${word}</button>`;
  if (row.booking !== null)
    return html`<span class="decided" title=${row.booking.note}>Booked ${shortDate(row.booking.bookedOn)}</span>
      ${button('undo', 'Undo')}`;
  if (row.deferral !== null)
    return html`<span class="decided" title=${row.deferral.reason}>Deferred to ${shortDate(row.deferral.untilOn)}</span>
      ${button('undo', 'Undo')}`;
  return html`${button('book', 'Book')} ${button('defer', 'Defer')}`;
}

function rankChange(row: RankingRow): TemplateResult | typeof nothing {
  if (row.rankBefore === null) return html`<span class="second">new</span>`;
  const rise = row.rankBefore - row.rank;
  if (rise === 0) return nothing;
  const words = `${rise > 0 ? 'up' : 'down'} ${counted(Math.abs(rise), 'place', 'places')}, was ${count(row.rankBefore)}`;
  return html`<span class="second" title=${words}
    ><span aria-hidden="true">${rise > 0 ? '↑' : '↓'}${count(Math.abs(rise))}</span
    ><span class="unseen">${words}</span></span
  >`;
}
