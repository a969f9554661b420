/** The repair records of a unit, and how a person corrects the way one was read. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { UnitWorkOrder } from '../../api/contract/unit.ts';
import { problemWords, type ApiClient } from '../api-client.ts';
import { shared } from '../styles/shared.ts';
import type { ReadingDialog, ReadingEntered, ReadingEnteredEvent } from './reading-dialog.ts';
import type { CorrectReadingEvent } from './work-order-table.ts';
import './reading-dialog.ts';
import './work-order-table.ts';

export class WorkOrderRecords extends LitElement {
  static override styles = [shared];
  static override properties = {
    client: { attribute: false },
    unit: {},
    orders: { attribute: false },
    positions: { attribute: false },
    said: { state: true },
  };
  declare client: ApiClient;
  declare unit: string;
  declare orders: readonly UnitWorkOrder[];
  declare positions: readonly string[];
  /** What became of the last correction, said aloud. */
  declare said: string;

  constructor() {
    super();
    this.said = '';
  }

  override render(): TemplateResult {
    return html`<p role="status" class="soft">${this.said === '' ? nothing : this.said}</p>
      <work-order-table
        .orders=${this.orders}
        @correct-reading=${(event: CorrectReadingEvent) => void this.#ask(event.detail)}
      ></work-order-table>
      <reading-dialog
        .positions=${this.positions}
        @reading-entered=${(event: ReadingEnteredEvent) => void this.#keep(event.detail)}
      ></reading-dialog>`;
  }

  async #ask(order: UnitWorkOrder): Promise<void> {
    await this.renderRoot.querySelector<ReadingDialog>('reading-dialog')?.ask(order);
  }

  async #keep({ workOrder, readings }: ReadingEntered): Promise<void> {
    try {
      if (readings === null) await this.client.withdrawReading(this.unit, workOrder);
      else await this.client.correctReading(this.unit, workOrder, readings);
      this.said = `Work order ${workOrder} is read ${readings === null ? 'by its words again' : 'as you said'}. Run assess for new forecasts.`;
      this.dispatchEvent(new CustomEvent('reading-changed'));
    } catch (error) {
      this.said = problemWords(error);
    }
  }
}

customElements.define('work-order-records', WorkOrderRecords);
