/** The unit's repair records as they were read, with the words that decided. Newest first. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { UnitWorkOrder } from '../../api/contract/unit.ts';
import { date } from '../format.ts';
import { shared } from '../styles/shared.ts';
import { COMPONENT_WORDS, EVENT_WORDS } from '../words.ts';

/** Somebody wants to correct how this record was read. */
export type CorrectReadingEvent = CustomEvent<UnitWorkOrder>;

export class WorkOrderTable extends LitElement {
  static override styles = [
    shared,
    css`
      .scroll {
        overflow-x: auto;
      }

      table {
        width: 100%;
        min-width: 40rem;
        border-collapse: collapse;
        font-size: 0.8125rem;
      }

      th,
      td {
        text-align: start;
        vertical-align: top;
        font-weight: 400;
        padding: 0.35rem 0.75rem 0.35rem 0;
        border-block-end: 1px solid var(--rule);
      }

      thead th {
        font-size: 0.75rem;
        color: var(--ink-soft);
        border-block-end: 3px double var(--rule-strong);
      }

      .order,
      .day {
        white-space: nowrap;
      }

      .words button {
        padding: 0;
        min-height: 0;
      }

      .record span {
        display: block;
      }

      /* On a phone each record is a block of its own: what was written matters most and would lie off the screen. */
      @media (max-width: 46rem) {
        table {
          display: block;
          min-width: 0;
        }

        thead {
          display: none;
        }

        tbody,
        td {
          display: block;
        }

        tbody tr {
          display: grid;
          grid-template-columns: max-content 1fr;
          gap: 0 1rem;
          padding-block: 0.4rem;
          border-block-end: 1px solid var(--rule);
        }

        tbody td,
        tbody th {
          border: 0;
          padding: 0;
        }

        .read,
        .words,
        .record {
          grid-column: 1 / -1;
        }

        .words:not(:empty)::before {
          content: 'by: ';
          color: var(--ink-soft);
        }
      }
    `,
  ];
  static override properties = { orders: { attribute: false } };
  declare orders: readonly UnitWorkOrder[];

  override render(): TemplateResult {
    if (this.orders.length === 0) return html`<p class="soft">No repair record names this unit.</p>`;
    return html`<div class="scroll" tabindex="0" role="region" aria-label="Work orders">
      <table role="table">
        <thead role="rowgroup">
          <tr role="row">
            <th role="columnheader" scope="col">Opened</th>
            <th role="columnheader" scope="col">Work order</th>
            <th role="columnheader" scope="col">Read as</th>
            <th role="columnheader" scope="col">By the words</th>
            <th role="columnheader" scope="col">What was written</th>
          </tr>
        </thead>
        <tbody role="rowgroup">
          ${this.orders.toSorted((a, b) => (a.openedOn < b.openedOn ? 1 : -1)).map((order) => this.#row(order))}
        </tbody>
      </table>
    </div>`;
  }

  #correct(order: UnitWorkOrder): void {
    this.dispatchEvent(new CustomEvent('correct-reading', { detail: order }) satisfies CorrectReadingEvent);
  }

  #row(order: UnitWorkOrder): TemplateResult {
    const planned = order.unplanned ? 'unplanned' : 'planned';
    const event = EVENT_WORDS[order.event];
    return html`<tr role="row">
      <td role="cell" class="day">${date(order.openedOn)}</td>
      <th role="rowheader" scope="row" class="order">${order.workOrder}</th>
      <td role="cell" class="read">
        ${
          order.component === 'none'
            ? event
            : html`<span class="component ${order.component}">${COMPONENT_WORDS[order.component]}</span>
                ${event.toLowerCase()}, ${planned}`
        }
      </td>
      <td role="cell" class="words">
        ${order.words}
        <button
          class="quiet no-print"
          aria-label=${`Correct how ${order.workOrder} was read`}
          @click=${() => this.#correct(order)}
        >
          Correct
        </button>
      </td>
      <td role="cell" class="record soft">
        ${[order.complaint, order.cause, order.correction].filter((text) => text !== '').map((text) => html`<span>${text}</span>`)}
      </td>
    </tr>`;
  }
}

customElements.define('work-order-table', WorkOrderTable);
