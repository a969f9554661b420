/** Asks how a repair record is to be read, and tells what was entered; `readings` is null where the correction goes. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { Reading } from '../../api/contract/reading.ts';
import type { UnitWorkOrder } from '../../api/contract/unit.ts';
import { date } from '../format.ts';
import { dialogForm } from '../styles/dialog-form.ts';
import { shared } from '../styles/shared.ts';
import { COMPONENT_WORDS, EVENT_WORDS } from '../words.ts';

export type ReadingEntered = { workOrder: string; readings: Reading[] | null };
export type ReadingEnteredEvent = CustomEvent<ReadingEntered>;

/** What a part may have gone through; the other two events name no part. */
const PART_EVENTS = ['replaced', 'repaired', 'jump_started', 'no_start', 'inspected'] as const;

export class ReadingDialog extends LitElement {
  static override styles = [
    shared,
    dialogForm,
    css`
      label {
        justify-items: start;
      }
    `,
  ];
  static override properties = { order: { state: true }, positions: { attribute: false } };
  declare order: UnitWorkOrder | null;
  declare positions: readonly string[];

  constructor() {
    super();
    this.order = null;
    this.positions = [];
  }

  async ask(order: UnitWorkOrder): Promise<void> {
    this.order = order;
    await this.updateComplete;
    this.renderRoot.querySelector('form')?.reset();
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">${this.order === null ? nothing : this.#form(this.order)}</dialog>`;
  }

  #form(order: UnitWorkOrder): TemplateResult {
    const written = [order.complaint, order.cause, order.correction].filter((text) => text !== '').join(' / ');
    const whole = order.component === 'none' ? order.event : `${order.component} ${order.event}`;
    return html`<form @submit=${(event: SubmitEvent) => this.#enter(event, order)}>
      <h2 id="title">Work order ${order.workOrder} of ${date(order.openedOn)}</h2>
      <p class="soft">${written}</p>
      <label
        >Read it as<select name="what">
          ${choices().map((choice) => option(choice, whole))}
        </select></label
      >
      ${
        this.positions.some((position) => position !== '')
          ? html`<label
              >Engine<select name="position">
                ${this.positions.map((each) => option([each, each], order.position))}
              </select></label
            >`
          : nothing
      }
      <label
        >It was<select name="unplanned">
          ${option(['1', 'unplanned: a complaint or a failure'], order.unplanned ? '1' : '0')}
          ${option(['0', 'planned'], order.unplanned ? '1' : '0')}
        </select></label
      >
      <p class="soft">
        Stands in place of all that was read out of this record. This unit’s forecasts follow at once, what it says of
        other units with the next assessment.
      </p>
      <div class="buttons">
        ${order.corrected ? html`<button type="button" @click=${() => this.#send(order, null)}>Read it by its words again</button>` : nothing}
        <button type="button" @click=${() => this.#close()}>Cancel</button>
        <button class="main">Keep</button>
      </div>
    </form>`;
  }

  #enter(event: SubmitEvent, order: UnitWorkOrder): void {
    event.preventDefault();
    const entered = new FormData(event.target as HTMLFormElement);
    const text = (name: string) => {
      const value = entered.get(name);
      return typeof value === 'string' ? value : '';
    };
    const [first = '', second] = text('what').split(' ');
    const read = { component: second === undefined ? 'none' : first, event: second ?? first } as Reading;
    this.#send(order, [{ ...read, unplanned: text('unplanned') === '1', position: text('position') }]);
  }

  #send({ workOrder }: UnitWorkOrder, readings: Reading[] | null): void {
    this.#close();
    const detail = { workOrder, readings };
    this.dispatchEvent(new CustomEvent('reading-entered', { detail }) satisfies ReadingEnteredEvent);
  }

  #close(): void {
    this.renderRoot.querySelector('dialog')?.close();
  }
}

type Choice = readonly [value: string, words: string];

function choices(): Choice[] {
  const parts = Object.entries(COMPONENT_WORDS).flatMap(([component, words]) =>
    PART_EVENTS.map((event): Choice => [`${component} ${event}`, `${words}: ${EVENT_WORDS[event].toLowerCase()}`]),
  );
  return [['unrelated', 'Nothing to do with starting'], ['no_start', 'No start, no part named'], ...parts];
}

function option([value, words]: Choice, standing: string): TemplateResult {
  return html`<option value=${value} .defaultSelected=${value === standing}>${words}</option>`;
}

customElements.define('reading-dialog', ReadingDialog);
