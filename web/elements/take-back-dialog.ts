/** Asks before a loaded file is taken back, saying what goes and what stays. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { ImportRow } from '../../api/contract/imports.ts';
import { counted } from '../format.ts';
import { fileParts } from '../imports/imports-query.ts';
import { dialogForm } from '../styles/dialog-form.ts';
import { shared } from '../styles/shared.ts';

export type TakeBackEvent = CustomEvent<ImportRow>;

export class TakeBackDialog extends LitElement {
  static override styles = [shared, dialogForm];
  static override properties = { row: { state: true } };
  declare row: ImportRow | null;

  constructor() {
    super();
    this.row = null;
  }

  async ask(row: ImportRow): Promise<void> {
    this.row = row;
    await this.updateComplete;
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">${this.row === null ? nothing : this.#form(this.row)}</dialog>`;
  }

  #form(row: ImportRow): TemplateResult {
    const { name } = fileParts(row.file);
    return html`<form @submit=${(event: SubmitEvent) => this.#confirm(event, row)}>
      <h2 id="title">Take ${name} back?</h2>
      <p>
        ${counted(row.taken, 'row goes', 'rows go')}, as if the file had never been loaded. The file itself is not
        touched: it can be loaded again. Bookings, deferrals, corrections and settings stay.
      </p>
      <p class="soft">The list rests on these rows until the next assessment.</p>
      <div class="buttons">
        <button type="button" autofocus @click=${() => this.#close()}>Cancel</button>
        <button class="main">Take it back</button>
      </div>
    </form>`;
  }

  #confirm(event: SubmitEvent, detail: ImportRow): void {
    event.preventDefault();
    this.#close();
    this.dispatchEvent(new CustomEvent('take-back', { detail }) satisfies TakeBackEvent);
  }

  #close(): void {
    this.renderRoot.querySelector('dialog')?.close();
  }
}

customElements.define('take-back-dialog', TakeBackDialog);
