/** Asks what a booking (day, note) or a deferral (day, reason) needs, and tells what was entered. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { RankingRow } from '../../api/contract/ranking.ts';
import { unbroken, withDates } from '../format.ts';
import { bookingDay, lookAgainDay } from '../priority/decision-day.ts';
import { dialogForm } from '../styles/dialog-form.ts';
import { shared } from '../styles/shared.ts';
import { COMPONENT_WORDS } from '../words.ts';

export type DecisionKind = 'book' | 'defer';
export type Decided = { kind: DecisionKind; row: RankingRow; on: string; words: string };
export type DecidedEvent = CustomEvent<Decided>;

export class DecisionDialog extends LitElement {
  static override styles = [
    shared,
    dialogForm,
    css`
      input,
      textarea {
        width: 100%;
      }

      input[type='date'] {
        max-width: min(14rem, 100%);
      }
    `,
  ];
  static override properties = { row: { state: true }, kind: { state: true }, todayOn: {} };
  declare row: RankingRow | null;
  declare kind: DecisionKind;
  declare todayOn: string;

  constructor() {
    super();
    this.row = null;
    this.kind = 'book';
  }

  async ask(kind: DecisionKind, row: RankingRow): Promise<void> {
    this.kind = kind;
    this.row = row;
    await this.updateComplete;
    const form = this.renderRoot.querySelector('form');
    form?.reset();
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">${this.row === null ? nothing : this.#form(this.row)}</dialog>`;
  }

  #form(row: RankingRow): TemplateResult {
    const booking = this.kind === 'book';
    const job = `${COMPONENT_WORDS[row.component].toLowerCase()} of ${row.unit} ${row.position}`.trim();
    return html`<form @submit=${(event: SubmitEvent) => this.#decide(event, row)}>
      <h2 id="title">${booking ? 'Book the' : 'Defer the'} ${job}</h2>
      <p class="soft">${unbroken(withDates(row.reason))}</p>
      <label
        >${booking ? 'Day of the job' : 'Look at it again on'}
        <input
          type="date"
          name="on"
          required
          .defaultValue=${booking ? bookingDay(row, this.todayOn) : lookAgainDay(this.todayOn)}
        />
      </label>
      ${
        booking
          ? html`<label>Note for the bay, if any<textarea name="words" rows="2" maxlength="500"></textarea></label>`
          : html`<label
              >Reason, for those who ask later
              <textarea name="words" rows="2" required minlength="3" maxlength="500"></textarea>
            </label>`
      }
      <div class="buttons">
        <button type="button" @click=${() => this.#close()}>Cancel</button>
        <button class="main">${booking ? 'Book' : 'Defer'}</button>
      </div>
    </form>`;
  }

  #decide(event: SubmitEvent, row: RankingRow): void {
    event.preventDefault();
    const entered = new FormData(event.target as HTMLFormElement);
    const text = (name: string) => {
      const value = entered.get(name);
      return typeof value === 'string' ? value.trim() : '';
    };
    this.#close();
    const detail = { kind: this.kind, row, on: text('on'), words: text('words') };
    this.dispatchEvent(new CustomEvent('decided', { detail }) satisfies DecidedEvent);
  }

  #close(): void {
    this.renderRoot.querySelector('dialog')?.close();
  }
}

customElements.define('decision-dialog', DecisionDialog);
